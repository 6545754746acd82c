export * from './guilds.js';
export * from './wheels.js';
export * from './cards.js';
export * from './measurements.js';
export * from './loans.js';
export * from './analyses.js';
export * from './finds.js';
