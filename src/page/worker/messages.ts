import type { RecipesFound } from '../../bench/sidecar/recipes-found.ts';
import type { JobResult } from '../../findings/result.ts';
import type { Choice } from '../../job/material/names/meant.ts';
import type { Aim, HazardClass } from '../../job/model.ts';

/** What is filled in for files without a sidecar; what was left empty is left out. */
export interface FormValues {
  machine?: string;
  lens?: string;
  material?: string;
  thickness?: string;
}

/** Everything that a check rests on: the files by their path, and the form. */
export interface GivenJob {
  files: readonly (readonly [path: string, file: Blob])[];
  filled: FormValues;
  /** The profile of the machine that was described on the page; null when the files bring their own. */
  profile: { id: string; text: string } | null;
  /** ISO date. */
  today: string;
}

/** A field of the form that a problem stands beside; `files` is the place where files are dropped. */
export type FieldName =
  | 'files'
  | 'which'
  | 'kind'
  | 'rated'
  | 'lens'
  | 'bed'
  | 'scale'
  | 'name'
  | 'material'
  | 'thickness'
  | 'today';

/** Why nothing was checked, and where to put it right. */
export interface Refusal {
  field: FieldName;
  text: string;
  /** Materials that may be meant. */
  choices: readonly Choice[];
}

/** A material in the list of the form. */
export interface MaterialEntry {
  id: string;
  name: string;
  /** All its other names, and the kinds that it is one of. */
  aliases: readonly string[];
  hazard: { class: HazardClass; reason: string };
}

/** What is asked about a toolpath that has no sidecar. */
export interface AskedJob extends RecipesFound {
  /** Path of the toolpath. */
  file: string;
}

/** What is said of the recipes of a toolpath, in the order in which they were asked about. */
export interface AnsweredJob {
  file: string;
  aims: readonly Aim[];
}

/** A job as its report shows it. */
export interface ShownJob {
  /** Of its section in the report: `job-1` is the worst. */
  section: string;
  /** Index in the result. */
  index: number;
  result: JobResult;
  /** The toolpath or artwork for which a sidecar can be written; null where the files brought one. */
  draftFor: string | null;
}

/** What the page asks of its worker, each with what comes back. */
export interface Requests {
  /** The materials that the form can offer: the catalogue's, and those among the files. */
  materials: { ask: { files: GivenJob['files'] }; answer: MaterialEntry[] };
  /** Reads the files. */
  read: { ask: GivenJob; answer: { refused: Refusal } | { refused: null; asked: AskedJob[] } };
  /** Judges them. */
  judge: {
    ask: GivenJob & { answered: readonly AnsweredJob[] };
    answer: { refused: Refusal } | { refused: null; body: string; jobs: ShownJob[] };
  };
  /** The last run as a file. */
  save: { ask: { as: 'html' | 'json' }; answer: string };
  /** The sidecar of a file of the last run that has none. */
  sidecar: { ask: { file: string }; answer: { name: string; text: string } };
}

export type RequestKind = keyof Requests;
export type Ask<K extends RequestKind> = Requests[K]['ask'];
export type Answer<K extends RequestKind> = Requests[K]['answer'];

/** How far the work is; the share is null where that cannot be told. */
export interface Progress {
  text: string;
  share: number | null;
}

/** To the worker. */
export interface Posted<K extends RequestKind = RequestKind> {
  id: number;
  kind: K;
  ask: Ask<K>;
}

/** From the worker; `ready` is the first of all. */
export type Reply =
  | { id: 0; ready: true }
  | { id: number; progress: Progress }
  | { id: number; answer: unknown }
  | { id: number; fault: string };
