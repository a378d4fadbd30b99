// Changes the code in small harmful ways and looks whether a test notices. `npm run mutate -- src/physics` tries 400 changes drawn by a
// seed; `--sample 50`, `--seed 2` and `--at-once 1` set other numbers, and `--again FILE` takes over which of them a test noticed in the
// run that wrote the file (its result, or the lines that it wrote until it was broken off), and tries the others; `--quick` leaves out the
// wider tests. `docs/testing.md` says more.
import { appendFileSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { fileOf } from './change.mjs';
import { roomOf, testsOf } from './rooms.mjs';
import { allMutants, draw, sourceFiles } from './sample.mjs';
import { row } from './score.mjs';
import { Copy } from './trial.mjs';

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
/** A line for each mutant that was tried, for `--again` where the run is broken off. */
const TRIED = join(FOLDER, `${process.pid}.jsonl`);
mkdirSync(FOLDER, { recursive: true });
console.log(`Each that was tried goes to ${TRIED}`);

const lived = ({ status }) => status === 'Survived';
const nameIn = ({ name }) => name;

/** What became of mutants against the tests of each, several tried at once. */
async function attempt(copies, names, testsFor) {
  const left = names.entries();
  const outcomes = [];
  const work = async (copy) => {
    for (const [i, name] of left) {
      const status = await copy.try(name, testsFor(name));
      outcomes[i] = { name, status };
      appendFileSync(TRIED, `${JSON.stringify(outcomes[i])}\n`);
      console.log(
        `${outcomes.filter(Boolean).length} of ${names.length}: ${status} ${name.split('\n')[0].slice(0, 120)}`,
      );
    }
  };
  await Promise.all(copies.map(work));
  return outcomes;
}

/** What became of the mutants: those that near tests let live meet the far ones too, unless a quick look will do. */
async function outcomesOf(copies, names, { nearFor, farFor }) {
  const nearOf = (name) => nearFor(fileOf(name));
  const farOf = (name) => farFor(fileOf(name));
  const all = new Set([...names.flatMap(nearOf), ...(values.quick ? [] : names.flatMap(farOf))]);
  const failed = await copies[0].run([...all]);
  if (failed !== null) throw new Error(`${failed.file} fails as the code stands`);
  const first = await attempt(copies, names, nearOf);
  if (values.quick) return first;
  const second = await attempt(copies, first.filter(lived).map(nameIn), farOf);
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
async function tryAll(copies, path, all) {
  const drawn = draw(all, Number(values.sample), values.seed);
  const before = values.again === undefined ? [] : outcomesIn(values.again);
  const noticed = new Map(before.filter(({ status }) => status === 'Killed').map((one) => [one.name, one]));
  const rest = drawn.filter((name) => !noticed.has(name));
  return [
    ...drawn.flatMap((name) => noticed.get(name) ?? []),
    ...(await outcomesOf(copies, rest, testsOf(roomOf(path)))),
  ];
}

const copies = Array.from({ length: Number(values['at-once']) }, () => new Copy());
for (const signal of ['SIGINT', 'SIGTERM']) {
  process.on(signal, () => {
    for (const copy of copies) copy.remove();
    process.exit(1);
  });
}
try {
  for (const path of positionals) {
    const all = await allMutants(sourceFiles(path));
    const outcomes = await tryAll(copies, path, all);
    const result = { path, all: all.length, seed: Number(values.seed), outcomes };
    const file = join(FOLDER, `${path.replaceAll('/', '-')}-${values.seed}.json`);
    writeFileSync(file, JSON.stringify(result, null, 1));
    const those = outcomes.filter(lived).map(nameIn);
    console.log(`\nThese lived:\n${those.sort().join('\n')}\n\n${row(path, result)}\nAll of it: ${file}`);
  }
} finally {
  for (const copy of copies) copy.remove();
}
