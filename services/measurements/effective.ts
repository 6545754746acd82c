/**
 * The effective profile: what is known of a wheel from its profile and every measurement of it together. Sizes are
 * combined first, then turns that were counted are put beside the ratios that the sizes give. Pure.
 */
import { agreementOf } from '../calculations/ratio/counts.js';
import { answer as ratioAnswer } from '../calculations/ratio/answer.js';
import { Notes, type Assumption, type Warning } from '../foundation/notes.js';
import { ProblemError } from '../foundation/problems.js';
import { isObject, Reader } from '../foundation/read.js';
import { isPoint, wire, type Q, type R, type Reading } from '../foundation/reading.js';
import { readWheel, type GrooveRead, type QIn, type RIn, type Wheel, type WheelRead } from '../wheels/profile.js';
import type { Drive } from '../wheels/words.js';
import { combine, type Combined, type Estimate } from './combine.js';
import { bagOf, bobbinRatioOf, coastOf, flyerRatioOf, rhoOf } from './gives.js';
import { asPoint, endName, sizeOf, usualPlusMinus, type Measurement, type StoredMeasurement } from './measurement.js';

/** One size, ratio or factor, and what it was found from. */
export interface Found {
  /** As a person says it: `whorl small`. */
  readonly of: string;
  readonly what: 'size' | 'flyer-ratio' | 'bobbin-ratio' | 'bobbin-per-flyer-turn' | 'hook-factor' | 'drag' | 'band-length';
  readonly combined: Combined;
  readonly value: Q | R;
  readonly agreement?: 'agrees' | 'slip' | 'recheck';
}
export interface Effective {
  readonly profile: Wheel;
  readonly assumptions: readonly Assumption[];
  readonly warnings: readonly Warning[];
  readonly found: readonly Found[];
  /** What a question by this wheel's id is given where it says nothing else. */
  readonly given: Readonly<Record<string, QIn | RIn>>;
}
type Json = Record<string, unknown>;

/** Nothing was measured: the profile as it is. */
export const unmeasured = (profile: Wheel): Effective => ({ profile, assumptions: [], warnings: [], found: [], given: {} });

const mm = (v: number, u: number): QIn => ({ value: Number((v * 1000).toPrecision(12)), unit: 'mm', plusMinus: Number((2 * u * 1000).toPrecision(6)) });
const plain = (v: number, u: number): RIn => ({ value: Number(v.toPrecision(12)), plusMinus: Number((2 * u).toPrecision(6)) });

export function effectiveProfile(profile: Wheel, list: readonly StoredMeasurement[]): Effective {
  if (list.length === 0) return unmeasured(profile);
  const wheel = readWheel(new Reader(), profile, '');
  if (wheel === undefined) return unmeasured(profile);
  return new Putting(profile, wheel, list).together();
}

class Putting {
  private readonly out: Json;
  private readonly assumptions: Assumption[] = [];
  private readonly warnings: Warning[] = [];
  private readonly found: Found[] = [];
  private readonly given: Record<string, QIn | RIn> = {};
  private readonly when: ReadonlyMap<string, string>;
  private readonly usable: readonly StoredMeasurement[];
  private readonly band: { value: number; u: number; known: boolean };

  constructor(profile: Wheel, private readonly wheel: WheelRead, list: readonly StoredMeasurement[]) {
    this.out = structuredClone(profile) as Json;
    this.when = new Map(list.map((m) => [m.id, m.measurement.measuredOn ?? m.createdAt.toISOString().slice(0, 10)]));
    const thickness = asPoint(wheel.modes.map((m) => m.band?.thickness).find((t) => t !== undefined), usualBand / 2);
    // From none at all to a thick cord, as the ratio takes it.
    this.band = thickness === undefined ? { value: 0.0015, u: 0.003 / Math.sqrt(12), known: false } : { ...thickness, known: true };
    this.usable = list.filter(({ measurement: m, id }) => {
      const lost = (m.whorl !== undefined && !wheel.whorls.some((w) => w.name === m.whorl)) || (m.bobbin !== undefined && !wheel.bobbins.some((b) => b.name === m.bobbin));
      if (lost) this.assumptions.push({ code: 'measurement-of-no-part', text: `The measurement ${this.named(id)} was left aside: the profile has no part called ${[m.whorl, m.bobbin].filter((n) => n !== undefined).join(' or ')} any more.` });
      return !lost;
    });
  }

