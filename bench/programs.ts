import { closeSync, existsSync, openSync, statSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** A stream of pseudo-random numbers, 0 ≤ x < 1, the same on every run. */
function numbers(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

/** Writes lines until the file has `megabytes`; an existing one of that size is used again. */
function write(name: string, megabytes: number, lines: Iterable<string>): string {
  const path = join(tmpdir(), `kerflint-bench-${name}-${megabytes}.gcode`);
  const size = megabytes * 1e6;
  if (existsSync(path) && statSync(path).size >= size) return path;
  const file = openSync(path, 'w');
  let written = 0;
  let batch: string[] = [];
  let pending = 0;
  for (const line of lines) {
    batch.push(line);
    pending += line.length + 1;
    if (pending < 1 << 20) continue;
    written += writeSync(file, `${batch.join('\n')}\n`);
    batch = [];
    pending = 0;
    if (written >= size) break;
  }
  closeSync(file);
  return path;
}

function* raster(): Generator<string> {
  const next = numbers(1);
  yield* ['G21 G90', 'M4 S0', 'F12000'];
  for (let row = 0; ; row++) {
    const forth = row % 2 === 0;
    yield `G0 X${forth ? 5 : 395} Y${(10 + (row % 3000) * 0.1).toFixed(1)}`;
    yield `G1 X${forth ? 10 : 390} S0`;
    for (let pixel = 1; pixel <= 3800; pixel++) {
      const x = forth ? 10 + pixel * 0.1 : 390 - pixel * 0.1;
      yield `X${x.toFixed(1)}S${Math.floor(next() * 1000)}`;
    }
    yield `X${forth ? 395 : 5} S0`;
  }
}

function* vector(): Generator<string> {
  const next = numbers(2);
  yield* ['G21 G90', 'M3 S0', 'F900'];
  for (;;) {
    const x = 20 + next() * 500;
    const y = 20 + next() * 300;
    yield `G0 X${x.toFixed(3)} Y${y.toFixed(3)}`;
    yield `G1 X${(x + 2).toFixed(3)} Y${y.toFixed(3)} S800`;
    for (let k = 1; k < 40; k++) {
      const angle = k * 0.15;
      yield `G1 X${(x + 2 * Math.cos(angle) + k * 0.01).toFixed(3)} Y${(y + 2 * Math.sin(angle)).toFixed(3)}`;
    }
    yield `G2 X${(x + 4).toFixed(3)} Y${y.toFixed(3)} I2 J0.1`;
  }
}

/** Path of a raster engraving in which S changes with each move. */
export function rasterFile(megabytes: number): string {
  return write('raster', megabytes, raster());
}

/** Path of a program of short lines and arcs. */
export function vectorFile(megabytes: number): string {
  return write('vector', megabytes, vector());
}

/** What a bare program is checked with. */
export const checkOptions = (thickness: string): string[] => [
  '--shop',
  'examples',
  '--machine',
  'shed-60w',
  '--material',
  'birch-plywood',
  '--thickness',
  thickness,
];
