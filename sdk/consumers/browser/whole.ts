/** The whole client in a page. */
export { Wheelgrist, Transport, ProblemReply, NetworkFailure, Timeout, Aborted, UnreadableReply } from '@wheelgrist/sdk';
