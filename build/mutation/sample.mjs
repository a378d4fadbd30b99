// Which mutants a run tries: all that Stryker would make of a room's files, in an order drawn by a seed, and of those the first few.
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join, relative } from 'node:path';
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

/** Names a mutant by what it changes, since Stryker's numbers depend on which files and ranges it was given. */
export function nameOf({ fileName, location: { start, end }, mutatorName, replacement }) {
  const place = `${start.line + 1}:${start.column}-${end.line + 1}:${end.column}`;
  return `${fileName}:${place} ${mutatorName} ${replacement}`;
}

/** A result as the instrumenter lists it: Stryker reports whole paths, and counts lines and columns from one. */
export function asListed(result) {
  const back = ({ line, column }) => ({ line: line - 1, column: column - 1 });
  const { start, end } = result.location;
  return {
    ...result,
    fileName: relative(process.cwd(), result.fileName),
    location: { start: back(start), end: back(end) },
  };
}

/** The part of a mutant's name that Stryker understands as a range to mutate. */
export const rangeOf = (name) => name.slice(0, name.indexOf(' '));

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
