/** What the service knows of fibres and yarns: the lists of `services/reference`, each line with what it stands on. */
import { z } from 'zod';
import { findUnit, type Kind, type Unit, type UnitChoice } from '../foundation/quantity.js';
import { wire, type Reading } from '../foundation/reading.js';
import { astmD1909, eu1007, fibreReview, gb9994, kleinTwist, millHandbook, mortonHearle, nmsuGrades, spinningHandbook, taylor, teal, usdaGrades, type Source } from '../foundation/sources.js';
import { plainNumber, quantity } from '../parts.js';
import { bandSets } from '../reference/categories.js';
import { fibreAliases, fibres, youngsModulus } from '../reference/fibres.js';
import { fibreForms, regains, regainStandards, type Regain, type RegainStandard } from '../reference/regains.js';
import { angleClasses, staples, twistRanges } from '../reference/twists.js';
import { woolGrades } from '../reference/wool-grades.js';
import { printedFactors, wrappings } from '../reference/wraps.js';

const standings = ['published', 'common-practice', 'memory'] as const;
const standing = z.enum(standings).describe('A published source, common practice of the trade, or from memory.');
const sourceIds = z.array(z.string()).describe('Ids of /v1/sources.');
type Standing = (typeof standings)[number];
const range = (low: number, high: number): Reading => (low === high ? { value: low } : { low, ...(Number.isFinite(high) ? { high } : {}) });
const memoryOr = (fromMemory: true | undefined): Standing => (fromMemory === true ? 'memory' : 'published');

const regainSources: Readonly<Record<RegainStandard, readonly Source[]>> = { 'astm-d1909': [astmD1909, fibreReview], 'eu-1007': [eu1007], 'gb-9994': [gb9994], 'room-air': [mortonHearle, fibreReview] };
const regainShape = { standard: z.enum(regainStandards), form: z.enum(fibreForms).exactOptional(), regain: quantity, moistureContent: quantity.describe('The same as a share of the whole weight.'), standing, sources: sourceIds };
const regainOut = (r: Regain) => ({
  standard: r.standard, ...(r.form === undefined ? {} : { form: r.form }), regain: wire('share', range(r.low, r.high)), moistureContent: wire('share', range(r.low / (1 + r.low), r.high / (1 + r.high))),
  standing: memoryOr(r.fromMemory), sources: r.fromMemory === true ? [] : regainSources[r.standard].map((s) => s.id),
});

const strength = z.object({
  sort: z.string().exactOptional(), tenacity: quantity, breakingExtension: quantity, initialModulus: quantity.describe('In the unit of a tenacity.'), youngsModulus: quantity.describe('Initial modulus times density.'),
}).meta({ id: 'FibreStrength', description: 'Strength of one sort of a fibre at 65 % relative humidity.' });
const fibre = z.object({
  id: z.string(), label: z.string(), also: z.array(z.string()).describe('Other names that are read.'), density: quantity, standing: standing.describe('What the density stands on.'), sources: sourceIds,
  strengths: z.array(strength), regains: z.array(z.object(regainShape).meta({ id: 'FibreRegain', description: 'A regain of this fibre.' })),
}).meta({ id: 'Fibre', description: 'A fibre, with its density, strength and regains.' });
const regain = z.object({ fibre: z.string(), ...regainShape }).meta({ id: 'Regain', description: 'A regain by fibre, form and standard.' });
const woolGrade = z.object({
  grade: z.string(), blood: z.string(), from: quantity.exactOptional().describe('Finest mean diameter; absent: open.'), to: quantity.exactOptional(), mostSpread: quantity.exactOptional().describe('Largest standard deviation of the diameter.'), sources: sourceIds,
}).meta({ id: 'WoolGrade', description: 'A grade of wool by mean fibre diameter.' });
const band = z.object({ category: z.string(), wraps: quantity, metresPer100g: quantity.exactOptional() }).meta({ id: 'CategoryBand', description: 'One category of a set, both ends included.' });
const bandSet = z.object({ set: z.string(), standing, bands: z.array(band) }).meta({ id: 'CategoryBandSet', description: 'A set of yarn categories that goes round. Sets overlap and leave gaps.' });
const wrapFactor = z.object({ factor: plainNumber.describe('Wraps per inch over √(yd/lb).'), yarn: z.string(), wrapping: z.enum(wrappings), standing, sources: sourceIds }).meta({ id: 'WrapFactor', description: 'How wraps and grist are tied, as others print or use it.' });
const twistRange = z.object({
  fibre: z.string(), use: z.string(), staple: z.enum(staples).exactOptional(), system: z.enum(['cotton', 'tex-10cm', 'worsted']).describe('System of the factor, as in twistFactorIn.'), factor: plainNumber, sources: sourceIds,
}).meta({ id: 'TwistRange', description: 'A recommended twist factor from a published table.' });
const angleClass = z.object({ set: z.string(), class: z.string(), angle: quantity, standing }).meta({ id: 'TwistClass', description: 'A class of twist by its angle from the axis.' });

