import { cpSync, existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../src/cli/registered-rules.ts';
import type { Rule } from '../../src/rules/rule.ts';
import { folder, kerflint, REPOSITORY } from '../cli/harness.ts';
import { TODAY } from '../memory-shop.ts';
import { type Answer, answerOf, answerText } from './answer.ts';

/**
 * Every rule on files, through the command line's own entry. `fixtures/rules/<area>/<rule>/<case>/` holds the files of a case: `bad…`
 * must be found, `ok…` is the nearest file that must stay silent. A case is judged in a copy of `fixtures/rules/shop` with its own
 * files laid over it; `arguments.txt` holds what follows `check`, one argument a line (left out: `.`). `expected.txt` is what the rule
 * said; UPDATE_FIXTURES=1 writes what it says now: read the difference before it is committed.
 */
const FIXTURES = join(REPOSITORY, 'fixtures/rules');
const OUTSIDE_THE_JOB = ['arguments.txt', 'expected.txt'];

interface Case {
  rule: Rule;
  name: string;
  path: string;
}

const foldersIn = (path: string): string[] =>
  existsSync(path)
    ? readdirSync(path, { withFileTypes: true }).flatMap((one) => (one.isDirectory() ? [one.name] : []))
    : [];

const cases: Case[] = RULES.flatMap((rule) =>
  foldersIn(join(FIXTURES, rule.id)).map((name) => ({ rule, name, path: join(FIXTURES, rule.id, name) })),
);

/** Runs a case as it stands, or without the settings that it brings. */
async function run(one: Case, withSettings = true): Promise<Answer> {
  const cwd = folder();
  cpSync(join(FIXTURES, 'shop'), cwd, { recursive: true });
  const leftOut = withSettings ? OUTSIDE_THE_JOB : [...OUTSIDE_THE_JOB, '.kerflint.yaml'];
  for (const name of readdirSync(one.path)) {
    if (!leftOut.includes(name)) cpSync(join(one.path, name), join(cwd, name), { recursive: true });
  }
  const argv = ['check', ...argumentsOf(one), '--today', TODAY, '--format', 'json'];
  const { code, stdout, stderr } = await kerflint(cwd, argv);
  rmSync(cwd, { recursive: true });
  if (code === 2) throw new Error(stderr);
  return answerOf(one.rule, code, JSON.parse(stdout));
}

function argumentsOf(one: Case): string[] {
  const file = join(one.path, 'arguments.txt');
  return existsSync(file)
    ? readFileSync(file, 'utf8')
        .split('\n')
        .filter((line) => line !== '')
    : ['.'];
}

const answers = new Map<Case, Answer>();

describe('rules on files', () => {
  it.each(cases)('$rule.id: $name', async (one) => {
    const answer = await run(one);
    answers.set(one, answer);
    const file = join(one.path, 'expected.txt');
    const text = answerText(answer);
    if (process.env['UPDATE_FIXTURES'] === '1') writeFileSync(file, text);
    expect(existsSync(file), `${file} is missing: UPDATE_FIXTURES=1 writes it`).toBe(true);
    expect(text).toBe(readFileSync(file, 'utf8'));
    if (one.name.startsWith('ok')) expect(answer.findings).toEqual([]);
    else expect(answer.findings).not.toEqual([]);
  });

  it('has cases named bad… or ok… only', () => {
    expect(cases.filter(({ name }) => !/^(bad|ok)(-[a-z0-9-]+)?$/.test(name))).toEqual([]);
  });

  it.each(RULES)('$id fires on a file, and stays silent on one beside it', ({ id }) => {
    const names = cases.filter(({ rule }) => rule.id === id).map(({ name }) => name);
    expect(names).toEqual(expect.arrayContaining(['bad', 'ok']));
  });

  it.each(RULES)('$id says each of its messages of some file', ({ id, messages }) => {
    const said = findingsOf(id).flatMap(({ messageIds }) => messageIds);
    expect([...new Set(said)].sort()).toEqual(Object.keys(messages).sort());
  });

  it.each(RULES)('$id shows on its page what it says of a file', ({ id, example }) => {
    expect(findingsOf(id).map(({ message }) => message)).toContain(example);
  });

  const options = RULES.flatMap(({ id, options }) => Object.keys(options).map((option) => ({ id, option })));
  it.each(options)('$id: the option $option changes an answer', async ({ id, option }) => {
    const own = cases.filter(({ rule, name }) => rule.id === id && name.endsWith(`-option-${option}`));
    expect(own, `a case named bad-option-${option} or ok-option-${option}`).not.toEqual([]);
    for (const one of own) expect(answerText(await run(one))).not.toBe(answerText(await run(one, false)));
  });
});

const findingsOf = (id: string) =>
  cases.filter(({ rule }) => rule.id === id).flatMap((one) => answers.get(one)?.findings ?? []);
