import { quoted } from '../../units/quoted.ts';

/** What is wrong with a path that a file of ours names, or null. Only relative paths with `/` are read. */
export function pathProblem(path: string): string | null {
  if (path.includes('\\')) return `${quoted(path)}: write the path with / between folders`;
  if (/^[A-Za-z][A-Za-z0-9+.-]*:/.test(path))
    return `${quoted(path)} is not a relative path: no drive letters and no addresses`;
  if (path.startsWith('/') || path.startsWith('~')) return `${quoted(path)} is not a relative path`;
  return null;
}

/**
 * A path relative to a folder, as a path relative to the root, without `.` and `..`; null when it leaves the root.
 * The root itself is the empty text.
 */
export function joinPath(folder: string, path: string): string | null {
  const parts: string[] = [];
  for (const part of `${folder}/${path}`.split('/')) {
    if (part === '' || part === '.') continue;
    if (part !== '..') parts.push(part);
    else if (parts.pop() === undefined) return null;
  }
  return parts.join('/');
}

/** The folder that holds a path; the root is the empty text. */
export function folderOf(path: string): string {
  const at = path.lastIndexOf('/');
  return at < 0 ? '' : path.slice(0, at);
}

export function baseName(path: string): string {
  return path.slice(path.lastIndexOf('/') + 1);
}

export const JOB_SUFFIX = '.job.yaml';
export const MACHINE_SUFFIX = '.machine.yaml';
export const MATERIAL_SUFFIX = '.material.yaml';
export const BENCH_SUFFIX = '.bench.yaml';
export const EVIDENCE_SUFFIX = '.evidence.yaml';
export const SETTINGS_NAME = '.kerflint.yaml';

/** File name without its folder and suffix. */
export function stem(path: string, suffix: string): string {
  const name = baseName(path);
  return name.endsWith(suffix) ? name.slice(0, -suffix.length) : name;
}
