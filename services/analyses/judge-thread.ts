/** The thread in which chunks are judged. `at` tells which row it is at, counted from 0; -1 before the first. */
import { parentPort, workerData } from 'node:worker_threads';
import { Analyser } from './chunk.js';
import { Features } from './fleet.js';
import type { Asked, Told } from './judge.js';
import { packed } from './packing.js';
import { emptyTally, tallyRow } from './tally.js';

const at = new Int32Array((workerData as { at: SharedArrayBuffer }).at);
let known: { readonly analysis: string; readonly analyser: Analyser } | undefined;

parentPort!.on('message', ({ analysis, layout, chunk }: Asked) => {
  // One table's cells are remembered from chunk to chunk.
  if (known?.analysis !== analysis) known = { analysis, analyser: new Analyser(layout) };
  const tally = emptyTally();
  const features = new Features(chunk.firstRow);
  let result = '';
  let row = 0;
  Atomics.store(at, 0, -1);
  for (const one of known.analyser.judged(chunk, () => { Atomics.store(at, 0, row++); })) {
    result += result === '' ? one.line : `\n${one.line}`;
    tallyRow(tally, one);
    features.add(one);
  }
  Atomics.store(at, 0, -1);
  parentPort!.postMessage({ result: packed(result), features: features.packed(), tally, analysed: tally.analysed, rejected: tally.rejected } satisfies Told);
});
