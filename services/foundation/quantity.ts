/**
 * Kinds of quantity, their units, and the exact factors between them.
 * SI inside; every factor is a ratio of whole numbers taken from a definition, never a printed conversion.
 */

export interface Unit {
  /** As it stands in a reply. */
  readonly name: string;
  /** SI value of 1 is num / den; for a reciprocal unit the SI value of n is num / (den × n). */
  readonly num: number;
  readonly den: number;
  /** Indirect yarn numbers: the larger the number, the finer the yarn. */
  readonly reciprocal?: true;
  /** How a person says it, where that differs from the name. */
  readonly spoken?: string;
  readonly definition: string;
  /** Other spellings, lower case, single spaces. */
  readonly also: readonly string[];
}

type UnitList = readonly Unit[];
const unit = (name: string, num: number, den: number, definition: string, also = '', more: Partial<Unit> = {}): Unit => ({
  name, num, den, definition, also: also === '' ? [] : also.split('|'), ...more,
});
const inverse = (name: string, num: number, den: number, definition: string, also = '', more: Partial<Unit> = {}): Unit =>
  unit(name, num, den, definition, also, { ...more, reciprocal: true });

// The yard, the pound and standard gravity are exact by agreement: 0.9144 m, 0.453 592 37 kg, 9.806 65 m/s².
const LB = 45359237; // × 1e-8 kg
const LB_DEN = 100000000;

