import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

let found: { folder: string; version: string } | undefined;

/** The nearest folder above this module that holds our package.json: the same from `src/cli` and from `dist`, which has small ones. */
function ownPackage(): { folder: string; version: string } {
  if (found !== undefined) return found;
  for (let folder = dirname(fileURLToPath(import.meta.url)); ; folder = dirname(folder)) {
    const file = join(folder, 'package.json');
    if (existsSync(file)) {
      const { name, version } = JSON.parse(readFileSync(file, 'utf8')) as { name?: string; version: string };
      if (name === 'kerflint') {
        found = { folder, version };
        return found;
      }
    }
    if (folder === dirname(folder)) throw new Error('the files of the kerflint package are not where its program is');
  }
}

export function packageVersion(): string {
  return ownPackage().version;
}

/** Absolute path of something that ships with kerflint: `data`, `schemas`, `docs/rules`. */
export function packagePath(...parts: string[]): string {
  return join(ownPackage().folder, ...parts);
}
