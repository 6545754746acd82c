export * from './guilds.js';
export * from './wheels.js';