  together(): Effective {
    this.sizes();
    this.counts();
    this.others();
    if (this.found.length > 0) {
      const parts = this.found.map((f) => `${f.of} (${f.combined.used.length === 1 ? 'once' : `from ${f.combined.used.length}`})`);
      this.assumptions.unshift({ code: 'measurements-combined', text: `What was measured of this wheel was combined with its profile, each by its own uncertainty: ${parts.slice(0, 8).join(', ')}${parts.length > 8 ? ` and ${parts.length - 8} more` : ''}.`, effect: 'The wheel’s effective profile shows every estimate with its weight. A length without its ± was given the one usual for its method: calliper 0.2 mm, rule 1 mm, tape 2 mm, string or band 3 mm.' });
    }
    return { profile: this.out as Wheel, assumptions: this.assumptions, warnings: this.warnings, found: this.found, given: this.given };
  }

  private named(from: string): string { return from === 'profile' ? 'of the profile' : `of ${this.when.get(from)} (${from})`; }
  private at(path: string): Json | undefined {
    let o: unknown = this.out;
    for (const key of path.split('/').slice(1)) o = isObject(o) ? o[key] : Array.isArray(o) ? o[Number(key)] : undefined;
    return isObject(o) ? o : undefined;
  }

  /** Estimates of one thing as one; says what lies out and what does not agree. */
  private put(of: string, what: Found['what'], estimates: readonly Estimate[], say: (c: Combined) => Q | R, agreement?: Found['agreement']): Combined {
    const combined = combine(estimates);
    this.found.push({ of, what, combined, value: say(combined), ...(agreement === undefined ? {} : { agreement }) });
    const said = (from: string): string => { const e = estimates.find((x) => x.from === from)!; return `${this.named(from)}, ${say({ ...combined, value: e.value, u: e.u }).text},`; };
    if (combined.verdict === 'left-out') this.warnings.push({ code: 'measurement-outlier', text: `Of ${of}, the value ${combined.outliers.map(said).join(' and ')} lies too far from the others and was left out; they agree on ${say(combined).text}. Measure it again, or withdraw it.` });
    if (combined.verdict === 'disagree') this.warnings.push({ code: 'measurements-disagree', text: `What was measured of ${of} does not agree within its uncertainties${combined.outliers.length === 0 ? '' : `; farthest lies the value ${said(combined.outliers[0]!)}`}. The mean was kept, ${combined.birge!.toFixed(1)} times as unsure; one more measurement would tell which is wrong.` });
    return combined;
  }

  private sizes(): void {
    const grooves: [string, string, GrooveRead | undefined, (m: Measurement) => boolean][] = [['the drive wheel', '/driveWheel', this.wheel.driveWheel, (m) => m.part === 'drive-wheel']];
    for (const w of this.wheel.whorls) grooves.push([`whorl ${w.name}`, w.at, w.groove, (m) => m.part === 'whorl' && (m.whorl ?? this.wheel.whorls[0]!.name) === w.name]);
    for (const b of this.wheel.bobbins) {
      const mine = (m: Measurement): boolean => (m.bobbin ?? this.wheel.bobbins[0]!.name) === b.name;
      for (const [j, g] of b.grooves.entries()) grooves.push([`bobbin ${b.name}, ${endName(b, j)}`, `${b.at}/grooves/${j}`, g.groove, (m) => m.part === 'bobbin-groove' && mine(m) && (m.bobbinEnd ?? endName(b, 0)) === endName(b, j)]);
      for (const [part, key, label, size] of [['bobbin-core', 'coreDiameter', 'core', b.core], ['bobbin-ends', 'endDiameter', 'ends', b.end]] as const) this.across(`bobbin ${b.name}, ${label}`, b.at, key, size, (m) => m.part === part && mine(m));
    }
    for (const [i, s] of this.wheel.stages.entries()) {
      for (const key of ['driven', 'driving'] as const) grooves.push([`the head’s ${key} groove${this.wheel.stages.length > 1 ? `, stage ${i + 1}` : ''}`, `/stages/${i}/${key}`, s[key], (m) => m.part === `head-${key}` && (m.stage ?? 1) === i + 1]);
    }
    for (const [of, path, groove, mine] of grooves) this.groove(of, path, groove, this.usable.filter((m) => m.measurement.part !== undefined && mine(m.measurement)));
  }

