/** The same answers without a network: the service's own code. Refusals are the same `ProblemReply`. */
import { placeNames, signs as list } from '../../services/reference/signs.js';
import type { Sign } from './types.gen.js';

export { ProblemReply } from './errors.js';
export * from './offline.gen.js';
export type { OfflineArgs } from './options.js';
/** As `GET /v1/signs` gives them. */
export const signs: readonly Sign[] = /* @__PURE__ */ list.map(({ id, says, place, danger }) => ({ id, says, noticed: place, where: placeNames[place], ...(danger === undefined ? {} : { danger }) }));
