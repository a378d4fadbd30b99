// Sources and bundles read with TypeScript's own parser, so that comments and texts do not count as code.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import ts from 'typescript';
import { REPOSITORY } from '../cli/harness.ts';

export interface Parsed {
  /** From the top of the repository. */
  path: string;
  tree: ts.SourceFile;
}

export const parse = (path: string): Parsed => ({
  path,
  tree: ts.createSourceFile(path, readFileSync(join(REPOSITORY, path), 'utf8'), ts.ScriptTarget.Latest, true),
});

export function filesIn(folder: string, suffix: string): Parsed[] {
  return readdirSync(join(REPOSITORY, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith(suffix) && !name.endsWith('.d.ts'))
    .sort()
    .map((name) => parse(`${folder}/${name}`));
}

/** All that we wrote and ship. */
export const ownSources = (): Parsed[] => [...filesIn('src', '.ts'), ...filesIn('action', '.ts')];

export function* nodesOf(node: ts.Node): Generator<ts.Node> {
  yield node;
  for (const child of node.getChildren()) yield* nodesOf(child);
}
