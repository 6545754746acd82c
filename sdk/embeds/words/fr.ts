/** French. */
import { column } from './rows.js';

export const words = column(2);
