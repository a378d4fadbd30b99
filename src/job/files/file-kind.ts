import type { Reader } from '../../model/reader.ts';
import { kindByHead, kindByName, UNCERTAIN_HEAD_BYTES, uncertainReaders } from '../../model/reader-choice.ts';
import { firstBytes, type Source, SourceUnreadable } from '../../source/source.ts';
import { baseName, JOB_SUFFIX, SETTINGS_NAME } from './paths.ts';

/** Of a file that is named on the command line so much is looked at to tell what it is; programs begin with long comments. */
const NAMED_HEAD_BYTES = 64 * 1024;

/** What a file is: part of a job, or why it is none. */
export type FileKind =
  | { is: Reader['makes'] | 'sidecar' | 'profile' | 'odd-sidecar' | 'nothing' }
  /** A profile or settings by the look of its name, which is not quite the one that is read. */
  | { is: 'odd-profile'; reason: string }
  /** A drawing that no reader reads; `makes` when saved otherwise. */
  | { is: 'other-drawing'; reason: string; makes: 'artwork' | null }
  /** It might be a toolpath or artwork, and its bytes cannot be had. */
  | { is: 'unreadable'; reason: string };

/** Drawings and documents that shapes come in and that no reader of ours reads, by extension. */
const OTHER_DRAWINGS = new Set(
  '3mf ai cdr dwf dwg dxf emf eps fcstd fig fodg hpg hpgl iges igs odg pdf plt ps psd scad sldprt step stl stp vsdx wmf xcf xps'.split(
    ' ',
  ),
);
const NOT_READ = 'not read: export as SVG or G-code';
const APPLE_DOUBLE = [0, 5, 0x16, 7];
const COMPRESSED = 'compressed SVG, not read: save as plain SVG';

/**
 * What a file found in a folder is: by its name or, where files of many kinds bear such a name, by its first bytes.
 * `open` is called only then.
 */
export function kindInFolder(readers: readonly Reader[], path: string, open: () => Source): FileKind {
  if (baseName(path).startsWith('._') && isAppleDouble(open())) return { is: 'nothing' };
  const kind = kindOfName(readers, path);
  const candidates = kind.is === 'nothing' ? uncertainReaders(readers, path) : [];
  if (candidates.length === 0) return kind;
  return byHead(
    open(),
    UNCERTAIN_HEAD_BYTES,
    (head) => candidates.find((one) => one.uncertain?.tells(head))?.makes ?? null,
  );
}

/** What a file named by a person is: by its name, or else by what it holds, whatever its name. */
export function kindWhenNamed(readers: readonly Reader[], path: string, open: () => Source): FileKind {
  const kind = kindOfName(readers, path);
  return kind.is === 'nothing' ? byHead(open(), NAMED_HEAD_BYTES, (head) => kindByHead(readers, head)) : kind;
}

/** What a file is by its name alone. */
export function kindOfName(readers: readonly Reader[], path: string): FileKind {
  if (path.endsWith(JOB_SUFFIX)) return { is: 'sidecar' };
  const makes = kindByName(readers, path);
  if (makes !== null) return { is: makes };
  const name = baseName(path).toLowerCase();
  const ours = /\.(job|machine|bench|material|kerflint)\.ya?ml$/.exec(name);
  if (ours !== null) return kindOfOurs(path, ours[1]!);
  const extension = name.slice(name.lastIndexOf('.') + 1);
  if (extension === 'svgz') return { is: 'other-drawing', reason: COMPRESSED, makes: 'artwork' };
  if (OTHER_DRAWINGS.has(extension)) return { is: 'other-drawing', reason: NOT_READ, makes: null };
  return { is: 'nothing' };
}

/** A file that people write for us, by the word in its name. */
function kindOfOurs(path: string, word: string): FileKind {
  if (word === 'job') return { is: 'odd-sidecar' };
  if ([`.${word}.yaml`, SETTINGS_NAME].some((end) => path.endsWith(end))) return { is: 'profile' };
  const end = word === 'kerflint' ? `is ${SETTINGS_NAME}` : `ends in .${word}.yaml`;
  const what = { kerflint: 'settings', bench: "a machine's bench file" }[word] ?? `a ${word} profile`;
  return { is: 'odd-profile', reason: `looks like ${what}, whose name ${end}, and is not read: rename it` };
}

/** What macOS writes beside `gate.gcode` as `._gate.gcode` on a stick: AppleDouble, by its magic number (RFC 1740 appendix A). */
function isAppleDouble(source: Source): boolean {
  const head = headOf(source, APPLE_DOUBLE.length);
  return head instanceof Uint8Array && APPLE_DOUBLE.every((byte, i) => head[i] === byte);
}

function byHead(source: Source, most: number, tell: (head: Uint8Array) => Reader['makes'] | null): FileKind {
  const head = headOf(source, most);
  return head instanceof Uint8Array ? { is: tell(head) ?? 'nothing' } : { is: 'unreadable', reason: head.reason };
}

function headOf(source: Source, most: number): Uint8Array | SourceUnreadable {
  try {
    return firstBytes(source, most);
  } catch (error) {
    if (error instanceof SourceUnreadable) return error;
    throw error;
  }
}
