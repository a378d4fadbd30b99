import { existsSync, lstatSync, readlinkSync, realpathSync } from 'node:fs';
import { basename, dirname, isAbsolute, join, parse, sep } from 'node:path';

/** As many links as systems follow in one path (Linux: MAXSYMLINKS). */
const MOST_LINKS = 40;

/**
 * The first symbolic link on the way to a path that lies below a folder, whether it stands in the path itself or in what another link
 * points to; null when there is none. Both are absolute, the folder is free of links. A way that leads nowhere has no more links.
 */
export function linkBelow(folder: string, path: string): string | null {
  let { root: here } = parse(path);
  const ahead = path.slice(here.length).split(sep);
  for (let links = 0; ahead.length > 0 && links <= MOST_LINKS; ) {
    const name = ahead.shift()!;
    if (name === '' || name === '.') continue;
    if (name === '..') {
      here = dirname(here);
      continue;
    }
    const next = join(here, name);
    if (!lstatSync(next, { throwIfNoEntry: false })?.isSymbolicLink()) {
      here = next;
      continue;
    }
    if (here === folder || here.startsWith(folder.endsWith(sep) ? folder : folder + sep)) return next;
    const target = readlinkSync(next);
    if (isAbsolute(target)) ({ root: here } = parse(target));
    ahead.unshift(...target.slice(isAbsolute(target) ? here.length : 0).split(sep));
    links++;
  }
  return null;
}

/** The real path; of what does not exist yet, below the real path of the nearest folder that does. */
export function withoutLinks(path: string): string {
  if (existsSync(path)) return realpathSync.native(path);
  const above = dirname(path);
  return above === path ? path : join(withoutLinks(above), basename(path));
}
