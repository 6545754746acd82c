/**
 * Regains: water over dry mass, as shares. Commercial ones are arbitrary values of the trade, not what a fibre takes up by
 * itself (ASTM D1909, 4.1); they differ by country and by the form of the fibre, so both are named.
 */
export const regainStandards = ['astm-d1909', 'eu-1007', 'gb-9994', 'room-air'] as const;
export type RegainStandard = (typeof regainStandards)[number];
export const fibreForms = ['carded', 'combed', 'scoured-mixed', 'scoured-uniform', 'noil', 'recovered', 'dry-top', 'oil-top', 'plain', 'mercerised', 'staple', 'filament'] as const;
export type FibreForm = (typeof fibreForms)[number];
export interface Regain {
  readonly fibre: string; readonly standard: RegainStandard; readonly form?: FibreForm;
  readonly low: number; readonly high: number;
  readonly fromMemory?: true;
}

type Row = readonly [fibre: string, percent: number | readonly [number, number], form?: FibreForm | '', memory?: 'memory'];
const rows: Readonly<Record<RegainStandard, readonly Row[]>> = {
  // ASTM D1909-13, as tabulated in Bioresources and Bioprocessing 7 (2020), Table 10.
  'astm-d1909': [['wool', 13.6], ['cotton', 8.5], ['linen', 12], ['hemp', 12], ['jute', 13.75], ['silk', 11], ['nylon', 4.5, '', 'memory']],
  // Regulation (EU) 1007/2011, Annex IX.
  'eu-1007': [
    ['wool', 17, 'carded'], ['wool', 18.25, 'combed', 'memory'], ['cotton', 8.5, 'plain'], ['cotton', 10.5, 'mercerised', 'memory'], ['nylon', 6.25, 'staple'], ['nylon', 5.75, 'filament', 'memory'],
    ['linen', 12, '', 'memory'], ['hemp', 12, '', 'memory'], ['jute', 17, '', 'memory'], ['silk', 11, '', 'memory'],
    ...(['alpaca', 'mohair', 'cashmere', 'camel'] as const).flatMap((f): Row[] => [[f, 17, 'carded', 'memory'], [f, 18.25, 'combed', 'memory']]),
  ],
  // GB 9994-1988, near ISO/DP 6741-4.
  'gb-9994': [['wool', 15, 'scoured-mixed'], ['wool', 16, 'scoured-uniform'], ['wool', 16, 'noil'], ['wool', 17, 'recovered'], ['wool', 18.25, 'dry-top'], ['wool', 19, 'oil-top'], ['cotton', 8.5]],
  // What fibres hold at 65 % relative humidity and 20 °C: Morton & Hearle 2008, by the same review, Table 10.
  'room-air': [['wool', [14, 18]], ['cotton', [7, 8]], ['linen', 7], ['hemp', 8], ['jute', 12], ['silk', 10], ['nylon', 4, '', 'memory'], ...(['alpaca', 'mohair', 'cashmere', 'camel'] as const).map((f): Row => [f, [14, 18], '', 'memory'])],
};
const share = (percent: number): number => percent / 100;
export const regains: readonly Regain[] = regainStandards.flatMap((standard) => rows[standard].map(([fibre, percent, form, memory]): Regain => {
  const [low, high] = typeof percent === 'number' ? [percent, percent] : percent;
  return { fibre, standard, low: share(low), high: share(high), ...(form === undefined || form === '' ? {} : { form }), ...(memory === undefined ? {} : { fromMemory: true }) };
}));
export const regainsOf = (fibre: string, standard: RegainStandard): readonly Regain[] => regains.filter((r) => r.fibre === fibre && r.standard === standard);
