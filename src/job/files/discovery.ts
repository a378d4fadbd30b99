import type { Reader } from '../../model/reader.ts';
import { formatsInWords, kindByName } from '../../model/reader-choice.ts';
import type { Source } from '../../source/source.ts';
import { inARow } from '../../units/in-a-row.ts';
import { nearestWord } from '../../units/nearest-word.ts';
import type { Sidecar } from '../model.ts';
import { isMachinePath, readSidecar } from '../sidecar/sidecar.ts';
import { byCodeUnit, type FileAccess, walkFolder } from './access.ts';
import type { Excluded } from './exclude.ts';
import { baseName, folderOf, JOB_SUFFIX, joinPath, MACHINE_SUFFIX, MATERIAL_SUFFIX } from './paths.ts';
import { type FileProblem, fileProblem, type Loaded } from './problem.ts';

/** One job as found: a sidecar with its files, or a bare file. */
export interface FoundJob {
  /** Path of the sidecar without `.job.yaml`, or of the bare file. */
  name: string;
  sidecar: Loaded<Sidecar> | null;
  sidecarSource: Source | null;
  toolpath: Source | null;
  artwork: Source | null;
  /** Machine and material files in the sidecar's folder, and the machine file that it names by path: they may only tighten. */
  beside: readonly Source[];
  /** The machine file that the sidecar names by path, relative to the root; null when it names an id. */
  machinePath: string | null;
  problems: FileProblem[];
}

export interface Discovery {
  /** In code-unit order of their names, each once. */
  jobs: FoundJob[];
  /** Toolpaths and artwork in the given folders that no sidecar names. */
  orphans: { path: string; kind: Reader['makes'] }[];
  /** Symbolic links in the given folders that lead to a folder, or are named like a file of a job: none was followed. */
  links: string[];
  /** Files of jobs in the given folders that the settings leave out. */
  excluded: string[];
  /** Arguments that do not exist or match nothing, each with a sentence; they end a run. */
  unmatched: { path: string; text: string }[];
}

/** What a file is by its name: a sidecar, or what one of the readers makes of it; null when it is no file of a job. */
function kindOf(readers: readonly Reader[], path: string): Reader['makes'] | 'sidecar' | null {
  return path.endsWith(JOB_SUFFIX) ? 'sidecar' : kindByName(readers, path);
}

/**
 * The jobs behind the arguments of a run, in files that one of the readers reads. A folder gives all sidecars below it; a bare file
 * gives the sidecars beside it that name it, or a job of its own. Paths are relative to the root; `bareInFolders` makes jobs of the
 * orphans files of folders too. What is `excluded` makes no job of its own; a sidecar may still name it.
 */
export function discoverJobs(
  access: FileAccess,
  readers: readonly Reader[],
  paths: readonly string[],
  bareInFolders: boolean,
  excluded: Excluded = () => false,
): Discovery {
  const found: Discovery = { jobs: [], orphans: [], links: [], excluded: [], unmatched: [] };
  const jobs = new Map<string, FoundJob>();
  const opener = new JobOpener(access, readers);
  const kind = (path: string) => kindOf(readers, path);
  const openJob = (path: string): void => {
    if (!jobs.has(path)) jobs.set(path, opener.open(path));
  };
  const loose = new Set<string>();
  for (const path of paths) {
    const stat = access.stat(path);
    const shown = path === '' ? '.' : path;
    if (!stat) found.unmatched.push({ path, text: `${shown} does not exist` });
    else if (stat.leavesRoot) found.unmatched.push({ path, text: `${shown} is a link that leads outside the root` });
    else if (stat.kind === 'folder') {
      const walk = walkFolder(access, path);
      found.links.push(...walk.links.filter((link) => kind(link) !== null || access.stat(link)?.kind === 'folder'));
      const all = walk.files.filter((file) => kind(file) !== null);
      const known = all.filter((file) => !excluded(file));
      found.excluded.push(...all.filter((file) => excluded(file)));
      if (walk.cutShortAt !== null) {
        found.unmatched.push({
          path,
          text: `${shown} holds too many files: name a folder further down (from ${walk.cutShortAt} on it was not walked)`,
        });
      } else if (known.length === 0 && all.length > 0) {
        found.unmatched.push({
          path,
          text: `${shown} holds ${all.length} file${all.length === 1 ? '' : 's'} of jobs, and the settings exclude every one`,
        });
      } else if (known.length === 0) {
        const formats = [`*${JOB_SUFFIX}`, ...formatsInWords(readers)];
        found.unmatched.push({ path, text: `${shown} holds no ${inARow(formats, 'or')} file` });
      }
      for (const file of known) {
        if (kind(file) === 'sidecar') openJob(file);
        else loose.add(file);
      }
    } else if (excluded(path)) {
      found.unmatched.push({ path, text: `${shown} is excluded by the settings` });
    } else if (kind(path) === 'sidecar') openJob(path);
    else if (kind(path) !== null) {
      const naming = sidecarsBeside(access, path).filter((file) => names(opener.sidecar(file).value, path));
      for (const file of naming) openJob(file);
      if (naming.length === 0) openJob(path);
    } else {
      const formats = [`a sidecar (*${JOB_SUFFIX})`, ...formatsInWords(readers)];
      found.unmatched.push({ path, text: `${shown} is neither ${inARow(formats, 'nor')}` });
    }
  }
  const claimed = claimedBy(jobs.values());
  for (const path of [...loose].sort(byCodeUnit)) {
    if (claimed.has(path) || jobs.has(path) || besideBroken(jobs, path)) continue;
    if (bareInFolders) openJob(path);
    else found.orphans.push({ path, kind: kindByName(readers, path)! });
  }
  found.jobs = [...jobs.values()].sort((a, b) => byCodeUnit(a.name, b.name));
  return found;
}

