/**
 * Twist. SI in, SI out: twist in turns per metre, lengths in m, angles in rad from the yarn's axis, grist in kg/m.
 * Twist inserted in a length is flyer turns in that length, in every system (Klein, The Technology of Short-staple
 * Spinning, roving frame: imparting twist). Bobbin turns only decide how much is wound.
 */

/** Flyer turns over the length drafted in those turns. */
export const twist = (p: { turns: number; length: number }): number => p.turns / p.length;

/** One turn in every lap of yarn round a package of this diameter: 1/(πd). (Klein, same: winding of cops, 12.73/m at 25 mm.) */
export const turnsPerLap = (p: { diameter: number }): number => 1 / (Math.PI * p.diameter);

/** Bobbin-lead: each lap costs the flyer a turn, so T = bobbin turns / length - 1/(πd). Derived here. */
export const bobbinLeadTwist = (p: { bobbinTurns: number; length: number; diameter: number }): number =>
  p.bobbinTurns / p.length - turnsPerLap({ diameter: p.diameter });

/** tan α = π d t: surface angle of a circular yarn. (Klein, same: the twist equation.) */
export const surfaceAngle = (p: { twist: number; diameter: number }): number => Math.atan(Math.PI * p.diameter * p.twist);
export const twistOfAngle = (p: { angle: number; diameter: number }): number => Math.tan(p.angle) / (Math.PI * p.diameter);

/** Circular section: d = √(4 Tt v / π), grist in kg/m, specific volume in m³/kg. Exact by definition. */
export const diameterOf = (p: { grist: number; volume: number }): number => Math.sqrt((4 * p.grist * p.volume) / Math.PI);

/** Twist factor K = t √Tt, in turns/m √tex; grist in kg/m. */
export const texFactor = (p: { twist: number; grist: number }): number => p.twist * Math.sqrt(p.grist * 1e6);
export const twistOfFactor = (p: { factor: number; grist: number }): number => p.factor / Math.sqrt(p.grist * 1e6);

/** Share of twist lost when the angle falls from `before` to `after` at the same diameter: 1 - tan α₂/tan α₁. */
export const lostByAngle = (p: { before: number; after: number }): number => 1 - Math.tan(p.after) / Math.tan(p.before);

// tpi = t × 0.0254; N_system = C/Tt with C from the yard and the pound. So factor_in_system = K × 0.0254/√(C).
const C = (hankYards: number): number => (453.59237 * 1000) / (0.9144 * hankYards);
/** What one K (turns/m √tex) is in each system of twist factors: exact from definitions. */
export const factorSystems = {
  tex: 1,
  'tex-cm': 1 / 100,
  'tex-10cm': 1 / 10,
  metric: 1 / Math.sqrt(1000),
  cotton: 0.0254 / Math.sqrt(C(840)),
  worsted: 0.0254 / Math.sqrt(C(560)),
  run: 0.0254 / Math.sqrt(C(1600)),
  lea: 0.0254 / Math.sqrt(C(300)),
  'yorkshire-skein': 0.0254 / Math.sqrt(C(256)),
  'galashiels-cut': 0.0254 / Math.sqrt(C(200)),
} as const;
export type FactorSystem = keyof typeof factorSystems;

/** Turns per length of a plied yarn from the bumps along one edge: bumps/(plies × length). Common practice. */
export const twistOfBumps = (p: { bumps: number; plies: number; length: number }): number => p.bumps / (p.plies * p.length);

/** A fresh ply-back of two strands shows two thirds of the twist of the single. Rule of thumb, common practice. */
export const singlesOfPlyBack = (p: { plyBack: number }): number => p.plyBack * 1.5;

/**
 * How much shorter twist makes a strand, as a share of its untwisted length, by its surface angle: the mean of all paths of an
 * ideal helix, C = (1 + sec α)/2 and R = 1 - 1/C = tan²(α/2). (Hearle, Treloar: name of the form from memory; the identity is derived here.)
 */
export const helixContraction = (p: { angle: number }): number => Math.tan(p.angle / 2) ** 2;
/**
 * The same as printed for staple yarn: 1 + ln(cos α) cos α/(1 - cos α). (Journal of the Textile Machinery Society of Japan 14 (3-4),
 * p. 115; its log is natural.) With e = 1 - cos α it is the sum of eⁿ/(n (n + 1)), which keeps its figures where e is small.
 */
export function stapleContraction(p: { angle: number }): number {
  const e = 2 * Math.sin(p.angle / 2) ** 2;
  if (e > 0.05) return 1 + (Math.log1p(-e) * (1 - e)) / e;
  let sum = 0;
  for (let n = 12; n > 0; n--) sum = e * (sum + 1 / (n * (n + 1)));
  return sum;
}
/** The same, empirical, for cotton of a twist multiplier of 3 to 5: 2.67 TM - 4.93 per cent. (Mill handbook notes: contraction.) */
export const cottonContraction = (p: { multiplier: number }): number => (2.67 * p.multiplier - 4.93) / 100;
/** Untwisted over twisted length. Exact by definition. */
export const contractionFactor = (p: { contraction: number }): number => 1 / (1 - p.contraction);

/** With constant volume of fibre, turns in a metre before twisting are most where sec α = 3; the strand is then half as long. Derived here. */
export const greatestAngle = Math.acos(1 / 3);
/** That most: 1/(π d₀), d₀ the thickness before twisting. Derived here. */
export const greatestTwist = (p: { diameter: number }): number => 1 / (Math.PI * p.diameter);

/** Untwist and retwist: the counter has gone there and back, so t = counter/(2 length). (ISO 17202:2002; ASTM D1422.) */
export const twistOfRetwist = (p: { turns: number; length: number }): number => p.turns / (2 * p.length);
