/**
 * Says at the very end what was counted, in one line that a machine can read: `N passed, N failed`, and `, N skipped`
 * when any were. Everything that was skipped is named before it, with its reason.
 */
import { writeSync } from 'node:fs';
import type { Reporter, TestModule } from 'vitest/node';

export default class CountingReporter implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], unhandled: readonly unknown[]): void {
    let [passed, failed] = [0, unhandled.length];
    const skipped: string[] = [];
    for (const module of modules) {
      // A file that could not be loaded holds no tests, and still fails. So does a group whose set-up failed.
      failed += module.errors().length;
      for (const group of module.children.allSuites()) failed += group.errors().length;
      for (const test of module.children.allTests()) {
        const result = test.result();
        if (result.state === 'passed') passed++;
        else if (result.state === 'failed') failed++;
        else skipped.push(`skipped: ${test.fullName} (${module.relativeModuleId}): ${('note' in result && result.note) || 'no reason given'}`);
      }
    }
    const lines = [...skipped, `${passed} passed, ${failed} failed${skipped.length === 0 ? '' : `, ${skipped.length} skipped`}`];
    // Written last of all, when no other reporter has anything left to say.
    process.once('exit', () => writeSync(1, `\n${lines.join('\n')}\n`));
  }
}
