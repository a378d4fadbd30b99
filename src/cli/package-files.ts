import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

let found: { folder: string; version: string } | undefined;

/** The nearest folder above this module that holds our package.json: the same from `src/cli` and from `dist`. */
function ownPackage(): { folder: string; version: string } {
  if (found !== undefined) return found;
  let folder = dirname(fileURLToPath(import.meta.url));
  while (!existsSync(join(folder, 'package.json'))) {
    const above = dirname(folder);
    if (above === folder) throw new Error('the files of the kerflint package are not where its program is');
    folder = above;
  }
  const { version } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8')) as { version: string };
  found = { folder, version };
  return found;
}

export function packageVersion(): string {
  return ownPackage().version;
}

/** Absolute path of something that ships with kerflint: `data`, `schemas`, `docs/rules`. */
export function packagePath(...parts: string[]): string {
  return join(ownPackage().folder, ...parts);
}
