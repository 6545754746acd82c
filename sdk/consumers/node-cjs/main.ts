/** An application that is compiled to require(). */
import { Wheelgrist } from '@wheelgrist/sdk/node';
import * as offline from '@wheelgrist/sdk/offline';

declare const process: { readonly argv: readonly string[] };

async function main(): Promise<void> {
  const wheelgrist = new Wheelgrist({ baseUrl: process.argv[2]! });
  const args = { driveWheel: '560 mm', whorl: '60 mm', band: '2 mm' };
  const there = await wheelgrist.ratioByLink(args);
  const here = offline.ratioByLink(args);
  console.log(JSON.stringify({ same: JSON.stringify(there) === JSON.stringify(here), ratios: there.result.whorls?.map((whorl) => whorl.flyerRatio.text) }));
  await wheelgrist.close();
}
void main();
