import type { Reader } from '../../model/reader.ts';
import { formatsInWords } from '../../model/reader-choice.ts';
import { formatCount } from '../../units/format.ts';
import { inARow } from '../../units/in-a-row.ts';
import { byCodeUnit, type FileAccess, type Stat } from './access.ts';
import { Claims, namedBy } from './claims.ts';
import type { Excluded } from './exclude.ts';
import { type FileKind, kindWhenNamed } from './file-kind.ts';
import { type FolderFiles, filesOfFolder, type LooseFiles } from './folder-files.ts';
import { JobList } from './job-list.ts';
import { JobOpener } from './job-opener.ts';
import { type LeftOut, NOTHING_PASSED_BY, type PassedBy, REASONS } from './left-out.ts';
import { baseName, folderOf, JOB_SUFFIX } from './paths.ts';

export interface Discovery {
  /** In code-unit order of their names, each once. */
  jobs: JobList;
  /**
   * What in the given folders was not judged, each with its reason, in code-unit order of the paths. Worked out when it is first asked for: then
   * the sidecars are read whose jobs were not opened before.
   */
  readonly leftOut: readonly LeftOut[];
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

/** One search: what the arguments gave so far. Of each job only its path is kept, and what it claims. */
class Search {
  readonly #access: FileAccess;
  readonly #readers: readonly Reader[];
  readonly #excluded: Excluded;
  readonly #opener: JobOpener;
  /** Sidecars and bare files. */
  readonly #jobs = new Set<string>();
  /** Files that a sidecar names. */
  readonly #claims = new Claims();
  /** Files of folders that are jobs of their own unless a sidecar names them. */
  readonly #loose: LooseFiles = { toolpath: [], artwork: [] };
  readonly #folders: Omit<FolderFiles, 'loose' | 'sidecars'>[] = [];
  readonly #unmatched: Discovery['unmatched'] = [];

  constructor(access: FileAccess, readers: readonly Reader[], excluded: Excluded) {
    this.#access = access;
    this.#readers = readers;
    this.#excluded = excluded;
    this.#opener = new JobOpener(access, readers, this.#claims);
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
    const { sidecars, loose, ...files } = filesOfFolder(this.#access, this.#readers, path, this.#excluded);
    const unjudged = files.leftOut.some(({ weighs }) => weighs !== 'never') || files.hidden.size > 0;
    const none = sidecars.length + loose.toolpath.length + loose.artwork.length === 0 && !unjudged;
    if (empty === 'is wrong' && none) this.#refuse(path, this.#holdsNothing(files));
    for (const sidecar of sidecars) this.#add(sidecar);
    for (const makes of MADE) {
      this.#loose[makes] = this.#loose[makes].length === 0 ? loose[makes] : this.#loose[makes].concat(loose[makes]);
    }
    this.#folders.push(files);
  }

  #holdsNothing({ passedBy, leftOut }: Pick<FolderFiles, 'passedBy' | 'leftOut'>): string {
    const formats = [`*${JOB_SUFFIX}`, ...formatsInWords(this.#readers)];
    const besides = passedBy.excluded > 0 ? ` besides what the settings exclude (${passedBy.excluded})` : '';
    const drawing = leftOut[0] === undefined ? '' : `; ${leftOut[0].path}: ${leftOut[0].reason}`;
    return `holds no ${inARow(formats, 'or')} file${besides}${drawing}`;
  }

  #file(path: string): void {
    const kind = kindWhenNamed(this.#readers, path, () => this.#access.open(path));
    if (kind.is === 'sidecar') this.#add(path);
    else if (kind.is === 'profile') this.#folder('', 'may be empty');
    else if (kind.is === 'toolpath' || kind.is === 'artwork') {
      const naming = sidecarsBeside(this.#access, path).filter((file) => this.#named(file)?.includes(path));
      for (const file of naming.length > 0 ? naming : [path]) this.#add(file);
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

  #add(path: string): void {
    if (this.#jobs.has(path)) return;
    this.#jobs.add(path);
    if (path.endsWith(JOB_SUFFIX)) this.#claims.expect(path);
  }

  #named(sidecar: string) {
    return namedBy(this.#opener.sidecar(sidecar).value);
  }

  #refuse(path: string, what: string): void {
    this.#unmatched.push({ path, text: `${path === '' ? '.' : path} ${what}` });
  }

  result(bareInFolders: boolean): Discovery {
    if (bareInFolders) for (const { path } of this.#unclaimed()) this.#jobs.add(path);
    const jobs = new JobList(this.#opener, [...this.#jobs]);
    const passedBy = { ...NOTHING_PASSED_BY };
    for (const folder of this.#folders)
      for (const key of Object.keys(passedBy) as (keyof PassedBy)[]) passedBy[key] += folder.passedBy[key];
    const search = this;
    let leftOut: readonly LeftOut[] | null = null;
    return {
      jobs,
      get leftOut() {
        leftOut ??= search.#leftOut();
        return leftOut;
      },
      passedBy,
      unmatched: this.#unmatched,
    };
  }

  #leftOut(): LeftOut[] {
    const leftOut = this.#unclaimed();
    // What one folder holds loose it does not leave out as well.
    const loose = new Set(this.#folders.length > 1 ? MADE.flatMap((makes) => this.#loose[makes]) : []);
    const judged = (path: string) => this.#claims.has(path) || this.#jobs.has(path) || loose.has(path);
    for (const folder of this.#folders) for (const one of unjudgedIn(folder, judged)) leftOut.push(one);
    if (leftOut.some(({ path }, i) => i > 0 && path < leftOut[i - 1]!.path))
      leftOut.sort((a, b) => byCodeUnit(a.path, b.path));
    return this.#folders.length < 2 ? leftOut : leftOut.filter(({ path }, i) => leftOut[i + 1]?.path !== path);
  }

  /** The loose files that no sidecar names and that are no job. */
  #unclaimed(): LeftOut[] {
    this.#claims.settle((path) => this.#named(path));
    const unclaimed: LeftOut[] = [];
    for (const makes of MADE) {
      // Sorted as paths, before there is an object for each: they may be a million.
      for (const path of this.#loose[makes].sort(byCodeUnit)) {
        if (this.#claims.has(path) || this.#jobs.has(path) || this.#besideBroken(path)) continue;
        unclaimed.push({ path, kind: makes, reason: REASONS.noSidecar, weighs: makes });
      }
    }
    return unclaimed;
  }

  /** A file whose sidecar, by its name, could not be read: the sidecar's own finding is enough. */
  #besideBroken(path: string): boolean {
    if (!this.#claims.anyBroken) return false;
    const name = baseName(path).replace(/\.[^.]*$/, '');
    const folder = folderOf(path);
    return this.#claims.isBroken(`${folder === '' ? '' : `${folder}/`}${name}${JOB_SUFFIX}`);
  }
}

const MADE = ['toolpath', 'artwork'] as const;

/** What a folder's search left out, as far as nothing else in the run judges it. */
function unjudgedIn(
  { leftOut, hidden }: Pick<FolderFiles, 'leftOut' | 'hidden'>,
  judged: (path: string) => boolean,
): LeftOut[] {
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
  return [...access.list(folder).entries]
    .filter((entry) => entry.kind === 'file' && !entry.symlink && entry.name.endsWith(JOB_SUFFIX))
    .map((entry) => (folder === '' ? entry.name : `${folder}/${entry.name}`))
    .sort(byCodeUnit);
}
