// Changes the code in small harmful ways and looks whether a test notices. `npm run mutate -- src/physics` tries 400 changes drawn by a
// seed; `--sample 50`, `--seed 2` and `--at-once 1` set other numbers, and `--again FILE` takes over which of them a test noticed in the
// run that wrote the file (its result, or the lines that it wrote until it was broken off), and tries the others; `--quick` leaves out the
// wider tests. `docs/testing.md` says more.
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { Stryker } from '@stryker-mutator/core';
import { roomOf, testsOf } from './rooms.mjs';
import { allMutants, asListed, draw, nameOf, rangeOf, sourceFiles } from './sample.mjs';
import { row } from './score.mjs';

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    sample: { type: 'string', default: '400' },
    seed: { type: 'string', default: '1' },
    'at-once': { type: 'string', default: '2' },
    again: { type: 'string' },
    quick: { type: 'boolean', default: false },
  },
});
if (positionals.length === 0) {
  console.error('Say which folder or file to change, for example: npm run mutate -- src/physics');
  process.exit(2);
}

const FOLDER = join(tmpdir(), 'kerflint-mutants');
const LIST = join(FOLDER, `${process.pid}.json`);
/** A line for each mutant that was tried, for `--again` where the run is broken off. */
const TRIED = join(FOLDER, `${process.pid}.jsonl`);
mkdirSync(FOLDER, { recursive: true });
console.log(`Each that was tried goes to ${TRIED}`);

/** Lets Stryker try the mutants of these names against tests, and says what became of each. */
async function attempt(names, tests) {
  if (names.length === 0) return [];
  writeFileSync(LIST, JSON.stringify(names));
  process.env.KERFLINT_MUTANTS = LIST;
  process.env.KERFLINT_MUTANTS_TRIED = TRIED;
  // By vitest's own list: with Stryker's `testFiles`, mutants of what is worked out on loading would never be switched on.
  process.env.KERFLINT_MUTANT_TESTS = JSON.stringify(tests);
  const results = await new Stryker({
    testRunner: 'vitest-whole',
    vitest: { configFile: 'build/mutation/vitest.config.ts', related: false },
    plugins: ['@stryker-mutator/vitest-runner', join(process.cwd(), 'build/mutation/plugins.mjs')],
    checkers: ['only-chosen'],
    mutate: [...new Set(names.map(rangeOf))],
    // Of the root alone: rooms have folders of such names too.
    ignorePatterns: ['/.ci', '/.github', '/action', '/bench', '/out'],
    reporters: ['progress', 'writes-down'],
    concurrency: Number(values['at-once']),
    // By the clock, which a busy machine stretches: much room, so that what is counted as hanging does hang.
    timeoutMS: 60_000,
    timeoutFactor: 5,
    dryRunTimeoutMinutes: 60,
    cleanTempDir: 'always',
    tempDirName: `.stryker-tmp-${process.pid}`,
    allowConsoleColors: false,
  }).runMutationTest();
  const outcomes = new Map(results.map((one) => [nameOf(asListed(one)), one.status]));
  return names.map((name) => {
    const status = outcomes.get(name);
    if (status === undefined || status === 'CompileError') throw new Error(`Stryker did not try ${name}`);
    return { name, status };
  });
}

const lived = ({ status }) => status === 'Survived' || status === 'NoCoverage';
const nameIn = ({ name }) => name;

/** What became of the mutants: those that near tests let live meet the far ones too, unless a quick look will do. */
async function outcomesOf(names, { near, far, hot }) {
  const isHot = (name) => hot !== undefined && name.startsWith(hot);
  const apart = async (some, tests) => [
    ...(await attempt(
      some.filter((name) => !isHot(name)),
      tests,
    )),
    ...(await attempt(some.filter(isHot), tests)),
  ];
  const first = await apart(names, near);
  if (values.quick) return first;
  const second = await apart(first.filter(lived).map(nameIn), far);
  const later = new Map(second.map((one) => [one.name, one]));
  return first.map((one) => later.get(one.name) ?? one);
}

/** What a run found: its result, or the lines that it wrote until it was broken off. */
function outcomesIn(file) {
  const text = readFileSync(file, 'utf8');
  if (!file.endsWith('.jsonl')) return JSON.parse(text).outcomes;
  return text
    .trimEnd()
    .split('\n')
    .map((line) => JSON.parse(line));
}

/** What became of those drawn. Of a run before this one it is taken over which of them some test noticed. */
async function tryAll(path, all) {
  const drawn = draw(all, Number(values.sample), values.seed);
  const before = values.again === undefined ? [] : outcomesIn(values.again);
  const noticed = new Map(before.filter((one) => !lived(one)).map((one) => [one.name, one]));
  const rest = drawn.filter((name) => !noticed.has(name));
  return [...drawn.flatMap((name) => noticed.get(name) ?? []), ...(await outcomesOf(rest, testsOf(roomOf(path))))];
}

for (const path of positionals) {
  const all = await allMutants(sourceFiles(path));
  const outcomes = await tryAll(path, all);
  const result = { path, all: all.length, seed: Number(values.seed), outcomes };
  const file = join(FOLDER, `${path.replaceAll('/', '-')}-${values.seed}.json`);
  writeFileSync(file, JSON.stringify(result, null, 1));
  const those = outcomes.filter(lived).map(({ name, status }) => `${status} ${name}`);
  console.log(`\nThese lived:\n${those.sort().join('\n')}\n\n${row(path, result)}\nAll of it: ${file}`);
}
