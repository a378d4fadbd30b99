// Everything that a stranger can write, through the built action, read back as a runner and a reader of its pages would.
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { RULES } from '../../src/cli/registered-rules.ts';
import { CAUTION } from '../../src/findings/caution.ts';
import type { RunResult } from '../../src/findings/result.ts';
import { demo } from '../cli/harness.ts';
import { actingFiles } from '../hostile/acting.ts';
import { readMarkdown } from '../markdown-reader.ts';
import { readCommands } from '../report/runner-grammar.ts';
import { bundle, heeded, type Step, step } from './runner.ts';

const DOCS = 'https://github.com/allotment/kerflint/blob/v0.1.0/docs/rules/';
const LEVELS: Record<string, string> = { error: 'error', warning: 'warning', notice: 'note' };

let done: Step;
let result: RunResult;
let remove: () => void;

beforeAll(async () => {
  const made = await bundle();
  remove = made.remove;
  const workspace = demo();
  mkdirSync(join(workspace, '.git'));
  mkdirSync(join(workspace, 'sent'));
  for (const [name, content] of Object.entries(actingFiles())) writeFileSync(join(workspace, 'sent', name), content);
  const env = { GITHUB_ACTION_REPOSITORY: 'allotment/kerflint', GITHUB_ACTION_REF: 'v0.1.0' };
  done = await step(made.file, workspace, { 'json-file': 'result.json', 'sarif-file': 'result.sarif' }, { env });
  result = JSON.parse(readFileSync(join(workspace, 'result.json'), 'utf8'));
});
afterAll(() => remove());

/** A text as it can be compared with what is shown of it: without what is shown as an escape, and without the escapes. */
const bare = (text: string) =>
  text.replace(
    /[\p{Cc}\p{Surrogate}\u200e\u200f\u2028-\u202e\u2066-\u2069]|(?<=##)\[|\\x[\da-f]{2}|\\u[\da-f]{4}/gu,
    '',
  );

describe('hostile text, by way of the action,', () => {
  it('is judged, and the run fails', () => {
    expect(done).toMatchObject({ code: 3, stderr: '' });
    expect(result.jobs.length).toBeGreaterThan(30);
    expect(JSON.stringify(result)).toContain('injected');
  });

  it('gives the runner no command but annotations', () => {
    const lines = heeded(done.log).split('\n');
    const commands = readCommands(heeded(done.log));
    expect([...new Set(commands.map((one) => one.command))].sort()).toEqual(['error', 'notice', 'warning']);
    for (const line of lines.filter((one) => !/^::(error|warning|notice) /.test(one)))
      expect(line === CAUTION || /^(kerflint: .*)?$/.test(line), line).toBe(true);
    expect(done.log).not.toMatch(/##\[|[^\n\P{Cc}]|[\u202a-\u202e\u2066-\u2069]/u);
  });

  it('keeps the part of the log that is not heeded closed to its end', () => {
    const tokens = [...done.log.matchAll(/^::stop-commands::(.+)$/gm)].map(([, token]) => token);
    expect(tokens).toHaveLength(1);
    expect(tokens[0]).toMatch(/^[\da-f-]{36}$/);
    expect(done.log.split('\n').filter((line) => line.includes(tokens[0]!))).toHaveLength(2);
    expect(done.log).toContain('injected');
  });

  it('forges no annotation: each is of a finding, with its rule, its level and its place', () => {
    const all = result.jobs.flatMap((job) => job.findings.filter((one) => one.status === 'open'));
    const incomplete = new Set(
      result.jobs.filter((job) => job.verdict === 'incomplete').map((job) => bare(job.sidecar!)),
    );
    const commands = readCommands(heeded(done.log));
    for (const level of Object.keys(LEVELS))
      expect(commands.filter((one) => one.command === level).length).toBeLessThanOrEqual(10);
    for (const { command, properties, data } of commands) {
      const { title = '', file, line } = properties;
      expect(Object.keys(properties).every((key) => /^(title|file|line|col|endLine|endColumn)$/.test(key))).toBe(true);
      expect(data.length).toBeLessThanOrEqual(4096);
      if (title === 'kerflint: not judged') expect(incomplete).toContain(bare(file!));
      else if (file === undefined) expect(title).toMatch(/^kerflint: /);
      else {
        const rule = title.replace(/^kerflint /, '');
        expect(RULES.map((one) => one.id)).toContain(rule);
        const of = all.filter(
          (one) => one.rule === rule && one.severity === LEVELS[command] && bare(one.location.file) === bare(file),
        );
        expect(of.map((one) => one.location.line)).toContain(Number(line));
      }
    }
  });

  it('forges no output', () => {
    expect(Object.keys(done.outputs).sort()).toEqual([
      'errors',
      'expected-waste',
      'headline',
      'sarif-file',
      'verdict',
      'warnings',
    ]);
    expect(done.outputs).toMatchObject({
      verdict: 'incomplete',
      errors: String(result.summary.errors),
      warnings: String(result.summary.warnings),
      'sarif-file': 'result.sarif',
    });
    expect(done.outputs['expected-waste']).toMatch(/^(\d+\.\d\d EUR)?$/);
    expect(done.outputs['headline']).toMatch(/^Not judged: [^\n\p{Cc}]*$/u);
  });

  it('forges no heading, markup or link in the summary', () => {
    const { headings, elements, links } = readMarkdown(done.summary);
    expect(
      elements.filter((one) => !/^(h[23]|p|table|thead|tbody|tr|t[hd]|ul|li|strong|code|pre|br|a)$/.test(one)),
    ).toEqual([]);
    expect(links.filter((link) => !link.startsWith(DOCS))).toEqual([]);
    expect(links.length).toBeGreaterThan(10);
    expect(headings.filter((one) => one.level < 3)).toEqual([
      { level: 2, text: expect.stringMatching(/^kerflint: Not judged: /) },
    ]);
    const told = result.jobs.filter(
      (job) => job.findings.length > 0 || job.incomplete.length > 0 || job.inventedMachine || job.assumed?.length,
    );
    const named = headings.slice(1).filter((one) => !/^(Waived|Not checked|In the baseline)/.test(one.text));
    expect(named.length).toBeLessThanOrEqual(told.length);
    expect(named.length).toBeGreaterThan(10);
  });
});