  /** A size that is simply across: circumferences are taken as such. */
  private across(of: string, path: string, key: string, known: Reading | undefined, mine: (m: Measurement) => boolean): void {
    const measured = this.usable.filter((m) => m.measurement.part !== undefined && mine(m.measurement)).flatMap((m) => acrossOf(m) ?? []);
    if (measured.length === 0) return;
    const own = asPoint(known, usualPlusMinus.rule / 2);
    const c = this.put(of, 'size', [...(own === undefined ? [] : [{ from: 'profile', ...own }]), ...measured], sizeText);
    this.at(path)![key] = mm(c.value, c.u);
  }

  private groove(of: string, path: string, known: GrooveRead | undefined, measured: readonly StoredMeasurement[]): void {
    if (measured.length === 0) return;
    const sized = measured.some((m) => m.measurement.what !== 'band-turn');
    // Kept as the profile has it, seat or band; what was measured the other way is brought over by the band's thickness.
    const asBand = known === undefined || known.measure === 'stated' ? !sized : known.measure === 'band-turn';
    const over = (from: string, size: { value: number; u: number }, isBand: boolean): Estimate => {
      if (isBand === asBand) return { from, ...size };
      if (!this.band.known) this.assumptions.push({ code: 'band-thickness-unknown', text: `The band’s thickness is not in the profile; what was measured of ${of} with the band itself was brought over with 0 to 3 mm.` });
      return { from, value: size.value + (asBand ? 1 : -1) * this.band.value, u: Math.hypot(size.u, this.band.u) };
    };
    const estimates: Estimate[] = [];
    if (known !== undefined && known.measure !== 'stated') {
      const own = asPoint(known.size, (known.measure === 'diameter' ? usualPlusMinus.rule : known.measure === 'circumference' ? usualPlusMinus.tape : usualPlusMinus.band) / 2);
      const tape = known.tapeThickness === undefined ? 0 : (asPoint(known.tapeThickness, 1e-5)?.value ?? 0);
      if (own !== undefined) estimates.push(over('profile', known.measure === 'diameter' ? own : { value: own.value / Math.PI - (known.measure === 'circumference' ? tape : 0), u: own.u / Math.PI }, known.measure === 'band-turn'));
    }
    for (const m of measured) { const size = acrossOf(m); if (size !== undefined) estimates.push(over(m.id, size, m.measurement.what === 'band-turn')); }
    if (estimates.length === 0) return;
    const c = this.put(of, 'size', estimates, sizeText);
    this.write(path, c, asBand);
  }
  private write(path: string, c: { value: number; u: number }, asBand: boolean): void {
    let groove = this.at(path);
    if (groove === undefined) { if (path !== '/driveWheel') return; groove = this.out['driveWheel'] = {} as Json; }
    for (const key of ['grooveDiameter', 'grooveCircumference', 'bandTurn', 'statedRatio', 'tapeThickness']) delete groove[key];
    if (asBand) groove['bandTurn'] = mm(c.value * Math.PI, c.u * Math.PI); else groove['grooveDiameter'] = mm(c.value, c.u);
  }

