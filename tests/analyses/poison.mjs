// Put before a worker by NODE_OPTIONS: rows that say so do to it what a fault nobody has found yet would do. Reaches into threads too.
import threads from 'node:worker_threads';
import { syncBuiltinESMExports } from 'node:module';

const here = import.meta.url;
if (threads.isMainThread) {
  const { Worker } = threads;
  threads.Worker = class extends Worker {
    constructor(file, options) { super(file, { ...options, execArgv: ['--import', here] }); }
  };
  syncBuiltinESMExports();
} else {
  const { RowReader } = await import('../../dist/services/analyses/row.js');
  const { read } = RowReader.prototype;
  RowReader.prototype.read = function poisoned(cells, row, line) {
    const said = cells.join(' ');
    if (said.includes('hang')) for (;;);
    if (said.includes('devour')) { const all = []; for (;;) all.push(Array.from({ length: 1e5 }).fill(all.length)); }
    if (said.includes('throw')) throw new TypeError('a fault nobody has found yet');
    if (said.includes('kill')) process.kill(process.pid, 'SIGKILL');
    return read.call(this, cells, row, line);
  };
}
