/** Every file of published values, and the sources that they may cite. */
import { existsSync } from 'node:fs';
import { calculations } from '../../services/calculations/index.js';
import * as sources from '../../services/foundation/sources.js';
import type { Source } from '../../services/foundation/sources.js';
import { loadCases, type Case, type CaseFile } from './cases.js';
import { testSources } from './test-sources.js';

export const serviceSources = Object.values(sources).filter((s): s is Source => typeof s === 'object' && 'id' in s && 'title' in s);
export const allSources: readonly Source[] = [...serviceSources, ...testSources];
export interface PublishedCase extends Case { readonly basis?: string; readonly source?: string; readonly locator?: string }
export interface PublishedFile extends CaseFile { readonly cases: readonly PublishedCase[] }
export const published: readonly PublishedFile[] = calculations.flatMap((c) => {
  const url = new URL(`../calculations/${c.id}/published.json`, import.meta.url);
  return existsSync(url) ? [loadCases(url) as PublishedFile] : [];
});
/** What a row stands on, as it says. */
export const basisOf = (c: PublishedCase): string => c.basis ?? (c.source === undefined ? 'nothing' : 'published');