  /** Ratios of the wheel as it is put together so far, every size as sure as its method; nothing where they cannot be said. */
  private ratios(drive: Drive | undefined): ReturnType<typeof ratioAnswer>['result'] | undefined {
    try {
      return ratioAnswer({ wheel: withUsual(this.out), ...(drive === undefined ? {} : { drive }) }).result;
    } catch (error) {
      if (error instanceof ProblemError) return undefined;
      throw error;
    }
  }
  private driveOf(m: Measurement): Drive | undefined { return m.drive ?? this.wheel.modes[0]?.drive; }

  private counts(): void {
    const groups = new Map<string, { m: Measurement; kind: 'flyer-ratio' | 'bobbin-ratio' | 'bobbin-per-flyer-turn'; estimates: Estimate[] }>();
    const add = (kind: 'flyer-ratio' | 'bobbin-ratio' | 'bobbin-per-flyer-turn', s: StoredMeasurement, r: Reading | undefined): void => {
      const p = asPoint(r, 1e-9);
      if (p === undefined) return;
      const m = s.measurement;
      const key = [kind, this.driveOf(m), kind === 'bobbin-ratio' ? '' : m.whorl, kind === 'flyer-ratio' ? '' : m.bobbin, kind === 'flyer-ratio' ? '' : m.bobbinEnd].join('\n');
      const group = groups.get(key) ?? { m, kind, estimates: [] };
      group.estimates.push({ from: s.id, ...p });
      groups.set(key, group);
    };
    for (const s of this.usable) {
      if (s.measurement.what === 'counted-turns') {
        if (s.measurement.flyerTurns !== undefined) add('flyer-ratio', s, flyerRatioOf(s.measurement));
        if (s.measurement.bobbinTurns !== undefined) add('bobbin-ratio', s, bobbinRatioOf(s.measurement));
      } else if (s.measurement.what === 'lap-count') add('bobbin-per-flyer-turn', s, rhoOf(s.measurement));
    }
    for (const kind of ['flyer-ratio', 'bobbin-ratio', 'bobbin-per-flyer-turn'] as const) for (const g of groups.values()) if (g.kind === kind) this.counted(g);
  }

  private counted({ m, kind, estimates }: { m: Measurement; kind: 'flyer-ratio' | 'bobbin-ratio' | 'bobbin-per-flyer-turn'; estimates: Estimate[] }): void {
    const whorl = this.wheel.whorls.find((w) => w.name === m.whorl) ?? this.wheel.whorls[0];
    const bobbin = this.wheel.bobbins.find((b) => b.name === m.bobbin) ?? this.wheel.bobbins[0];
    const j = bobbin === undefined ? 0 : Math.max(0, bobbin.grooves.findIndex((_, i) => endName(bobbin, i) === m.bobbinEnd));
    const drive = this.driveOf(m);
    const now = this.ratios(drive);
    const end = bobbin === undefined || bobbin.grooves.length === 0 ? '' : endName(bobbin, j);
    const measured = kind === 'flyer-ratio' ? now?.whorls?.find((w) => w.name === whorl?.name)?.flyerRatio
      : kind === 'bobbin-ratio' ? now?.bobbins.find((b) => b.name === bobbin?.name && b.groove === end)?.bobbinRatio
        : now?.pairs.find((p) => p.whorl === whorl?.name && p.bobbin === bobbin?.name && p.groove === end)?.bobbinPerFlyerTurn;
    const path = kind === 'flyer-ratio' ? whorl?.at : bobbin === undefined ? undefined : `${bobbin.at}/grooves/${j}`;
    const of = kind === 'flyer-ratio' ? `turns of the flyer with whorl ${whorl?.name ?? '1'}` : `${kind === 'bobbin-ratio' ? 'turns' : 'laps'} of bobbin ${bobbin?.name ?? '1'}${bobbin !== undefined && bobbin.grooves.length > 1 ? `, ${end}` : ''}`;
    const say = (c: Combined): R => wire(kind === 'bobbin-per-flyer-turn' ? 'number' : 'ratio', { value: c.value, u: c.u });
    const stated = path === undefined ? undefined : this.at(path)?.['statedRatio'];
    const reading = measured === undefined ? undefined : ('value' in measured ? { value: measured.value, ...(measured.plusMinus === undefined ? {} : { u: measured.plusMinus / 2 }) } : { ...measured });
    const counted = combine(estimates);
    const notes = new Notes();
    const agreement = reading === undefined || stated !== undefined ? undefined : agreementOf({ value: counted.value, u: counted.u }, reading, notes).agreement;
    this.put(of, kind, estimates, say, agreement);
    const text = say(counted).text;
    const groove = path === undefined ? undefined : this.at(path);
    if (agreement === 'slip') this.warnings.push({ code: 'counted-slip', text: `Of ${of}, fewer were counted (${text}) than the measures give (${measured!.text}): the band slips, or a measure is wrong. The measures were kept, and the count was not averaged in.` });
    else if (agreement === 'recheck') this.warnings.push({ code: 'counted-recheck', text: `Of ${of}, more were counted (${text}) than the measures give (${measured!.text}): slip cannot do that, so a diameter or the band’s thickness is wrong. The measures were kept; measure again.` });
    else if (agreement === 'agrees') { if (reading !== undefined && isPoint(reading) && reading.u !== undefined && groove !== undefined) this.byCount(path!, groove, { value: reading.value, u: reading.u }, counted); }
    else if (groove !== undefined && kind !== 'bobbin-per-flyer-turn') {
      // No measure of the groove, or what is stamped on it: the count says more.
      for (const key of ['grooveDiameter', 'grooveCircumference', 'bandTurn', 'tapeThickness']) if (groove[key] !== undefined) return;
      if (reading !== undefined && isPoint(reading) && Math.abs(reading.value - counted.value) > Math.max(2 * counted.u, 0.02 * counted.value)) this.warnings.push({ code: 'stamped-otherwise', text: `Of ${of}, ${text} was counted where ${measured!.text} is stamped or stated. The count was used.` });
      groove['statedRatio'] = plain(counted.value, counted.u);
    }
  }

