// Which mutants a run tries: all that Stryker would make of a room's files, in an order drawn by a seed, and of those the first few.
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { Instrumenter } from '@stryker-mutator/instrumenter';

/** Stryker's instrumenter asks for a log; what it says while it only lists is of no interest. */
const SILENT = new Proxy({}, { get: () => () => false });

/** The TypeScript files of a folder and all below it, or the file itself, sorted so that every machine lists alike. */
export function sourceFiles(path) {
  if (statSync(path).isFile()) return [path];
  return readdirSync(path, { recursive: true })
    .filter((name) => name.endsWith('.ts') && !name.endsWith('.d.ts'))
    .map((name) => join(path, name))
    .sort();
}

/** Names a mutant by what it changes: the file, from where to where, the kind of change, and what stands there then. */
function nameOf({ fileName, location: { start, end }, mutatorName, replacement }) {
  const place = `${start.line + 1}:${start.column}-${end.line + 1}:${end.column}`;
  return `${fileName}:${place} ${mutatorName} ${replacement}`;
}

/** The names of all mutants of these files. */
export async function allMutants(files) {
  const sources = files.map((name) => ({ name, content: readFileSync(name, 'utf8'), mutate: true }));
  const options = { plugins: null, excludedMutations: [], ignorers: [] };
  const { mutants } = await new Instrumenter(SILENT).instrument(sources, options);
  return mutants.map(nameOf);
}

/**
 * As many of the names as are asked for, drawn by the seed. Each name is placed by the hash of itself and the seed, so that a change
 * of one file leaves the draw among the others as it was.
 */
export function draw(names, count, seed) {
  const rank = (name) => createHash('sha256').update(`${seed} ${name}`).digest('hex');
  const ranked = [...new Set(names)].map((name) => [rank(name), name]);
  ranked.sort(([a], [b]) => (a < b ? -1 : 1));
  return ranked.slice(0, count).map(([, name]) => name);
}
