/**
 * Grist: mass in a length. SI in, SI out: grist in kg/m, wraps per metre, lengths in m, masses in kg, shares as fractions.
 */
const yardsPerPoundConstant = 0.45359237 / 0.9144;

/** Mass over length (skein method, ISO 2060: 1000 m/L in g and m gives tex). */
export const gristOf = (p: { mass: number; length: number }): number => p.mass / p.length;

/** Yards in a pound, exact from the yard and the pound. */
export const yardsPerPound = (p: { grist: number }): number => yardsPerPoundConstant / p.grist;

/** Wraps per inch = k √(yd/lb), turned round exactly: yd/lb = (wpi/k)². (Form: Taylor, Cotton Weaving and Designing, 6th ed., p. 453.) Wraps per metre in. */
export const gristOfWraps = (p: { wraps: number; factor: number }): number => yardsPerPoundConstant / ((p.wraps * 0.0254) / p.factor) ** 2;
export const wrapsOfGrist = (p: { grist: number; factor: number }): number => (p.factor * Math.sqrt(yardsPerPound(p))) / 0.0254;
export const wrapFactorOf = (p: { wraps: number; grist: number }): number => (p.wraps * 0.0254) / Math.sqrt(yardsPerPound(p));

/** Circular section of specific volume v, m³/kg: grist = π d²/(4 v). Exact by definition. */
export const gristOfDiameter = (p: { diameter: number; volume: number }): number => (Math.PI * p.diameter ** 2) / (4 * p.volume);

/** A beam balance holds a length of the yarn against a small arm: grist = arm/length. With 1/3600 lb, inches × 100 are yards in a pound. */
export const gristOfBalance = (p: { arm: number; length: number }): number => p.arm / p.length;
export const inchArm = 0.45359237 / 3600;

/** Grist after the yarn has lost this share of its length: the same mass in less length. */
export const afterLoss = (p: { grist: number; lost: number }): number => p.grist / (1 - p.lost);

/** Mass or grist at another regain (water over dry mass): × (1 + R₂)/(1 + R₁). (ASTM D1909.) */
export const atRegain = (p: { amount: number; from: number; to: number }): number => (p.amount * (1 + p.to)) / (1 + p.from);

/** Round fibres in the section: grist over π ρ d²/4, with (1 + CV²) for their spread. (Klein, The Technology of Short-staple Spinning: fibres in the cross-section.) */
export const fibresInSection = (p: { grist: number; density: number; diameter: number; spread: number }): number =>
  (4 * p.grist) / (Math.PI * p.density * p.diameter ** 2 * (1 + p.spread ** 2));