  /** The groove that a count asks for, beside the one that was measured: d = (d₀ + t) i₀/i - t; what drives it carries its own uncertainty. */
  private byCount(path: string, groove: Json, measured: { value: number; u: number }, counted: Combined): void {
    const read = readWheel(new Reader(), this.out, '');
    const known = path.includes('/grooves/') ? read?.bobbins.flatMap((b) => b.grooves.map((g, j) => ({ path: `${b.at}/grooves/${j}`, groove: g.groove }))).find((x) => x.path === path)?.groove : read?.whorls.find((w) => w.at === path)?.groove;
    if (known === undefined || known.measure === 'stated' || (known.measuredAt !== undefined && known.measuredAt !== 'seat')) return;
    const own = asPoint(known.size, (known.measure === 'diameter' ? usualPlusMinus.rule : usualPlusMinus.tape) / 2);
    if (own === undefined) return;
    const size = known.measure === 'diameter' ? own : { value: own.value / Math.PI, u: own.u / Math.PI };
    const t = known.measure === 'band-turn' ? { value: 0, u: 0 } : this.band;
    const pitch = { value: size.value + t.value, u: Math.hypot(size.u, t.u) };
    const relative = (x: { value: number; u: number }): number => x.u / x.value;
    const driving = Math.sqrt(Math.max(0, relative(measured) ** 2 - relative(pitch) ** 2));
    const asked = (pitch.value * measured.value) / counted.value;
    const both = combine([{ from: 'profile', ...size }, { from: 'count', value: asked - t.value, u: Math.hypot(asked * Math.hypot(driving, relative(counted)), t.u) }]);
    if (both.verdict !== 'agree') return;
    const asBand = known.measure === 'band-turn';
    for (const key of ['grooveDiameter', 'grooveCircumference', 'bandTurn', 'tapeThickness']) delete groove[key];
    if (asBand) groove['bandTurn'] = mm(both.value * Math.PI, both.u * Math.PI); else groove['grooveDiameter'] = mm(both.value, both.u);
  }

