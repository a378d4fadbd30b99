import type { Reader } from '../../model/reader.ts';
import { formatsInWords } from '../../model/reader-choice.ts';
import { formatCount } from '../../units/format.ts';
import { inARow } from '../../units/in-a-row.ts';
import type { Sidecar } from '../model.ts';
import { byCodeUnit, type FileAccess, type Stat } from './access.ts';
import type { Excluded } from './exclude.ts';
import { type FileKind, kindWhenNamed } from './file-kind.ts';
import { type FolderFiles, filesOfFolder } from './folder-files.ts';
import { type FoundJob, JobOpener } from './job-opener.ts';
import { type LeftOut, NOTHING_PASSED_BY, type PassedBy, REASONS } from './left-out.ts';
import { baseName, folderOf, JOB_SUFFIX, joinPath } from './paths.ts';

export interface Discovery {
  /** In code-unit order of their names, each once. */
  jobs: FoundJob[];
  /** What in the given folders was not judged, each with its reason, in code-unit order of the paths. */
  leftOut: LeftOut[];
  passedBy: PassedBy;
  /** Arguments that do not exist or match nothing, each with a sentence; they end a run. */
  unmatched: { path: string; text: string }[];
}

/**
 * The jobs behind the arguments of a run, in files that one of the readers reads. A folder gives all sidecars below it; a bare file
 * gives the sidecars beside it that name it, or a job of its own; a machine, bench or material file, or the settings, give all jobs
 * below the root, since any of them may rest on it. Paths are relative to the root; `bareInFolders` makes jobs of the
 * folders' files that no sidecar names, too. What is `excluded` makes no job of its own; a sidecar may still name it.
 */
export function discoverJobs(
  access: FileAccess,
  readers: readonly Reader[],
  paths: readonly string[],
  bareInFolders: boolean,
  excluded: Excluded = () => false,
): Discovery {
  const search = new Search(access, readers, excluded);
  for (const path of paths) search.argument(path);
  return search.result(bareInFolders);
}

/** One search: what the arguments gave so far. */
class Search {
  readonly #access: FileAccess;
  readonly #readers: readonly Reader[];
  readonly #excluded: Excluded;
  readonly #opener: JobOpener;
  readonly #jobs = new Map<string, FoundJob>();
  /** Files of folders that are jobs of their own unless a sidecar names them. */
  readonly #loose = new Map<string, Reader['makes']>();
  readonly #folders: FolderFiles[] = [];
  readonly #unmatched: Discovery['unmatched'] = [];

  constructor(access: FileAccess, readers: readonly Reader[], excluded: Excluded) {
    this.#access = access;
    this.#readers = readers;
    this.#excluded = excluded;
    this.#opener = new JobOpener(access, readers);
  }

  argument(path: string): void {
    const stat = this.#access.stat(path);
    const refusal = this.#whyNot(path, stat);
    if (refusal !== null) this.#refuse(path, refusal);
    else if (stat?.kind === 'folder') this.#folder(path);
    else this.#file(path);
  }

