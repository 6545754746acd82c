/**
 * Take-up: how much a pair can draw in, and the softest twist that leaves. SI in, SI out: diameters and lengths in m, twist in
 * turns per metre, ratios per turn of the wheel, densities in kg/m³, grist in kg/m. Derived here from what is wound in a turn;
 * the industrial form is bobbin minus flyer speed = v/(πd) (Klein, The Technology of Short-staple Spinning: flyer frame).
 */

/** Double drive, most wound in a turn of the wheel: πd|i_b - i_f|. */
export const mostDouble = (p: { diameter: number; flyerRatio: number; bobbinRatio: number }): number => Math.PI * p.diameter * Math.abs(p.bobbinRatio - p.flyerRatio);
/** Double drive, softest twist: one lap needs 1/|ρ - 1| flyer turns, so 1/(πd|ρ - 1|). It knows nothing of the wheel's size. */
export const leastTwistDouble = (p: { diameter: number; bobbinPerFlyerTurn: number }): number => 1 / (Math.PI * p.diameter * Math.abs(p.bobbinPerFlyerTurn - 1));
/** Flyer-lead: at most a lap for each turn of the flyer, the bobbin standing still: πd i_f, and one turn a lap. */
export const mostLed = (p: { diameter: number; ratio: number }): number => Math.PI * p.diameter * p.ratio;
export const leastTwistFlyerLead = (p: { diameter: number }): number => 1 / (Math.PI * p.diameter);
/** Wound diameter from which a double drive can make this twist: 1/(πT|ρ - 1|). */
export const diameterForTwist = (p: { twist: number; bobbinPerFlyerTurn: number }): number => 1 / (Math.PI * p.twist * Math.abs(p.bobbinPerFlyerTurn - 1));

/** Laps that a length makes round a package. */
export const laps = (p: { length: number; diameter: number }): number => p.length / (Math.PI * p.diameter);

/** Diameter at a share of the way up from the core to full. */
export const diameterAt = (p: { core: number; full: number; fill: number }): number => p.core + p.fill * (p.full - p.core);
/** Yarn in a ring of the package: mass π/4 ρ W (d² - d₀²). */
export const woundMass = (p: { core: number; diameter: number; width: number; density: number }): number => (Math.PI / 4) * p.density * p.width * (p.diameter ** 2 - p.core ** 2);
export const woundLength = (p: { core: number; diameter: number; width: number; density: number; grist: number }): number => woundMass(p) / p.grist;
/** Diameter once this length is on: d² = d₀² + 4·grist·L/(π ρ W). */
export const diameterAfter = (p: { core: number; length: number; width: number; density: number; grist: number }): number =>
  Math.sqrt(p.core ** 2 + (4 * p.grist * p.length) / (Math.PI * p.density * p.width));

/** Bag test: the pull at the package is the middle (geometric) of what it lifts and what pulls off; hooks and orifice cancel. N. */
export const heldPull = (p: { lifts: number; pullsOff: number }): number => Math.sqrt(p.lifts * p.pullsOff);
/** What hooks and orifice multiply a pull by. */
export const frictionFactor = (p: { lifts: number; pullsOff: number }): number => Math.sqrt(p.pullsOff / p.lifts);
