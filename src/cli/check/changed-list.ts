import { escapeTerminal } from '../../report/escape.ts';
import { UsageError } from '../usage-error.ts';

/** One entry of a list of changed files. */
export interface ChangedEntry {
  /** As listed, unquoted. */
  path: string;
  /** Whether the list says that it was deleted; null where it says nothing of the kind. */
  deleted: boolean | null;
}

const RECIPE = 'Feed it from git: git diff --name-status -z main... | kerflint check --changed-files -';
/** The letters of `git diff --name-status` (git-diff, "--diff-filter"), renames and copies with their likeness in percent. */
const STATUS = /^[ABCDMRTUX]\d{0,3}$/;
const STATUS_AND_TAB = /^([ABCDMRTUX]\d{0,3})\t(.*)$/;

/**
 * The entries of a list of changed files as git writes them: `--name-only` or `--name-status`, with `-z` or line by line, in UTF-8 or,
 * by way of a shell that writes it, UTF-16.
 * @throws UsageError when it is no such list
 */
export function changedList(bytes: Uint8Array): ChangedEntry[] {
  const text = decoded(bytes);
  if (text.includes('\0')) return fieldEntries(text.split('\0').filter((field) => field !== ''));
  const lines = text.split(/\r?\n|\r/).filter((line) => line.trim() !== '');
  for (const line of lines) refuseMessage(line);
  return lines.flatMap(lineEntries);
}

/** What git says when it failed, led into the list by `2>&1` or by a script that goes on. */
function refuseMessage(line: string): void {
  if (!/^(?:fatal|error|usage): /.test(line)) return;
  throw new UsageError(
    `--changed-files holds an error message and no list of files: ${escapeTerminal(line.slice(0, 200))}`,
    'Put that right first; with a shallow clone, fetch the commit that is compared with.',
  );
}

function decoded(bytes: Uint8Array): string {
  const encoding = encodingOf(bytes);
  try {
    return new TextDecoder(encoding, { fatal: true }).decode(bytes);
  } catch {
    throw new UsageError(`--changed-files holds bytes that are not ${encoding.toUpperCase()}.`, RECIPE);
  }
}

/** More zero bytes than this at every other place are no ends of names. */
const MOST_ZEROS = 0.8;

function encodingOf(bytes: Uint8Array): 'utf-8' | 'utf-16le' | 'utf-16be' {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return 'utf-16le';
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return 'utf-16be';
  const zeros = [0, 0];
  for (const [i, byte] of bytes.entries()) if (byte === 0) zeros[i % 2]!++;
  const half = bytes.length / 2;
  if (half >= 4 && zeros[1]! > half * MOST_ZEROS) return 'utf-16le';
  return half >= 4 && zeros[0]! > half * MOST_ZEROS ? 'utf-16be' : 'utf-8';
}

/** Fields parted by NUL: names alone, or letters each followed by its one or two names. */
function fieldEntries(fields: readonly string[]): ChangedEntry[] {
  const [first] = fields;
  if (first !== undefined) refuseMessage(first);
  const entries: ChangedEntry[] = [];
  for (let at = 0; at < fields.length; ) {
    const letter = fields[at]!;
    const count = letter.startsWith('R') || letter.startsWith('C') ? 2 : 1;
    const names = fields.slice(at + 1, at + 1 + count);
    if (!STATUS.test(letter) || names.length < count) return fields.map((path) => ({ path, deleted: null }));
    entries.push(...named(letter, names));
    at += 1 + count;
  }
  return entries;
}

function lineEntries(line: string): ChangedEntry[] {
  const [, letter, rest = ''] = STATUS_AND_TAB.exec(line) ?? [];
  if (letter === undefined) return [{ path: unquoted(line), deleted: null }];
  return named(letter, rest.split('\t').map(unquoted));
}

/** A rename takes its first name away; a copy does not change it. */
function named(letter: string, names: readonly string[]): ChangedEntry[] {
  const [first = '', second] = names;
  if (second === undefined) return [{ path: first, deleted: letter === 'D' }];
  const target: ChangedEntry = { path: second, deleted: false };
  return letter.startsWith('R') ? [{ path: first, deleted: true }, target] : [target];
}

const ESCAPES: Record<string, number> = { a: 7, b: 8, t: 9, n: 10, v: 11, f: 12, r: 13, '"': 34, '\\': 92 };

/** A name as git quotes it where it holds more than plain characters (git-config, core.quotePath); others stay as they are. */
function unquoted(name: string): string {
  const inside = /^"(.*)"$/.exec(name)?.[1];
  if (inside === undefined) return name;
  const bytes: number[] = [];
  for (const [, octal, letter, plain] of inside.matchAll(/\\([0-3][0-7]{2})|\\(.)|([^\\]+)/g)) {
    if (octal !== undefined) bytes.push(Number.parseInt(octal, 8));
    else if (plain !== undefined) bytes.push(...new TextEncoder().encode(plain));
    else if (letter !== undefined && ESCAPES[letter] !== undefined) bytes.push(ESCAPES[letter]);
    else return name;
  }
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(Uint8Array.from(bytes));
  } catch {
    throw new UsageError(
      `--changed-files names ${escapeTerminal(name)}, whose bytes are not UTF-8.`,
      'Rename the file: kerflint cannot open it.',
    );
  }
}