  #whyNot(path: string, stat: Stat | null): string | null {
    if (stat === null) return 'does not exist';
    if (stat.leavesRoot) return 'is a link that leads outside the root';
    return path !== '' && this.#excluded(path) ? 'is excluded by the settings' : null;
  }

  /** A profile or settings may have no job yet; a folder that is named and has none is a mistake. */
  #folder(path: string, empty: 'is wrong' | 'may be empty' = 'is wrong'): void {
    const files = filesOfFolder(this.#access, this.#readers, path, this.#excluded);
    if (files.cutShortAt !== null) {
      this.#refuse(
        path,
        `holds too many files: name a folder further down (from ${files.cutShortAt} on it was not walked)`,
      );
      return;
    }
    const unjudged = files.leftOut.some(({ weighs }) => weighs !== 'never') || files.hidden.size > 0;
    if (empty === 'is wrong' && files.sidecars.length === 0 && files.loose.size === 0 && !unjudged)
      this.#refuse(path, this.#holdsNothing(files));
    for (const sidecar of files.sidecars) this.#open(sidecar);
    for (const [file, makes] of files.loose) this.#loose.set(file, makes);
    this.#folders.push(files);
  }

  #holdsNothing({ passedBy, leftOut }: FolderFiles): string {
    const formats = [`*${JOB_SUFFIX}`, ...formatsInWords(this.#readers)];
    const besides = passedBy.excluded > 0 ? ` besides what the settings exclude (${passedBy.excluded})` : '';
    const drawing = leftOut[0] === undefined ? '' : `; ${leftOut[0].path}: ${leftOut[0].reason}`;
    return `holds no ${inARow(formats, 'or')} file${besides}${drawing}`;
  }

  #file(path: string): void {
    const kind = kindWhenNamed(this.#readers, path, () => this.#access.open(path));
    if (kind.is === 'sidecar') this.#open(path);
    else if (kind.is === 'profile') this.#folder('', 'may be empty');
    else if (kind.is === 'toolpath' || kind.is === 'artwork') {
      const naming = sidecarsBeside(this.#access, path).filter((file) => names(this.#opener.sidecar(file).value, path));
      for (const file of naming.length > 0 ? naming : [path]) this.#open(file);
    } else this.#refuse(path, this.#noJob(kind));
  }

  #noJob(kind: FileKind): string {
    if (kind.is === 'odd-sidecar') return REASONS.sidecarName;
    if (kind.is === 'odd-profile') return kind.reason;
    if (kind.is === 'unreadable') return `cannot be read: ${kind.reason}`;
    if (kind.is === 'other-drawing') return `is ${kind.reason}`;
    const formats = [`a sidecar (*${JOB_SUFFIX})`, ...formatsInWords(this.#readers)];
    return `is neither ${inARow(formats, 'nor')}, by its name or its first lines`;
  }

  #open(path: string): void {
    if (!this.#jobs.has(path)) this.#jobs.set(path, this.#opener.open(path));
  }

  #refuse(path: string, what: string): void {
    this.#unmatched.push({ path, text: `${path === '' ? '.' : path} ${what}` });
  }

  result(bareInFolders: boolean): Discovery {
    const claimed = claimedBy(this.#jobs.values());
    const leftOut = new Map<string, LeftOut>();
    for (const [path, makes] of [...this.#loose].sort(([a], [b]) => byCodeUnit(a, b))) {
      if (claimed.has(path) || this.#jobs.has(path) || besideBroken(this.#jobs, path)) continue;
      if (bareInFolders) this.#open(path);
      else leftOut.set(path, { path, kind: makes, reason: REASONS.noSidecar, weighs: makes });
    }
    const judged = (path: string) => claimed.has(path) || this.#jobs.has(path) || this.#loose.has(path);
    const passedBy = { ...NOTHING_PASSED_BY };
    for (const folder of this.#folders) {
      for (const one of unjudgedIn(folder, judged)) leftOut.set(one.path, one);
      for (const key of Object.keys(passedBy) as (keyof PassedBy)[]) passedBy[key] += folder.passedBy[key];
    }
    return {
      jobs: [...this.#jobs.values()].sort((a, b) => byCodeUnit(a.name, b.name)),
      leftOut: [...leftOut.values()].sort((a, b) => byCodeUnit(a.path, b.path)),
      passedBy,
      unmatched: this.#unmatched,
    };
  }
}

/** What a folder's search left out, as far as nothing else in the run judges it. */
function unjudgedIn({ leftOut, hidden }: FolderFiles, judged: (path: string) => boolean): LeftOut[] {
  const hiddenOnes = [...hidden].flatMap(
    ([path, held]) =>
      hiddenFolder(
        path,
        held.filter((file) => !judged(file.path)),
      ) ?? [],
  );
  return [...hiddenOnes, ...leftOut.filter(({ path }) => !judged(path))];
}

/** A hidden folder by the files of jobs in it that nobody judged; null when there are none. */
function hiddenFolder(path: string, held: readonly { kind: LeftOut['kind'] }[]): LeftOut | null {
  if (held.length === 0) return null;
  const count = (kind: LeftOut['kind']) => held.filter((file) => file.kind === kind).length;
  const artwork = count('artwork');
  const parts = [
    ...(count('toolpath') > 0 ? [formatCount(count('toolpath'), 'toolpath')] : []),
    ...(count('sidecar') > 0 ? [formatCount(count('sidecar'), 'sidecar')] : []),
    ...(artwork > 0 ? [formatCount(artwork, 'file of artwork', 'files of artwork')] : []),
  ];
  const weighs = count('sidecar') > 0 ? 'always' : count('toolpath') > 0 ? 'toolpath' : 'artwork';
  return { path, kind: 'folder', reason: REASONS.hiddenFolder(inARow(parts, 'and')), weighs };
}

function sidecarsBeside(access: FileAccess, path: string): string[] {
  const folder = folderOf(path);
  return access
    .list(folder)
    .entries.filter((entry) => entry.kind === 'file' && !entry.symlink && entry.name.endsWith(JOB_SUFFIX))
    .map((entry) => (folder === '' ? entry.name : `${folder}/${entry.name}`))
    .sort(byCodeUnit);
}
function names(sidecar: Sidecar | null, path: string): boolean {
  if (!sidecar) return false;
  const folder = folderOf(sidecar.file);
  return [sidecar.toolpath, sidecar.artwork].some((named) => named !== null && joinPath(folder, named) === path);
}

function claimedBy(jobs: Iterable<FoundJob>): Set<string> {
  const claimed = new Set<string>();
  for (const { sidecar } of jobs) {
    const said = sidecar?.value;
    for (const named of said ? [said.toolpath, said.artwork] : []) {
      const path = said && named !== null ? joinPath(folderOf(said.file), named) : null;
      if (path !== null) claimed.add(path);
    }
  }
  return claimed;
}

/** A file whose sidecar, by its name, could not be read: the sidecar's own finding is enough. */
function besideBroken(jobs: Map<string, FoundJob>, path: string): boolean {
  const name = baseName(path).replace(/\.[^.]*$/, '');
  const folder = folderOf(path);
  const job = jobs.get(`${folder === '' ? '' : `${folder}/`}${name}${JOB_SUFFIX}`);
  return job?.sidecar?.value === null;
}
