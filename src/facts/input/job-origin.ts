import type { Sidecar } from '../../job/model.ts';
import type { Location, Problem } from '../../source/place.ts';

/** What came with the job. */
export interface JobOrigin {
  /** Name people know it by: the sidecar's, or the bare file's. */
  readonly name: string;
  readonly sidecar: Sidecar | null;
  /** Names relative to the root; null when the job has no such file. */
  readonly files: {
    readonly sidecar: string | null;
    readonly toolpath: string | null;
    readonly artwork: string | null;
  };
  /** Where a finding points that concerns the job as a whole: the sidecar's first line, or the first file's. */
  readonly home: Location;
}

/** A problem of loading (sidecar, machine, material, toolpath, artwork) with its file. */
export interface InputProblem {
  readonly file: string;
  readonly problem: Problem;
  readonly severity: 'error' | 'warning' | 'note';
  /** The file's bytes could not be had. */
  readonly unreadable: boolean;
}

/** A remark of the loader on trust and assumption (a file beside the job counted only where stricter, …): shown as a note. */
export interface InputRemark {
  readonly text: string;
  readonly location: Location;
}
