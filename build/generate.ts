import { commandOutputs } from './command-outputs.ts';
import { faultPage } from './fault-page.ts';
import { jsonSchemas } from './json-schemas.ts';
import { machinePage } from './machine-page.ts';
import { pictures } from './pictures.ts';
import { rulePages } from './rule-pages.ts';

/** Path relative to the repository's root → its whole text. */
export type Generated = Map<string, string>;

/** One kind of generated file; add a line for a new kind. */
const generators: (() => Generated | Promise<Generated>)[] = [
  jsonSchemas,
  rulePages,
  faultPage,
  machinePage,
  commandOutputs,
  pictures,
];

export async function generated(): Promise<Generated> {
  const all: Generated = new Map();
  for (const generate of generators) {
    for (const [path, text] of await generate()) all.set(path, text);
  }
  return all;
}