const length: UnitList = [
  unit('mm', 1, 1000, '0.001 m', 'millimetre|millimetres|millimeter|millimeters|mms'),
  unit('cm', 1, 100, '0.01 m', 'centimetre|centimetres|centimeter|centimeters|cms'),
  unit('m', 1, 1, 'SI', 'metre|metres|meter|meters|mtr|mtrs|ms'),
  unit('km', 1000, 1, '1000 m', 'kilometre|kilometres|kilometer|kilometers'),
  unit('in', 254, 10000, '25.4 mm', 'inch|inches|ins|"|\'\'|zoll|tum'),
  unit('ft', 3048, 10000, '12 in', "foot|feet|'"),
  unit('yd', 9144, 10000, '0.9144 m', 'yard|yards|yds'),
  unit('um', 1, 1000000, '1e-6 m', 'micron|microns|µm|μm|µ|μ|u|micrometre|micrometres|micrometer|micrometers', { spoken: 'µm' }),
];
const mass: UnitList = [
  unit('g', 1, 1000, '0.001 kg', 'gram|grams|gramme|grammes|gm|gms|grm'),
  unit('kg', 1, 1, 'SI', 'kilo|kilos|kilogram|kilograms|kgs'),
  unit('oz', LB, LB_DEN * 16, '1/16 lb', 'ounce|ounces|ozs'),
  unit('lb', LB, LB_DEN, '0.45359237 kg', 'lbs|pound|pounds'),
];
const share: UnitList = [
  unit('%', 1, 100, '1/100', 'percent|per cent|pct'),
  unit('1', 1, 1, 'a plain fraction'),
];
const grist: UnitList = [
  unit('tex', 1, 1000000, 'g per 1000 m', 'g/km|g per km|tt'),
  unit('dtex', 1, 10000000, 'g per 10 000 m', 'decitex'),
  unit('den', 1, 9000000, 'g per 9000 m', 'denier|deniers|td|d'),
  unit('oz/100yd', LB, LB_DEN * 16 * 91.44, 'oz per 100 yd', 'oz per 100 yd|ounces per 100 yards'),
  unit('grain/120yd', LB, LB_DEN * 7000 * 109.728, 'grains per 120 yd', 'gr/120yd|grains per 120 yards'),
  unit('jute-count', LB, LB_DEN * 13167.36, 'lb per 14 400 yd (spyndle)', 'lb/spyndle|lb/14400yd'),
  inverse('yd/lb', LB, 91440000, 'yards in a pound', 'ypp|yards per pound|yd per lb|yds/lb|yds per lb|yards/lb|yards/pound|yd/pound|yds/pound|yds per pound|yards a pound|yards to the pound|yards per lb|yd/lbs|yds/lbs|yards/lbs'),
  inverse('yd/oz', LB, 1463040000, 'yards in an ounce', 'yards per ounce|yd per oz|yds/oz|yds per oz|yards/oz|yards/ounce|yds/ounce|yards an ounce|yards per oz'),
  inverse('m/100g', 1, 10, 'metres in 100 g', 'm per 100 g|m/100gm|m/100 gm|metres per 100 g|metres per 100 grams|meters per 100 grams|m per 100 grams|m/100 grams'),
  inverse('m/kg', 1, 1, 'metres in a kilogram', 'm per kg|metres per kilogram|meters per kilogram|metres per kg'),
  inverse('Nm', 1, 1000, 'kilometres in a kilogram (m/g)', 'm/g|metric count|metric number|metric|nm count|m per g|metres per gram|meters per gram'),
  inverse('cotton-count', LB, 76809600000, 'hanks of 840 yd in a pound', 'cotton count|cotton|ne|nec|ne cotton|english cotton count|cc|spun silk|ne count'),
  inverse('worsted-count', LB, 51206400000, 'hanks of 560 yd in a pound', 'worsted count|worsted|nw|new|new worsted|wc'),
  inverse('woollen-run', LB, 146304000000, 'lengths of 1600 yd in a pound', 'run|runs|woollen run|woolen run|american run'),
  inverse('woollen-cut', LB, 27432000000, 'cuts of 300 yd in a pound', 'woollen cut|woolen cut|american cut'),
  inverse('yorkshire-skein', LB, 23408640000, 'skeins of 256 yd in a pound (yards in a dram)', 'yorkshire skein|yorkshire skeins|yorkshire woollen skein'),
  inverse('galashiels-cut', LB, 18288000000, 'cuts of 300 yd in 24 oz', 'galashiels cut|galashiels|gala cut'),
  inverse('linen-lea', LB, 27432000000, 'leas of 300 yd in a pound', 'linen lea|linen leas|lea linen|nel|linen count|linen'),
  inverse('snap', LB, 29260800000, 'snaps of 320 yd in a pound (West of England)', 'west of england snap|snaps'),
  inverse('asbestos-cut', LB, 9144000000, 'cuts of 100 yd in a pound (asbestos, glass)', 'asbestos cut|asbestos count|glass cut'),
  inverse('french-count', 1, 2000, 'hanks of 1000 m in 500 g', 'french count|french|nf|french cotton count'),
];
const twist: UnitList = [
  unit('turns/m', 1, 1, 'turns in a metre', 'tpm|turns per metre|turns per meter|t/m|turns a metre|/m'),
  unit('turns/cm', 100, 1, 'turns in a centimetre', 'tpcm|turns per cm|turns per centimetre|turns per centimeter|t/cm|/cm'),
  unit('turns/10cm', 10, 1, 'turns in 10 cm', 't/10cm|turns per 10 cm|turns per 10cm'),
  unit('turns/in', 10000, 254, 'turns in an inch', 'tpi|turns per inch|turns/inch|twists per inch|twist per inch|t/in|turns per in|turns an inch|/in|t.p.i'),
];
const wraps: UnitList = [
  unit('wraps/cm', 100, 1, 'wraps in a centimetre', 'wpc|wraps per cm|wraps per centimetre|wraps per centimeter|w/cm'),
  unit('wraps/in', 10000, 254, 'wraps in an inch', 'wpi|wraps per inch|wraps/inch|wraps an inch|w/in|wraps per in|wraps|w.p.i'),
];
const pull: UnitList = [
  unit('N', 1, 1, 'SI', 'newton|newtons'),
  unit('cN', 1, 100, '0.01 N', 'centinewton|centinewtons'),
  unit('mN', 1, 1000, '0.001 N', 'millinewton|millinewtons'),
  unit('gf', 980665, 100000000, 'weight of 1 g at 9.80665 m/s²', 'g|gram|grams|gramme|grammes|gm|gms', { spoken: 'g' }),
  unit('ozf', LB * 9.80665, LB_DEN * 16, 'weight of 1 oz at 9.80665 m/s²', 'oz|ounce|ounces', { spoken: 'oz' }),
  unit('lbf', LB * 9.80665, LB_DEN, 'weight of 1 lb at 9.80665 m/s²', 'lb|lbs|pound|pounds', { spoken: 'lb' }),
  unit('kgf', 980665, 100000, 'weight of 1 kg at 9.80665 m/s²', 'kg|kilo|kilos', { spoken: 'kg' }),
];
const tenacity: UnitList = [
  unit('N/tex', 1000000, 1, 'N for 1e-6 kg/m', 'newtons per tex'),
  unit('cN/tex', 10000, 1, '0.01 N/tex', 'centinewtons per tex'),
  unit('gf/tex', 9806.65, 1, 'gf for 1 tex', 'g/tex|grams per tex'),
  unit('gf/den', 9806.65 * 9, 1, 'gf for 1 denier', 'g/den|gpd|grams per denier|g/denier'),
];
const turning: UnitList = [
  unit('/min', 1, 60, 'turns in a minute', 'rpm|per minute|a minute|turns/min|turns per minute|turns a minute|rev/min|treadles/min|treadles per minute|treadles a minute|strokes/min|strokes per minute|per min|wheel turns/min|wheel turns per minute|r.p.m|u/min|1/min|min-1|min^-1|spm|bpm'),
  unit('/s', 1, 1, 'turns in a second', 'per second|a second|turns/s|hz|turns per second|rps|1/s'),
  unit('/h', 1, 3600, 'turns in an hour', 'per hour|an hour'),
];
const time: UnitList = [
  unit('s', 1, 1, 'SI', 'sec|secs|second|seconds'),
  unit('min', 60, 1, '60 s', 'mins|minute|minutes|m'),
  unit('h', 3600, 1, '3600 s', 'hr|hrs|hour|hours'),
];
const single = (name: string, num: number, den: number, also = ''): UnitList => [unit(name, num, den, 'SI', also)];

