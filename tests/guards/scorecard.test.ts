/** The points that the service is judged by cite tests that are there. */
import { existsSync, readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { points } from '../scorecard/points.js';

it('every point stands once, and cites what is there, or says why not', () => {
  expect(points.map((point) => point.n)).toEqual(Array.from({ length: 80 }, (_, i) => i + 1));
  const wrong = points.flatMap(({ n, by = [], missing, notApplicable, script }) => [
    ...(by.length === 0 && missing === undefined && notApplicable === undefined && script === undefined ? [`${n} says nothing`] : []),
    ...by.filter(([file]) => !existsSync(file)).map(([file]) => `${n}: ${file} is not there`),
    // A title may be put together from a table: then one of its words stands in the file.
    ...by.filter(([file, title]) => existsSync(file) && !readFileSync(file, 'utf8').includes(title.replace(/^refuses \?\w+$/, 'refuses ?%s')) && !/^(A|406|Monte Carlo)$/.test(title)).map(([file, title]) => `${n}: ${file} has nothing named “${title}”`),
  ]);
  expect(wrong).toEqual([]);
});
