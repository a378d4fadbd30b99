import { realpathSync, statSync } from 'node:fs';
import { basename, dirname, relative, resolve } from 'node:path';
import { nameKey } from '../../job/files/name-key.ts';
import { MACHINE_SUFFIX, MATERIAL_SUFFIX, stem } from '../../job/files/paths.ts';
import { escapeTerminal } from '../../report/escape.ts';
import type { Source } from '../../source/source.ts';
import { allAtOnce, UsageError } from '../usage-error.ts';
import { folderAccess, isWithin, slashed } from './files.ts';

/** What `--machine` and `--material` say: each an id, or a file. */
export interface NamedProfiles {
  machine?: string;
  material?: string;
}

export type ProfileKind = keyof NamedProfiles;

const SUFFIXES: Record<ProfileKind, string> = { machine: MACHINE_SUFFIX, material: MATERIAL_SUFFIX };

/** Whether an option names a file: it holds a `/` or `\`, or ends as YAML files do. */
export function namesFile(named: string): boolean {
  return /[\\/]|\.ya?ml$/i.test(named);
}

/** The id behind an option: that of the file where it names one, since a file's name carries it. */
export function idBehind(kind: ProfileKind, named: string): string {
  return namesFile(named) ? stem(named.replaceAll('\\', '/'), SUFFIXES[kind]) : named;
}

/** The same options with an id in the place of each file. */
export function withIds<T extends NamedProfiles>(options: T): T {
  const ids: NamedProfiles = {};
  for (const kind of ['machine', 'material'] as const) {
    const named = options[kind];
    if (named !== undefined) ids[kind] = idBehind(kind, named);
  }
  return { ...options, ...ids };
}

/** Where files may be named from. */
export interface NamedWhere {
  /** Absolute: paths as typed begin there. */
  cwd: string;
  /** Absolute: names of sources begin there. */
  root: string;
  /** As typed. */
  shop: string | null;
  untrusted: boolean;
  /** As in {@link folderAccess}. */
  remember?: boolean | undefined;
}

/**
 * The shop's sources with the files that the options name. A file goes before what the shop has under its id: whoever names it means it.
 * @throws UsageError for all that are no such file, or under `--untrusted` not inside `--shop`
 */
export function withNamedFiles(sources: readonly Source[], named: NamedProfiles, where: NamedWhere): Source[] {
  const files = allAtOnce(
    (['machine', 'material'] as const).map((kind) => () => {
      const typed = named[kind];
      return typed === undefined || !namesFile(typed) ? null : { kind, source: fileNamed(kind, typed, where) };
    }),
  ).flatMap((file) => file ?? []);
  const keyOf = (kind: ProfileKind, name: string) => nameKey(stem(name, SUFFIXES[kind]));
  const replaced = (name: string) =>
    files.some(({ kind, source }) => name.endsWith(SUFFIXES[kind]) && keyOf(kind, name) === keyOf(kind, source.name));
  return [...sources.filter(({ name }) => !replaced(name)), ...files.map(({ source }) => source)];
}

function fileNamed(kind: ProfileKind, typed: string, where: NamedWhere): Source {
  const said = `--${kind} ${escapeTerminal(typed)}`;
  const path = resolve(where.cwd, typed);
  if (!statSync(path, { throwIfNoEntry: false })?.isFile()) {
    throw new UsageError(`${said} is no file.`, `Name a *${SUFFIXES[kind]}, or a ${kind} by its id.`);
  }
  if (!path.endsWith(SUFFIXES[kind])) {
    throw new UsageError(
      `${said} is no *${SUFFIXES[kind]}.`,
      `Call it <id>${SUFFIXES[kind]}, by the id that it states.`,
    );
  }
  const real = realpathSync.native(path);
  if (
    where.untrusted &&
    !(where.shop !== null && isWithin(real, realpathSync.native(resolve(where.cwd, where.shop))))
  ) {
    throw new UsageError(
      `${said} does not lie inside --shop.`,
      'With --untrusted only what lies in the folder of --shop is trusted, by its path without links.',
    );
  }
  const source = folderAccess(dirname(real), { remember: where.remember }).open(basename(real));
  return { ...source, name: slashed(relative(where.root, path)) };
}