/** Every kind: what a person calls it, its units, and the units of a metric and of an imperial answer. */
const kindTable = {
  part: { says: 'a length', units: length, metric: 'mm', imperial: 'in', example: '560 mm' },
  length: { says: 'a length of yarn or band', units: length, metric: 'm', imperial: 'yd', example: '200 m' },
  mass: { says: 'a weight', units: mass, metric: 'g', imperial: 'oz', example: '100 g' },
  share: { says: 'a share in per cent', units: share, metric: '%', imperial: '%', example: '9 %' },
  'fibre-diameter': { says: 'a fibre diameter', units: length, metric: 'um', imperial: 'um', example: '21 micron' },
  tenacity: { says: 'a strength for its grist', units: tenacity, metric: 'cN/tex', imperial: 'gf/den', example: '12 cN/tex' },
  density: { says: 'a density', units: [unit('kg/m3', 1, 1, 'SI', 'kg/m³|kg per m3', { spoken: 'kg/m³' }), unit('g/cm3', 1000, 1, '1000 kg/m³', 'g/cm³|g/cc')], metric: 'kg/m3', imperial: 'kg/m3', example: '300 kg/m3' },
  inertia: { says: 'a moment of inertia', units: single('kg*m2', 1, 1, 'kg m2|kg m²|kg·m²|kgm2|kg*m²'), metric: 'kg*m2', imperial: 'kg*m2', example: '0.1 kg*m2' },
  'cord-mass': { says: 'a cord mass', units: [unit('g/m', 1, 1000, '0.001 kg/m', 'g per m|grams per metre'), unit('kg/m', 1, 1, 'SI')], metric: 'g/m', imperial: 'g/m', example: '2.3 g/m' },
  'cord-stiffness': { says: 'a cord stiffness (EA)', units: [pull[0]!], metric: 'N', imperial: 'N', example: '150 N' },
  stress: { says: 'a stress', units: [unit('MPa', 1000000, 1, '1e6 Pa'), unit('Pa', 1, 1, 'SI')], metric: 'MPa', imperial: 'MPa', example: '5 MPa' },
  power: { says: 'a power', units: single('W', 1, 1, 'watt|watts'), metric: 'W', imperial: 'W', example: '0.5 W' },
  energy: { says: 'an energy', units: single('J', 1, 1, 'joule|joules'), metric: 'J', imperial: 'J', example: '0.4 J' },
  grist: { says: 'a grist (yarn number)', units: grist, metric: 'tex', imperial: 'yd/lb', example: '1500 yd/lb' },
  twist: { says: 'a twist', units: twist, metric: 'turns/m', imperial: 'turns/in', example: '8 turns/in' },
  wraps: { says: 'a wrap count', units: wraps, metric: 'wraps/cm', imperial: 'wraps/in', example: '12 wraps/in' },
  pull: { says: 'a pull', units: pull, metric: 'gf', imperial: 'ozf', example: '20 g' },
  'band-tension': { says: 'a band tension', units: pull, metric: 'N', imperial: 'N', example: '0.4 N' },
  torque: { says: 'a torque', units: [unit('mN*m', 1, 1000, '0.001 N m', 'mn m|mnm|mn·m', { spoken: 'mN m' }), unit('N*m', 1, 1, 'SI', 'n m|nm|n·m', { spoken: 'N m' })], metric: 'mN*m', imperial: 'mN*m', example: '3 mN*m' },
  speed: { says: 'a speed', units: [unit('m/min', 1, 60, 'metres in a minute', 'm per minute|metres per minute|meters per minute'), unit('m/s', 1, 1, 'SI', 'm per second'), unit('yd/min', 9144, 600000, 'yards in a minute', 'yd per minute|yards per minute|yds/min'), unit('m/h', 1, 3600, 'metres in an hour', 'm per hour|metres per hour'), unit('yd/h', 9144, 36000000, 'yards in an hour', 'yards per hour|yds/h|yd per hour')], metric: 'm/min', imperial: 'yd/min', example: '5 m/min' },
  acceleration: { says: 'a gain of speed', units: [unit('m/s2', 1, 1, 'SI', 'm/s²|m/s^2|m/s/s', { spoken: 'm/s²' })], metric: 'm/s2', imperial: 'm/s2', example: '2 m/s2' },
  'yarn-stiffness': { says: 'a stiffness of yarn, pull for each length that it stretches', units: [unit('N/m', 1, 1, 'SI', 'newton per metre|newtons per metre')], metric: 'N/m', imperial: 'N/m', example: '300 N/m' },
  turning: { says: 'a number of turns or treadles in a time', units: turning, metric: '/min', imperial: '/min', example: '60/min' },
  angle: { says: 'an angle', units: [unit('deg', Math.PI, 180, 'π/180 rad', '°|degree|degrees'), unit('rad', 1, 1, 'SI', 'radian|radians')], metric: 'deg', imperial: 'deg', example: '60 deg' },
  time: { says: 'a time', units: time, metric: 's', imperial: 's', example: '60 s' },
  minutes: { says: 'a time', units: time, metric: 'min', imperial: 'min', example: '30 min' },
  hours: { says: 'a time', units: time, metric: 'h', imperial: 'h', example: '2 h' },
} as const satisfies Record<string, { says: string; units: UnitList; metric: string; imperial: string; example: string }>;

