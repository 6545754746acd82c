/** The part of the UCUM library that is used here; it ships without types. */
declare module '@lhncbc/ucum-lhc' {
  interface Converted { status: 'succeeded' | 'failed' | 'error'; toVal: number | null; msg: string[] | string | null }
  const ucum: { UcumLhcUtils: { getInstance(): { convertUnitTo(from: string, value: number, to: string): Converted } } };
  export default ucum;
}
