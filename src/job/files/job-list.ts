import { byCodeUnit } from './access.ts';
import type { NamedFiles } from './claims.ts';
import { type FoundJob, type JobOpener, jobName } from './job-opener.ts';

/** The jobs of a run, in code-unit order of their names. Only their paths are kept: each job is opened when it is its turn. */
export class JobList implements Iterable<FoundJob> {
  /** Of sidecars and bare files. */
  readonly paths: readonly string[];
  readonly #opener: JobOpener;

  constructor(opener: JobOpener, paths: readonly string[]) {
    this.#opener = opener;
    this.paths = [...paths].sort((a, b) => byCodeUnit(jobName(a), jobName(b)));
  }

  get length(): number {
    return this.paths.length;
  }

  *[Symbol.iterator](): Iterator<FoundJob> {
    for (const path of this.paths) yield this.#opener.open(path);
  }

  /** Takes what the sidecar of one of the jobs names, where another thread has read it. */
  readElsewhere(path: string, files: NamedFiles): void {
    this.#opener.readElsewhere(path, files);
  }

  /** The jobs that fit, each opened once to see. */
  filter(fits: (job: FoundJob) => boolean): JobList {
    return this.only(this.paths.filter((path) => fits(this.#opener.open(path))));
  }

  /** Some of the jobs, by their paths. */
  only(paths: readonly string[]): JobList {
    return new JobList(this.#opener, paths);
  }
}
