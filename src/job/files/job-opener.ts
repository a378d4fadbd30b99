import type { Reader } from '../../model/reader.ts';
import type { Source } from '../../source/source.ts';
import { LastKept } from '../../units/last-kept.ts';
import { nearestWord } from '../../units/nearest-word.ts';
import type { Sidecar } from '../model.ts';
import { isMachinePath, readSidecar } from '../sidecar/sidecar.ts';
import { byCodeUnit, type FileAccess } from './access.ts';
import { type Claims, type NamedFiles, namedBy } from './claims.ts';
import { kindOfName, kindWhenNamed } from './file-kind.ts';
import { BENCH_SUFFIX, baseName, folderOf, JOB_SUFFIX, joinPath, MACHINE_SUFFIX, MATERIAL_SUFFIX } from './paths.ts';
import { type FileProblem, fileProblem, type Loaded } from './problem.ts';

/** One job as found: a sidecar with its files, or a bare file. */
export interface FoundJob {
  /** Path of the sidecar without `.job.yaml`, or of the bare file. */
  name: string;
  sidecar: Loaded<Sidecar> | null;
  sidecarSource: Source | null;
  toolpath: Source | null;
  artwork: Source | null;
  /**
   * Machine and material files in the sidecar's folder, and the machine file that it names by path: they may only tighten. Bench files
   * there count for nothing, and are among them so that it can be said.
   */
  beside: readonly Source[];
  /** The machine file that the sidecar names by path, relative to the root; null when it names an id. */
  machinePath: string | null;
  problems: FileProblem[];
}

/** So many sidecars, and lists of what lies beside jobs, are kept: all of a small run's, and in any run the last ones. */
const KEPT = 256;

/** The name of a job: the path of its sidecar without `.job.yaml`, or of its bare file. */
export function jobName(path: string): string {
  return path.endsWith(JOB_SUFFIX) ? path.slice(0, -JOB_SUFFIX.length) : path;
}

/** Opens the jobs of one run, one by one. What was opened last is kept, so that a folder with its jobs is looked through once. */
export class JobOpener {
  readonly #access: FileAccess;
  readonly #readers: readonly Reader[];
  readonly #claims: Pick<Claims, 'told'> | null;
  readonly #sidecars = new LastKept<Loaded<Sidecar>>(KEPT);
  readonly #profiles = new LastKept<readonly Source[]>(KEPT);

  /** @param claims is told what each sidecar names when it is read */
  constructor(access: FileAccess, readers: readonly Reader[], claims: Pick<Claims, 'told'> | null = null) {
    this.#access = access;
    this.#readers = readers;
    this.#claims = claims;
  }

  /** Hands on what a sidecar names that was read elsewhere. */
  readElsewhere(path: string, files: NamedFiles): void {
    this.#claims?.told(path, files);
  }

  /** The job of a sidecar, or of a bare toolpath or artwork, by its path. */
  open(path: string): FoundJob {
    return path.endsWith(JOB_SUFFIX) ? this.#sidecarJob(path) : this.#bareJob(path);
  }

  sidecar(path: string): Loaded<Sidecar> {
    const sidecar = this.#sidecars.get(path) ?? readSidecar(this.#access.open(path));
    this.#sidecars.set(path, sidecar);
    this.#claims?.told(path, namedBy(sidecar.value));
    return sidecar;
  }

  #bareJob(path: string): FoundJob {
    const source = this.#access.open(path);
    const toolpath = kindWhenNamed(this.#readers, path, () => source).is !== 'artwork';
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
      name: jobName(path),
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

  /** The machine, bench and material files in a folder, and the one that is named: one list for all jobs that have these beside them. */
  #profilesBeside(folder: string, machinePath: string | null): readonly Source[] {
    const key = JSON.stringify([folder, machinePath]);
    let profiles = this.#profiles.get(key);
    if (!profiles) {
      const paths = [...this.#access.list(folder).entries]
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
      key === 'machine' ? name.endsWith(MACHINE_SUFFIX) : kindOfName(this.#readers, name).is === key;
    const there = [...this.#access.list(folderOf(path)).entries].filter(
      (entry) => entry.kind === 'file' && fits(entry.name),
    );
    const near = nearestWord(baseName(path), there.map((entry) => entry.name).sort(byCodeUnit));
    return `there is no file "${named}"${near === undefined ? '' : `: did you mean ${near}?`}`;
  }
}

function isProfile(name: string): boolean {
  return [MACHINE_SUFFIX, BENCH_SUFFIX, MATERIAL_SUFFIX].some((suffix) => name.endsWith(suffix));
}
