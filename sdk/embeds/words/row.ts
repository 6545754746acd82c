/** English, German, French, Swedish, Arabic. */
export type Row = readonly [en: string, de: string, fr: string, sv: string, ar: string];
