import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { REPOSITORY } from '../cli/harness.ts';
import { NEVER_ENDING_MS } from '../patience.ts';
import { documentedCommands, namesOnly } from './documented-commands.ts';

/**
 * Every command that a document shows is pasted into a shell, with the built command line on the path, in the folder where a reader would
 * paste it. A document's commands run one after the other in a copy of the checkout, as a reader works through them.
 */
const FOLDER: Record<string, string> = {
  'README.md': '.',
  'CONTRIBUTING.md': '.',
  'SECURITY.md': '.',
  'docs/artwork.md': '.',
  'docs/bench.md': 'examples',
  'docs/benchmarks.md': '.',
  'docs/ci.md': '.',
  'docs/compare.md': '.',
  'docs/evidence.md': '.',
  'docs/faults.md': '.',
  'docs/fix.md': '.',
  // The reader begins with an empty folder.
  'docs/first-hour.md': '../empty',
  'docs/machine.md': '.',
  'docs/materials.md': '.',
  'docs/model.md': '.',
  'docs/pictures.md': '.',
  'docs/reply.md': '.',
  'docs/rules.md': '.',
  'docs/sources.md': '.',
  'docs/testing.md': '.',
  'docs/toolpath.md': '.',
  'docs/what-if.md': '.',
};
/** A drawing of the reader's own, as docs/first-hour.md has it: a plant label. */
const LABEL = `<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="24mm" viewBox="0 0 60 24">
  <path id="label" d="M4 4H50L56 12L50 20H4Z" fill="none" stroke="#0c8599" stroke-width="0.2"/>
</svg>
`;

/** Left out of a copy: what a reader's fresh checkout does not have, or what no command needs. */
const NOT_COPIED = /^(?:\.git|node_modules|dist|tests|fixtures|test-results)$/;

const made = mkdtempSync(join(tmpdir(), 'kerflint-docs-'));
const bin = join(made, 'bin');
beforeAll(() => {
  expect(existsSync(join(REPOSITORY, 'dist/kerflint.js')), 'dist/ is there: run "npm run build" first').toBe(true);
  mkdirSync(bin);
  writeFileSync(
    join(bin, 'kerflint'),
    `#!/bin/sh\nexec "${process.execPath}" "${join(REPOSITORY, 'dist/kerflint.js')}" "$@"\n`,
  );
  chmodSync(join(bin, 'kerflint'), 0o755);
});
afterAll(() => rmSync(made, { recursive: true, force: true }));

function paste(command: string, folder: string): { status: number | null; output: string } {
  const done = spawnSync('sh', ['-c', command], {
    cwd: folder,
    encoding: 'utf8',
    timeout: NEVER_ENDING_MS,
    env: { PATH: `${bin}${delimiter}${process.env['PATH'] ?? ''}`, HOME: made, RUNNER_TEMP: made, NO_COLOR: '1' },
  });
  return { status: done.status, output: `${done.stdout}${done.stderr}` };
}

/** What a person does between two commands: cuts the test piece and fills in its results sheet. */
function fillIn(folder: string): void {
  for (const name of readdirSync(folder).filter((each) => each.endsWith('.results.yaml'))) {
    const sheet = readFileSync(join(folder, name), 'utf8');
    const filled = sheet
      .replaceAll(
        /(tongue: (\d+),.*)through: \}/g,
        (_, row, tongue) => `${row}through: ${Number(tongue) <= 6 ? 'yes' : 'no'} }`,
      )
      .replace(/from:(?= *#|$)/m, 'from: 44 mm')
      .replace(/to:(?= *#|$)/m, 'to: 52 mm');
    writeFileSync(join(folder, name), filled);
  }
}

const documents = Object.keys(FOLDER).filter((name) => existsSync(join(REPOSITORY, name)));

it('knows of every document in which folder its reader is', () => {
  const there = ['README.md', 'CONTRIBUTING.md', 'SECURITY.md'].concat(
    readdirSync(join(REPOSITORY, 'docs'))
      .filter((name) => name.endsWith('.md'))
      .map((name) => `docs/${name}`),
  );
  expect(there.sort()).toEqual(documents.toSorted());
});

it('puts kerflint on the path of a terminal as the README says (npm link was tried by hand: it would change the machine)', () => {
  const [alias] = /^alias kerflint=.*$/m.exec(readFileSync(join(REPOSITORY, 'README.md'), 'utf8'))!;
  const done = spawnSync('sh', ['-c', `${alias}\nkerflint rules`], {
    cwd: REPOSITORY,
    encoding: 'utf8',
    timeout: NEVER_ENDING_MS,
  });
  expect([done.status, done.stderr]).toEqual([0, '']);
  expect(done.stdout).toContain('cut/short-of-through');
});

it('reads commands where they stand, with what is said of them', () => {
  const page = [
    'Run `kerflint check\n  .`, or `kerflint init x` <!-- not run: no such file -->; see `kerflint reach` and `git log`.',
    '',
    '    kerflint rules   # all; exits 1',
    '    kerflint rules',
    '',
    '```text',
    'kerflint explain x tells more',
    '```',
    '<!-- exits 2: it is wrong -->',
    '```sh',
    'git diff | kerflint check -',
    'npm ci && node dist/kerflint.js check examples',
    '```',
  ].join('\n');
  expect(documentedCommands(page)).toEqual([
    { line: 1, text: 'kerflint check .', exits: 0, notRun: null },
    { line: 2, text: 'kerflint init x', exits: 0, notRun: 'no such file' },
    { line: 2, text: 'kerflint reach', exits: 0, notRun: null },
    { line: 4, text: 'kerflint rules   # all; exits 1', exits: 1, notRun: null },
    { line: 5, text: 'kerflint rules', exits: 0, notRun: null },
    { line: 12, text: 'git diff | kerflint check -', exits: 2, notRun: null },
    { line: 13, text: 'kerflint check examples', exits: 2, notRun: null },
  ]);
});

describe.each(documents)('%s', (name) => {
  const commands = documentedCommands(readFileSync(join(REPOSITORY, name), 'utf8'));
  const copy = join(made, name.replaceAll('/', '-'), 'kerflint');
  const folder = join(copy, FOLDER[name]!);
  beforeAll(() => {
    if (commands.length === 0) return;
    for (const each of readdirSync(REPOSITORY).filter((entry) => !NOT_COPIED.test(entry)))
      cpSync(join(REPOSITORY, each), join(copy, each), { recursive: true });
    mkdirSync(folder, { recursive: true });
    if (name === 'docs/first-hour.md') writeFileSync(join(folder, 'label.svg'), LABEL);
    spawnSync('sh', ['-c', 'git init -q && git add .'], { cwd: copy });
  });

  it('is read', () => {
    for (const { notRun } of commands) if (notRun !== null) expect(notRun.length).toBeGreaterThan(9);
  });
  const toRun = commands.filter(({ notRun }) => notRun === null);
  if (toRun.length === 0) return;

  it.each(toRun.map((each) => [`${each.text} (line ${each.line})`, each] as const))('%s', (_, command) => {
    const named = namesOnly(command.text);
    if (/\bcalibrate\b/.test(command.text)) fillIn(folder);
    const { status, output } = paste(named === null ? command.text : `kerflint ${named} --help`, folder);
    expect([status, output]).toEqual([command.exits, output]);
  });
});