const factorStanding = { taylor: ['published', taylor], mill: ['published', millHandbook], teal: ['published', teal], memory: ['memory', undefined] } as const;
const also = (id: string): string[] => Object.entries(fibreAliases).filter(([, to]) => to === id).map(([name]) => name);

interface ReferenceList { readonly path: string; readonly id: string; readonly component: string; readonly item: z.ZodType; readonly summary: string; readonly items: readonly object[] }
const listed = <S extends z.ZodType>(path: string, id: string, component: string, summary: string, item: S, items: readonly z.input<S>[]): ReferenceList => ({ path, id, component, summary, item, items: items as readonly object[] });

/** Bands are said in the units that their sets use. */
const asSaid: UnitChoice = { system: 'metric', byKind: new Map([['wraps', findUnit('wraps', 'wraps/in')!], ['grist', findUnit('grist', 'm/100g')!]] as [Kind, Unit][]) };
/** Every list, made once. */
export const yarnLists = (): readonly ReferenceList[] => [
  listed('/v1/fibres', 'listFibres', 'FibreList', 'Fibres, with density, strength and regains', fibre, fibres.map((f) => ({
    id: f.id, label: f.label, also: also(f.id), density: wire('density', { value: f.density }), standing: memoryOr(f.fromMemory), sources: f.fromMemory === true && f.strengths === undefined ? [] : [mortonHearle.id],
    strengths: (f.strengths ?? []).map((s) => ({
      ...(s.sort === undefined ? {} : { sort: s.sort }), tenacity: wire('tenacity', { value: s.tenacity * 1e6 }), breakingExtension: wire('share', { value: s.extension }), initialModulus: wire('tenacity', { value: s.modulus * 1e6 }),
      youngsModulus: wire('stress', { value: youngsModulus({ modulus: s.modulus, density: f.density }) }),
    })),
    regains: regains.filter((r) => r.fibre === f.id).map(regainOut),
  }))),
  listed('/v1/regains', 'listRegains', 'RegainList', 'Regains by fibre, form and standard', regain, regains.map((r) => ({ fibre: r.fibre, ...regainOut(r) }))),
  listed('/v1/wool-grades', 'listWoolGrades', 'WoolGradeList', 'Wool grades by mean fibre diameter', woolGrade, woolGrades.map((g) => ({
    grade: g.grade, blood: g.blood, ...(g.from === undefined ? {} : { from: wire('fibre-diameter', { value: g.from * 1e-6 }) }), ...(g.to === undefined ? {} : { to: wire('fibre-diameter', { value: g.to * 1e-6 }) }),
    ...(g.mostSpread === undefined ? {} : { mostSpread: wire('fibre-diameter', { value: g.mostSpread * 1e-6 }) }), sources: [usdaGrades.id, nmsuGrades.id],
  }))),
  listed('/v1/yarn-categories', 'listYarnCategories', 'CategoryBandSetList', 'Yarn categories, set by set', bandSet, bandSets.map(({ set, bands }) => ({
    set, standing: 'common-practice', bands: bands.map((b) => ({
      category: b.category, wraps: wire('wraps', range(b.low / 0.0254, b.high / 0.0254), asSaid),
      ...(b.metres === undefined ? {} : { metresPer100g: wire('grist', { ...(Number.isFinite(b.metres[1]) ? { low: 0.1 / b.metres[1] } : {}), ...(b.metres[0] > 0 ? { high: 0.1 / b.metres[0] } : {}) }, asSaid) }),
    })),
  }))),
  listed('/v1/wrap-factors', 'listWrapFactors', 'WrapFactorList', 'How wraps and grist are tied', wrapFactor, printedFactors.map((p) => {
    const [stands, source] = p.source === undefined ? ['common-practice' as const, undefined] : factorStanding[p.source];
    return { factor: wire('number', { value: p.factor }), yarn: p.yarn, wrapping: p.wrapping, standing: stands, sources: source === undefined ? [] : [source.id] };
  })),
  listed('/v1/twist-ranges', 'listTwistRanges', 'TwistRangeList', 'Recommended twist factors that were published', twistRange, twistRanges.map((t) => ({
    fibre: t.fibre, use: t.use, ...(t.staple === undefined ? {} : { staple: t.staple }), system: t.system, factor: wire('number', { low: t.low, high: t.high }), sources: [{ klein: kleinTwist, handbook: spinningHandbook, teal }[t.source].id],
  }))),
  listed('/v1/twist-classes', 'listTwistClasses', 'TwistClassList', 'Classes of twist by angle', angleClass, angleClasses.map((c) => ({
    set: c.set, class: c.class, angle: wire('angle', { low: (c.low * Math.PI) / 180, high: (c.high * Math.PI) / 180 }), standing: c.set.includes('memory') ? 'memory' : 'common-practice',
  }))),
];
