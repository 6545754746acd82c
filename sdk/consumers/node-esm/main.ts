/** An application of ES modules: the address of a service comes in, answers go out. */
import { ProblemReply } from '@wheelgrist/sdk';
import { Wheelgrist } from '@wheelgrist/sdk/node';
import { ratioByLink } from '@wheelgrist/sdk/offline';

declare const process: { readonly argv: readonly string[] };

const wheelgrist = new Wheelgrist({ baseUrl: process.argv[2]! });
const args = { driveWheel: '560 mm', whorl: ['60 mm', '2 3/8 in'], bobbin: '48 mm', band: '2 mm', drive: 'double-drive' } as const;
const there = await wheelgrist.ratioByLink(args);
const here = ratioByLink(args);
const refused = await wheelgrist.ratioByLink({ driveWheel: '560' }).then(() => 'answered', (error: unknown) => (error instanceof ProblemReply ? error.problem.errors?.map((issue) => issue.code) : error));
console.log(JSON.stringify({ same: JSON.stringify(there) === JSON.stringify(here), ratios: there.result.whorls?.map((whorl) => whorl.flyerRatio.text), refused }));
await wheelgrist.close();