/** Opens the jobs of one run, one by one. A folder is looked through, and a sidecar read, once. */
export class JobOpener {
  readonly #access: FileAccess;
  readonly #readers: readonly Reader[];
  readonly #sidecars = new Map<string, Loaded<Sidecar>>();
  readonly #profiles = new Map<string, readonly Source[]>();

  constructor(access: FileAccess, readers: readonly Reader[]) {
    this.#access = access;
    this.#readers = readers;
  }

  /** The job of a sidecar, or of a bare toolpath or artwork, by its path. */
  open(path: string): FoundJob {
    return path.endsWith(JOB_SUFFIX) ? this.#sidecarJob(path) : this.#bareJob(path);
  }

  sidecar(path: string): Loaded<Sidecar> {
    const sidecar = this.#sidecars.get(path) ?? readSidecar(this.#access.open(path));
    this.#sidecars.set(path, sidecar);
    return sidecar;
  }

  #bareJob(path: string): FoundJob {
    const source = this.#access.open(path);
    const toolpath = kindByName(this.#readers, path) === 'toolpath';
    return {
      name: path,
      sidecar: null,
      sidecarSource: null,
      toolpath: toolpath ? source : null,
      artwork: toolpath ? null : source,
      beside: [],
      machinePath: null,
      problems: [],
    };
  }

  #sidecarJob(path: string): FoundJob {
    const sidecar = this.sidecar(path);
    const job: FoundJob = {
      name: path.slice(0, -JOB_SUFFIX.length),
      sidecar,
      sidecarSource: this.#access.open(path),
      toolpath: null,
      artwork: null,
      beside: [],
      machinePath: null,
      problems: [...sidecar.problems],
    };
    const said = sidecar.value;
    if (!said) return job;
    for (const key of ['toolpath', 'artwork'] as const) {
      const named = said[key];
      const at = named === null ? null : this.#namedFile(said, key, named, job.problems);
      if (at !== null) job[key] = this.#access.open(at);
    }
    if (said.machine !== null && isMachinePath(said.machine)) {
      job.machinePath = this.#namedFile(said, 'machine', said.machine, job.problems);
    }
    job.beside = this.#profilesBeside(folderOf(path), job.machinePath);
    return job;
  }

  /** The machine and material files in a folder, and the one that is named: one list for all jobs that have these beside them. */
  #profilesBeside(folder: string, machinePath: string | null): readonly Source[] {
    const key = JSON.stringify([folder, machinePath]);
    let profiles = this.#profiles.get(key);
    if (!profiles) {
      const paths = this.#access
        .list(folder)
        .filter(({ name, kind, symlink }) => kind === 'file' && !symlink && isProfile(name))
        .map(({ name }) => joinPath(folder, name) ?? name);
      const all = new Set([...paths, ...(machinePath === null ? [] : [machinePath])]);
      profiles = [...all].sort(byCodeUnit).map((path) => this.#access.open(path));
      this.#profiles.set(key, profiles);
    }
    return profiles;
  }

  /** The path of a file that a sidecar names, relative to the root; null, with a problem at the key, when it cannot be opened. */
  #namedFile(
    sidecar: Sidecar,
    key: Reader['makes'] | 'machine',
    named: string,
    problems: FileProblem[],
  ): string | null {
    const place = sidecar.placeOf([key]);
    const path = joinPath(folderOf(sidecar.file), named);
    const stat = path === null || path === '' ? null : this.#access.stat(path);
    if (path === null || stat?.leavesRoot) {
      const what = `${key}: "${named}" leads outside the root: move the file inside, or run from a folder above`;
      problems.push(fileProblem('outside-root', place, what));
      return null;
    }
    if (stat?.kind === 'file') return path;
    const text = stat ? `"${named}" is a folder where a file belongs` : this.#missing(path, named, key);
    problems.push(fileProblem('unreadable', place, `${key}: ${text}`));
    return null;
  }

  #missing(path: string, named: string, key: Reader['makes'] | 'machine'): string {
    const fits = (name: string) =>
      key === 'machine' ? name.endsWith(MACHINE_SUFFIX) : kindOf(this.#readers, name) === key;
    const there = this.#access.list(folderOf(path)).filter((entry) => entry.kind === 'file' && fits(entry.name));
    const near = nearestWord(baseName(path), there.map((entry) => entry.name).sort(byCodeUnit));
    return `there is no file "${named}"${near === undefined ? '' : `: did you mean ${near}?`}`;
  }
}

function isProfile(name: string): boolean {
  return name.endsWith(MACHINE_SUFFIX) || name.endsWith(MATERIAL_SUFFIX);
}

function sidecarsBeside(access: FileAccess, path: string): string[] {
  const folder = folderOf(path);
  return access
    .list(folder)
    .filter((entry) => entry.kind === 'file' && !entry.symlink && entry.name.endsWith(JOB_SUFFIX))
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
