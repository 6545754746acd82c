/** Swedish. */
import { column } from './rows.js';

export const words = column(3);
