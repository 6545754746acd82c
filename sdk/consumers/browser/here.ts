/** One calculation without a network. */
export { ratioByLink } from '@wheelgrist/sdk/offline';
