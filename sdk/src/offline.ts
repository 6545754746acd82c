/** The same answers without a network: the service's own code. Refusals are the same `ProblemReply`. */
export { ProblemReply } from './errors.js';
export * from './offline.gen.js';
export { signs } from '../../services/reference/signs.js';
export type { OfflineArgs } from './options.js';
