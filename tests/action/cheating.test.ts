// The same tricks as on the command line, through the built action as a runner starts it for a fork's pull request.
import { existsSync, readFileSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { RunResult } from '../../src/findings/result.ts';
import { gained, pullRequest, TRICKS } from '../cli/tricks.ts';
import { bundle, type Step, step } from './runner.ts';

let file: string;
let remove: () => void;
let honest: RunResult;
beforeAll(async () => {
  ({ file, remove } = await bundle());
  const { checkout, shop } = pullRequest();
  const done = await fromFork(checkout, { shop });
  expect(done).toMatchObject({ code: 1, stderr: '' });
  honest = done.result!;
});
afterAll(() => remove());

const FORK = {
  name: 'pull_request',
  payload: { pull_request: { head: { repo: { full_name: 'stranger/tools' } } } },
};

async function fromFork(
  checkout: string,
  inputs: Record<string, string>,
): Promise<Step & { result: RunResult | null }> {
  const done = await step(file, checkout, { 'json-file': 'result.json', ...inputs }, { event: FORK });
  const written = join(checkout, 'result.json');
  return { ...done, result: existsSync(written) ? JSON.parse(readFileSync(written, 'utf8')) : null };
}

describe('a pull request from a fork gains nothing by', () => {
  it.each(TRICKS.map((trick) => [trick.what, trick] as const))('%s', async (_, trick) => {
    const { checkout, shop } = pullRequest();
    trick.bring(checkout);
    const baseline = trick.baseline === undefined ? {} : { baseline: trick.baseline };
    const { code, stderr, outputs, result } = await fromFork(checkout, { shop, ...baseline });
    expect(stderr).toBe('');
    expect([1, 3]).toContain(code);
    expect(outputs['verdict']).not.toBe('pass');
    expect(gained(honest, result!)).toEqual([]);
    expect(result!.summary).toMatchObject({ jobs: 4, waived: 0, baselined: 0 });
  });

  it('a link in place of the shop folder', async () => {
    const { checkout } = pullRequest();
    symlinkSync('machines', join(checkout, 'shop'));
    const { code, log, outputs, result } = await fromFork(checkout, { shop: 'shop' });
    expect({ code, outputs, result }).toEqual({ code: 2, outputs: {}, result: null });
    expect(log).toMatch(/^::error title=kerflint: usage::--shop shop leads through the link /m);
  });
});
