/** The client for browsers and everything else that has `fetch`. */
export { analysisDone, withProgress, type WaitOptions } from './analyses.js';
export { Transport } from './client.js';
export * from './errors.js';
export * from './operations.gen.js';
export type * from './options.js';
export * from './problems.gen.js';
export type * from './types.gen.js';
export { Wheelgrist } from './wheelgrist.gen.js';
