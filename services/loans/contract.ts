/** Zod of the doors of loans and care: for the specification and for types. Reading is loan.ts and care.ts. */
import { z } from 'zod';
import { listOf, quantity, quantityInOf } from '../parts.js';
import { band } from '../wheels/schema.js';
import { bandSigns, cares } from './care.js';
import { periods } from './loan.js';

const day = (what: string) => z.string().min(10).max(10).describe(`${what} Such as 2026-03-14.`);
const entries = (what: string) => z.array(z.string().min(1).max(200)).max(24).describe(what);
const reference = z.string().min(1).max(80).describe('Your own reference of the member: no name and no address.');
const shape = {
  member: reference, lentOn: day('The day on which it goes out.'), dueOn: day('The day on which it is due back.'), returnedOn: day('The day on which it came back. Absent while it is out.').exactOptional(),
  whorls: entries('Whorls that go with it, by their names in the profile.').exactOptional(), bobbins: entries('Bobbins that go with it, by their names in the profile.').exactOptional(), also: entries('What else goes with it.').exactOptional(),
  faultsOut: entries('What is amiss as it goes out, written down first; an empty list says that nothing was found.'), faultsIn: entries('What is amiss on its return; needed with returnedOn.').exactOptional(),
  charge: z.strictObject({ amount: z.number().min(0), per: z.enum(periods), atMost: z.int().min(1).exactOptional().describe('The longest loan, in those weeks or months.') }).meta({ id: 'LoanCharge', description: 'What the loan costs, by your guild’s own rule.' }).exactOptional(),
  deposit: z.number().min(0).describe('Laid down, and to go back.').exactOptional(), depositReturned: z.number().min(0).exactOptional(), currency: z.string().min(3).max(3).describe('Three letters (ISO 4217).').exactOptional(),
  hours: quantityInOf('hours', 'Time spun during the loan').exactOptional(), nextServiceOn: day('When it is next to be looked over.').exactOptional(), note: z.string().min(1).max(2000).exactOptional(),
};
export const loanToKeep = z.strictObject(shape).meta({ id: 'LoanToKeep', description: 'A loan of a wheel, out and in.' });
const reckoning = z.object({
  until: z.string().describe('The day of its return or, until then, that on which it is due.'), periods: z.int().min(1).exactOptional().describe('Weeks or months that were begun.'), per: z.enum(periods).exactOptional(), fees: z.number().exactOptional(), refundable: z.number().exactOptional(), daysLate: z.int().min(1).exactOptional(),
}).meta({ id: 'LoanReckoning', description: 'What the loan comes to.' });
const kept = { id: z.string(), revision: z.int().min(1), createdAt: z.iso.datetime() };
export const keptLoan = z.object({ ...kept, wheel: z.string().describe('Id of the wheel.'), updatedAt: z.iso.datetime(), ...shape, reckoning }).meta({ id: 'KeptLoan', description: 'A loan, and what it comes to.' });
export const loanList = listOf('LoanList', keptLoan, 'One page of a register of loans.');

export const careToKeep = z.strictObject({
  what: z.enum(cares).describe('hours at the wheel; a band fitted; oiled; or its band looked over.'), on: day('The day.'), hours: quantityInOf('hours', 'Time at the wheel').exactOptional(), band: band.exactOptional().describe('The band that was fitted.'),
  signs: z.array(z.enum(bandSigns)).max(bandSigns.length).exactOptional().describe('What was seen of the band; an empty list says that nothing was.'), member: reference.exactOptional(), note: z.string().min(1).max(2000).exactOptional(),
}).meta({ id: 'CareToKeep', description: 'An entry in the log of a wheel’s care.' });
export const keptCare = z.object({ ...kept, ...careToKeep.shape }).meta({ id: 'KeptCare', description: 'An entry of the log.' });
export const careList = listOf('CareList', keptCare, 'One page of the log.');
export const hours = z.object({
  total: quantity,
  band: z.object({ hours: quantity.describe('Since the band was fitted; of all that was logged where none was.'), fittedOn: z.string().exactOptional(), signs: z.array(z.string()).describe('As last seen on this band.'), before: z.array(z.object({ fittedOn: z.string(), takenOffOn: z.string(), hours: quantity }).meta({ id: 'BandBefore', description: 'A band that was on it before.' })) }).meta({ id: 'BandHours', description: 'The band that is on the wheel, and those before it.' }),
  oil: z.object({ hours: quantity.describe('Since it was oiled.'), oiledOn: z.string().exactOptional() }).meta({ id: 'OilHours', description: 'Hours since the wheel was oiled.' }),
  lookFor: z.array(z.string()).describe('Signs that a band is at its end.'), advice: z.string(),
}).meta({ id: 'WheelHours', description: 'Hours at the wheel since its band was fitted and since it was oiled. No interval is given: there is none.' });

const wheelIn = z.string().min(1).max(80).describe('Id of a wheel of the library.');
export const wheelId = z.strictObject({ id: wheelIn });
export const loanId = z.strictObject({ id: wheelIn, loan: z.string().min(1).max(80).describe('Id of a loan.') });
export const careId = z.strictObject({ id: wheelIn, entry: z.string().min(1).max(80).describe('Id of an entry.') });
const page = { limit: z.int().min(1).max(100).exactOptional().describe('Entries on a page; 20 when left out.'), after: z.string().max(400).exactOptional().describe('The cursor that the page before gave as next.') };
const out = z.enum(['true', 'false']).exactOptional().describe('true: only what is out.');
export const pageQuery = z.strictObject(page);
export const wheelLoansQuery = z.strictObject({ ...page, out });
export const registerQuery = z.strictObject({ ...page, out, dueBy: day('Due back on or before this day.').exactOptional() });
export const ifMatch = z.strictObject({ 'If-Match': z.string().describe('The ETag of the entry as it was read.') });

const loan = { member: 'm-017', lentOn: '2026-03-02', dueOn: '2026-03-30', faultsOut: ['nick in the rim of the wheel'], charge: { amount: 5, per: 'week', atMost: 4 }, deposit: 100, currency: 'EUR' };
const keptLoanExample = { id: 'loan-3w8k5rz2mq7d', wheel: 'thornmere-4', revision: 1, createdAt: '2026-03-02T18:00:00.000Z', updatedAt: '2026-03-02T18:00:00.000Z', ...loan, reckoning: { until: '2026-03-30', periods: 4, per: 'week', fees: 20, refundable: 100 } };
const entry = { what: 'hours', on: '2026-03-14', hours: '2.5 h', member: 'm-017' };
const keptEntry = { id: 'care-9d2m4kqz7r5w', revision: 1, createdAt: '2026-03-14T18:00:00.000Z', ...entry };
const hour = (value: number) => ({ value, unit: 'h', text: `${value} h` });
export const examples = {
  loan, keptLoan: keptLoanExample, loans: { items: [keptLoanExample] }, care: entry, keptCare: keptEntry, cares: { items: [keptEntry] },
  hours: { total: hour(42.5), band: { hours: hour(8), fittedOn: '2026-03-01', signs: [], before: [{ fittedOn: '2026-01-05', takenOffOn: '2026-03-01', hours: hour(34.5) }] }, oil: { hours: hour(2.5), oiledOn: '2026-03-10' }, lookFor: [...bandSigns], advice: 'A band has no fixed life.' },
} as const;