  private others(): void {
    const each = (what: Measurement['what'], of: (m: StoredMeasurement) => Estimate | undefined): Estimate[] => this.usable.filter((m) => m.measurement.what === what).flatMap((m) => of(m) ?? []);
    const from = (id: string, r: Reading | undefined, usual: number): Estimate | undefined => { const p = asPoint(r, usual); return p === undefined ? undefined : { from: id, ...p }; };
    const factors = each('bag-test', (m) => from(m.id, bagOf(m.measurement)?.factor, 0.05));
    if (factors.length > 0) { const c = this.put('what orifice and hooks multiply a pull by', 'hook-factor', factors, (x) => wire('number', { value: x.value, u: x.u })); if (c.value >= 1) this.given['hookFactor'] = plain(c.value, c.u); }
    const drags = each('coast-down', (m) => { const c = coastOf(m.measurement, this.wheel); const d = c?.bearing ?? c?.mean; return d === undefined ? undefined : from(m.id, d, 'value' in d ? 0.1 * d.value : 1e-4); });
    if (drags.length > 0) {
      const c = this.put('the drag of the flyer', 'drag', drags, (x) => wire('torque', { value: x.value, u: x.u }) as Q);
      this.given['drag'] = { value: Number((c.value * 1000).toPrecision(12)), unit: 'mN*m', plusMinus: Number((2 * c.u * 1000).toPrecision(6)) };
    }
    for (const drive of new Set(this.usable.filter((m) => m.measurement.what === 'band-length').map((m) => this.driveOf(m.measurement)))) {
      // A tape laid inside reads short by π times the band's thickness for each turn that it makes: twice round, in a doubled loop.
      const inside = drive === 'double-drive' ? 2 : 1;
      const lengths = each('band-length', (m) => { if (this.driveOf(m.measurement) !== drive) return undefined; const s = sizeOf(m.measurement); return s === undefined ? undefined : { from: m.id, value: s.value + (m.measurement.measuredInside === true ? inside * Math.PI * this.band.value : 0), u: m.measurement.measuredInside === true ? Math.hypot(s.u, inside * Math.PI * this.band.u) : s.u }; });
      if (lengths.length > 0) this.put(`the length of the band${drive === undefined ? '' : `, ${drive}`}`, 'band-length', lengths, (x) => wire('length', { value: x.value, u: x.u }) as Q);
    }
  }
}
/** Half-width at 95 % of a cord's thickness without its own ±, m. Common practice. */
const usualBand = 0.0003;
const usual: Readonly<Record<string, number>> = { grooveDiameter: usualPlusMinus.rule, grooveCircumference: usualPlusMinus.tape, bandTurn: usualPlusMinus.band, thickness: usualBand };
/** The profile with a ± at each of its sizes: a count is not to be called slip because nobody said how sure a diameter is. */
function withUsual<T>(part: T): T {
  if (Array.isArray(part)) return part.map(withUsual) as T;
  if (!isObject(part)) return part;
  return Object.fromEntries(Object.entries(part).map(([key, value]) => {
    const read = usual[key] === undefined ? undefined : new Reader().quantity(value, '', 'part', { atLeast: 0 });
    return [key, read !== undefined && isPoint(read) && read.u === undefined ? mm(read.value, usual[key]! / 2) : withUsual(value)];
  })) as T;
}
const sizeText = (c: { value: number; u: number }): Q => wire('part', { value: c.value, u: c.u }) as Q;
/** A size of a measurement as a diameter, m: of the seat, or (band turn) of the band's middle. */
function acrossOf(m: StoredMeasurement): Estimate | undefined {
  const size = sizeOf(m.measurement);
  if (size === undefined) return undefined;
  if (m.measurement.what === 'diameter') return { from: m.id, ...size };
  const tape = m.measurement.tapeThickness === undefined ? 0 : (asPoint(new Reader().quantity(m.measurement.tapeThickness, '', 'part', { atLeast: 0 }), 1e-5)?.value ?? 0);
  return { from: m.id, value: size.value / Math.PI - (m.measurement.what === 'circumference' ? tape : 0), u: size.u / Math.PI };
}
