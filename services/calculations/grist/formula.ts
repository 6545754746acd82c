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

/** Wraps of one strand of a yarn of n equal plies: strands that keep their round section, √n times as many; by the rule of spinners, half of n + 1 times, for two plies and three. Common practice. */
export const wrapsOfStrand = (p: { wraps: number; plies: number }): number => p.wraps * Math.sqrt(p.plies);
export const wrapsOfStrandByRule = (p: { wraps: number; plies: number }): number => (p.wraps * (p.plies + 1)) / 2;

/** Water over dry mass from water over all, and back: R = M/(1 - M), M = R/(1 + R). Exact by definition. */
export const regainOfContent = (p: { content: number }): number => p.content / (1 - p.content);
export const contentOfRegain = (p: { regain: number }): number => p.regain / (1 + p.regain);

/** One round fibre, kg/m: π ρ d²/4, with (1 + CV²) for the spread of diameters; grist over that is fibres in the section. (Klein, The Technology of Short-staple Spinning: fibres in the cross-section.) */
export const fibreGristOf = (p: { density: number; diameter: number; spread: number }): number => (Math.PI * p.density * p.diameter ** 2 * (1 + p.spread ** 2)) / 4;
/** Micronaire is µg in an inch. Exact by definition. (Textile Technical Handbook, 2023, p. 144: n = 15 000/(micronaire × Ne).) */
export const fibreGristOfMicronaire = (p: { micronaire: number }): number => (p.micronaire * 1e-9) / 0.0254;
/** Grist of a yarn with so many fibres in its section. */
export const gristOfFibres = (p: { fibres: number; fibreGrist: number }): number => p.fibres * p.fibreGrist;

/** Martindale's limit: no yarn of n fibres laid by chance is more even than CV = √(1 + 4 CV_d²)/√n. Form and date (1945) from memory. */
export const limitIrregularity = (p: { fibres: number; constant: number }): number => p.constant / Math.sqrt(p.fibres);
export const irregularityConstant = (p: { spread: number }): number => Math.sqrt(1 + 4 * p.spread ** 2);

/** Pull that breaks it: strength for its grist × grist. Exact by definition. */
export const breakingPull = (p: { tenacity: number; grist: number }): number => p.tenacity * p.grist;
/** Where it is weak: mean less two standard deviations, below which one place in forty lies. */
export const weakPull = (p: { mean: number; spread: number }): number => p.mean * (1 - 2 * p.spread);
/** Pull to measure a yarn under, 0.5 cN/tex. (ISO 2061:2010, clause 10; ISO 2060 by GB/T 4743-2009.) */
export const measuringPull = (p: { grist: number }): number => 5000 * p.grist;

/** Standard error of a mean of n: CV/√n. (JCGM 100:2008, 4.2.3.) */
export const standardError = (p: { spread: number; count: number }): number => p.spread / Math.sqrt(p.count);
/** Measurements for a mean that is good to `within`, `factor` standard errors wide: (factor × CV/within)². */
export const measurementsNeeded = (p: { spread: number; within: number; factor: number }): number => (p.factor * p.spread / p.within) ** 2;
