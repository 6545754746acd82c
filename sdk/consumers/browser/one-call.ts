/** The least that a page can carry: one operation. */
export { ratio, Transport } from '@wheelgrist/sdk';
