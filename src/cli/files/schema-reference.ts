import { realpathSync } from 'node:fs';
import { basename, dirname, isAbsolute, join, relative, sep } from 'node:path';
import { pathToFileURL } from 'node:url';
import { packagePath } from './package-files.ts';

/**
 * The folder of the schemas that ship with kerflint, as the editor line of a file in this folder names it: relative, so that a folder with
 * its own installation can be moved; as an address where that cannot be written. The folder need not be there yet.
 * @param schemas where they are, absolute and without links.
 */
export function schemasFrom(folder: string, schemas = packagePath('schemas')): string {
  const from = relative(realFolder(folder), schemas);
  // Editors take the line up to the first space (memory of how the usual YAML language server reads it), and between drives no path is relative.
  if (isAbsolute(from) || /\s/.test(from)) return pathToFileURL(schemas).href;
  return from.split(sep).join('/');
}

/** The folder without links, as far as it is there: `..` behind a link leads elsewhere than it reads. */
function realFolder(folder: string): string {
  try {
    return realpathSync.native(folder);
  } catch {
    const above = dirname(folder);
    return above === folder ? folder : join(realFolder(above), basename(folder));
  }
}
