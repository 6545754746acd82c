/** Reads of many addresses in turn: `load-reads.mjs {url, paths, headers, seconds}`. Prints how many were answered. Its own process, so that it does not share a thread with the server. */
import autocannon from 'autocannon';

const { url, paths, headers, seconds } = JSON.parse(process.argv[2]);
const result = await autocannon({ url, requests: paths.map((path) => ({ method: 'GET', path, headers })), connections: 32, duration: seconds });
if (result.non2xx > 0 || result.errors > 0 || result.timeouts > 0) throw new Error(`${result.non2xx} refused, ${result.errors} errors, ${result.timeouts} timeouts`);
process.stdout.write(`${JSON.stringify({ perSecond: result.requests.total / result.duration })}\n`);
