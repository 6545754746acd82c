/** One load on one address: `load.mjs {url, body, seconds}`. Prints how many requests were answered. Its own process, so that it does not share a thread with the server. */
import autocannon from 'autocannon';

const { url, body, seconds } = JSON.parse(process.argv[2]);
const result = await autocannon({ url, method: 'POST', headers: { 'content-type': 'application/json' }, body, connections: 32, duration: seconds });
if (result.non2xx > 0 || result.errors > 0 || result.timeouts > 0) throw new Error(`${result.non2xx} refused, ${result.errors} errors, ${result.timeouts} timeouts`);
process.stdout.write(`${JSON.stringify({ requests: result.requests.total, seconds: result.duration })}\n`);
