// The promise: a job is "found no error" only if for every stretch that is meant to part the sheet the question "does it part?" was
// answered, and everything that can fire the beam or move the head was followed. Two tables hold it, through the command line and the built
// action, of trusted files and of a stranger's: small jobs that say too little, and ordinary ones. The jobs are invented.
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { RunResult } from '../../src/findings/result.ts';
import { bundle, step } from '../action/runner.ts';
import { folder, kerflint } from '../cli/harness.ts';
import { demoFiles, TODAY } from '../memory-shop.ts';
import { ORDINARY } from './ordinary-jobs.ts';
import type { SmallJob } from './small-jobs.ts';
import { UNANSWERED } from './unanswered-jobs.ts';

const SHOP = demoFiles('machines/shed-60w.machine.yaml');
const HOW = ['trusted', 'untrusted'] as const;
type How = (typeof HOW)[number];

/** What a run came to: null where it was refused before there was a result. */
interface Outcome {
  code: number | null;
  verdict: string | null;
  text: string;
}

/** The files of the job in a checkout, and the shop's beside it. */
function laidOut(job: SmallJob): { cwd: string; shop: string } {
  const cwd = folder({ ...job.files, '.git/HEAD': 'ref: refs/heads/main\n' });
  job.prepare?.(cwd);
  return { cwd, shop: folder(SHOP) };
}

async function onTheCommandLine(job: SmallJob, how: How): Promise<Outcome> {
  const { cwd, shop } = laidOut(job);
  const options = Object.entries(job.options ?? {}).flatMap(([name, value]) => [`--${name}`, value]);
  const trust = how === 'untrusted' ? ['--untrusted'] : [];
  const argv = ['check', ...(job.paths ?? ['.']), '--shop', shop, '--today', TODAY, ...trust, ...options];
  const json = await kerflint(cwd, [...argv, '--format', 'json']);
  const text = await kerflint(cwd, argv);
  const quiet = await kerflint(cwd, [...argv, '--quiet']);
  expect([text.code, quiet.code]).toEqual([json.code, json.code]);
  const result = json.code === 2 ? null : (JSON.parse(json.stdout) as RunResult);
  return { code: json.code, verdict: result?.verdict ?? null, text: text.stdout };
}

let file: string;
let remove: () => void;
beforeAll(async () => {
  ({ file, remove } = await bundle());
});
afterAll(() => remove());

async function inTheAction(job: SmallJob, how: How): Promise<Outcome> {
  const { cwd, shop } = laidOut(job);
  const inputs = {
    ...job.options,
    paths: (job.paths ?? ['.']).join('\n'),
    shop,
    untrusted: String(how === 'untrusted'),
  };
  const done = await step(file, cwd, { ...inputs, 'json-file': 'result.json' });
  const written = join(cwd, 'result.json');
  const result = existsSync(written) ? (JSON.parse(readFileSync(written, 'utf8')) as RunResult) : null;
  expect(done.outputs['verdict'] ?? null).toBe(result?.verdict ?? null);
  return { code: done.code, verdict: result?.verdict ?? null, text: done.summary };
}

const WAYS = [
  ['on the command line', onTheCommandLine],
  ['in the action', inTheAction],
] as const;

const rows = (jobs: readonly SmallJob[]) =>
  jobs.flatMap((job) =>
    HOW.filter((how) => job.only === undefined || job.only === how).map((how) => ({ ...job, how, job })),
  );

describe.each(WAYS)('%s', (_, outcomeOf) => {
  describe.each(Object.entries(UNANSWERED))('no green for %s', (_what, jobs) => {
    it.each(rows(jobs))('$it ($how)', async ({ job, how }) => {
      const { code, verdict, text } = await outcomeOf(job, how);
      expect(code).not.toBe(0);
      expect(verdict).not.toBe('pass');
      expect(text).not.toMatch(/^\W*found no error/im);
    });
  });

  describe('an ordinary job is judged', () => {
    it.each(rows(ORDINARY))('$it ($how)', async ({ job, how }) => {
      const { code, verdict, text } = await outcomeOf(job, how);
      expect({ code, verdict, text: code === 0 ? '' : text }).toEqual({ code: 0, verdict: 'pass', text: '' });
    });
  });
});

it('holds at least 60 jobs that say too little, and 40 ordinary ones', () => {
  expect(Object.values(UNANSWERED).flat().length).toBeGreaterThanOrEqual(60);
  expect(ORDINARY.length).toBeGreaterThanOrEqual(40);
});