export type Kind = keyof typeof kindTable;
export interface KindInfo { readonly says: string; readonly units: UnitList; readonly metric: string; readonly imperial: string; readonly example: string }
export const kinds: Readonly<Record<Kind, KindInfo>> = kindTable;
export const kindNames = Object.keys(kindTable) as Kind[];

/** SI value of `value` in `unit`. */
export const toSI = (value: number, u: Unit): number => (u.reciprocal ? u.num / (u.den * value) : (value * u.num) / u.den);
/** `si` in `unit`. A reciprocal unit is its own kind of inverse. */
export const fromSI = (si: number, u: Unit): number => (u.reciprocal ? u.num / (u.den * si) : (si * u.den) / u.num);

const tidy = (text: string): string => text.trim().toLowerCase().replace(/\s+/g, ' ').replace(/\s*\/\s*/g, '/');
const spellings = new Map<Kind, Map<string, Unit>>();
function spellingsOf(kind: Kind): Map<string, Unit> {
  let map = spellings.get(kind);
  if (map === undefined) {
    map = new Map();
    for (const u of kinds[kind].units) {
      for (const s of [u.name, ...u.also]) {
        const key = tidy(s);
        if (!map.has(key)) map.set(key, u);
      }
    }
    spellings.set(kind, map);
  }
  return map;
}

/** The unit that a person means by `text`, of this kind, or undefined. */
export function findUnit(kind: Kind, text: string): Unit | undefined {
  const map = spellingsOf(kind);
  const direct = map.get(text);
  if (direct !== undefined) return direct;
  const key = tidy(text);
  return map.get(key) ?? map.get(key.replace(/\./g, '')) ?? map.get(key.replace(/(\d) (g|grams?|yd|yards?|cm)$/, '$1$2'));
}

export const unitNames = (kind: Kind): string[] => kinds[kind].units.map((u) => u.name);

/** In which units an answer is given: a system, and single kinds by name. */
export interface UnitChoice { readonly system: 'metric' | 'imperial'; readonly byKind?: ReadonlyMap<Kind, Unit> }
export const metric: UnitChoice = { system: 'metric' };

const named = new Map<string, Unit>();
for (const kind of kindNames) for (const u of kinds[kind].units) named.set(`${kind}:${u.name}`, u);
/** The unit of an answer of this kind. */
export function outUnit(kind: Kind, choice: UnitChoice): Unit {
  return choice.byKind?.get(kind) ?? systemUnits[choice.system][kind];
}
const bySystem = (system: 'metric' | 'imperial') =>
  Object.fromEntries(kindNames.map((kind) => [kind, named.get(`${kind}:${kinds[kind][system]}`)!])) as Record<Kind, Unit>;
const systemUnits = { metric: bySystem('metric'), imperial: bySystem('imperial') };
