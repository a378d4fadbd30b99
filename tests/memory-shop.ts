import { readdirSync, readFileSync } from 'node:fs';
import { buildFacts, type FactsInput } from '../src/facts/build.ts';
import type { JobFacts } from '../src/facts/facts.ts';
import { resolveJob } from '../src/facts/input/resolve.ts';
import type { RunResult } from '../src/findings/result.ts';
import { discoverJobs } from '../src/job/files/discovery.ts';
import { createLibrary, type Library } from '../src/job/files/library.ts';
import { collectShop } from '../src/job/files/shop.ts';
import { loadReaders, type PreflightInput, preflightWhole } from '../src/preflight.ts';
import { READERS } from '../src/readers.ts';
import { type Source, textSource } from '../src/source/source.ts';
import { memoryAccess } from './memory-access.ts';

/** Files by path, as texts or bytes. */
export type Files = Record<string, string | Uint8Array>;

export const TODAY = '2026-11-25';

/** All readers, loaded. */
export const readers = await loadReaders(
  READERS,
  READERS.map(({ id }) => id),
);

const DATA = new URL('../data/', import.meta.url);

/** What ships with kerflint, read from the repository. */
export function catalogueSources(): Source[] {
  const folders = ['materials', 'machines'].flatMap((folder) =>
    readdirSync(new URL(`${folder}/`, DATA)).map((name) => `${folder}/${name}`),
  );
  return [...folders, 'published-cuts.json'].map((path) =>
    textSource(`kerflint/data/${path}`, readFileSync(new URL(path, DATA), 'utf8')),
  );
}

/** The machine and material files among the files are the shop's, as `--shop` names it. */
export function libraryOf(files: Files, untrusted = false): Library {
  const access = memoryAccess(files);
  const shop = collectShop(access, true);
  return createLibrary({ catalogue: catalogueSources(), shop: shop.sources, untrusted });
}

/** Runs the whole street over files in memory. */
export function run(files: Files, options: Partial<PreflightInput['options']> = {}, paths: string[] = ['']): RunResult {
  const full = { today: TODAY, untrusted: false, ...options };
  const access = memoryAccess(files);
  return preflightWhole({
    jobs: discoverJobs(access, READERS, paths, Object.keys(options).length > 0).jobs,
    library: libraryOf(files, full.untrusted),
    settings: null,
    options: full,
    toolVersion: '0.0.0-test',
    readers,
  }).result;
}

/** The facts of the one job among the files, with more put into what they are built from. */
export function factsOf(
  files: Files,
  options: Partial<PreflightInput['options']> = {},
  more: Partial<FactsInput> = {},
): JobFacts {
  const access = memoryAccess(files);
  const [job] = discoverJobs(access, READERS, [''], Object.keys(options).length > 0).jobs;
  if (!job) throw new Error('no job among the files');
  const resolved = resolveJob(job, libraryOf(files), { untrusted: false, ...options });
  return buildFacts({ ...resolved, budget: null, today: TODAY, readers, ...more });
}

const EXAMPLES = new URL('../examples/', import.meta.url);

/** The files of the demo, by name. */
export function demoFiles(...names: string[]): Files {
  return Object.fromEntries(names.map((name) => [name, readFileSync(new URL(name, EXAMPLES), 'utf8')]));
}

/** The demo's machine, as a shop of one. */
export const shed = (): Files => demoFiles('machines/shed-60w.machine.yaml');
