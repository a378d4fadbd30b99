import { readFileSync } from 'node:fs';
import { bytesSource, type Source, textSource } from '../../src/source/source.ts';

const folder = new URL('../../fixtures/job/', import.meta.url);

/** The text of an example in fixtures/job. */
export function example(name: string): string {
  return readFileSync(new URL(name, folder), 'utf8');
}

export function exampleSource(name: string): Source {
  return bytesSource(name, readFileSync(new URL(name, folder)));
}

/** An example with one thing changed; throws when the text to change is not there, so that a test cannot pass by a slip. */
export function changed(name: string, from: string | RegExp, to: string): Source {
  const text = example(name);
  const result = text.replace(from, to);
  if (result === text) throw new Error(`${name} does not contain ${from}`);
  return textSource(name, result);
}

export const SIDECAR = 'coaster.job.yaml';
export const BENCH = 'bench-60w.bench.yaml';
export const MACHINE = 'bench-60w.machine.yaml';
export const MATERIAL = 'acrylic-cast.material.yaml';
