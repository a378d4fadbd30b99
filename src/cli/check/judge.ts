import { existsSync, lstatSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { withLeftOut } from '../../findings/left-out.ts';
import type { JudgedBy, LeftOutFile, RunResult } from '../../findings/result.ts';
import type { Discovery } from '../../job/files/discovery.ts';
import type { FoundJob } from '../../job/files/job-opener.ts';
import { NOTHING_PASSED_BY, type PassedBy, UNCHECKED, type Unchecked, weighed } from '../../job/files/left-out.ts';
import { createLibrary, type Library } from '../../job/files/library.ts';
import {
  inspector,
  type JudgedJob,
  type JudgingInput,
  type LoadedReaders,
  loadReaders,
  readersNeeded,
  runOf,
} from '../../preflight.ts';
import { READERS } from '../../readers.ts';
import { escapeTerminal } from '../../report/escape.ts';
import type { ReportContext } from '../../report/report-context.ts';
import { parseThickness } from '../../units/compound-quantities.ts';
import { slashed } from '../files/files.ts';
import { withIds } from '../files/named-profiles.ts';
import { packageVersion } from '../files/package-files.ts';
import { UsageError } from '../usage-error.ts';
import { touchedJobs } from './changed-jobs.ts';
import type { ChangedEntry } from './changed-list.ts';
import { type ChangedPaths, changedPaths } from './changed-paths.ts';
import type { CheckOptions } from './check-options.ts';
import { type GatherRequest, gather, stopOnSettingProblems, type TrustedSources } from './gather.ts';
import { judgedByOf } from './judged-by.ts';
import { type Shard, shareOf } from './shard.ts';

/** What `check` judges: everything of its options that has a bearing on the result. */
export interface JudgeRequest extends Omit<GatherRequest, 'bareInFolders' | 'bare'> {
  bare: CheckOptions['bare'];
  today: string;
  /** A list of changed files, whose jobs alone are judged; null for all jobs. */
  changed: readonly ChangedEntry[] | null;
  /** What is said on the command line of files left unjudged; it goes before the settings. */
  unchecked?: Partial<Unchecked>;
  /** The part of the run that is done here; null for the whole. */
  shard: Shard | null;
  /** A format of the run draws pictures. */
  draw?: boolean;
}

export interface JudgedRun {
  result: RunResult;
  /** Absolute. */
  root: string;
  /** Path from the top of the repository to the run's root, with a `/` at the end; empty when they are one. */
  rootInRepository: string;
  /** What pictures are drawn from, by the job's name; empty unless they were asked for. */
  pictures: NonNullable<ReportContext['pictures']>;
  /** What a person should know about how the request was understood. */
  notes: string[];
}

/** A run whose jobs are known and not yet judged. */
export interface PreparedRun {
  request: JudgeRequest;
  /** Absolute. */
  root: string;
  rootInRepository: string;
  /** Those of its share. */
  jobs: FoundJob[];
  /** Those of its share. */
  leftOut: LeftOutFile[];
  passedBy: PassedBy;
  /** What a person should know about how the request was understood. */
  notes: string[];
  trusted: TrustedSources;
  judging: JudgingInput;
  judgedBy: JudgedBy;
  /** Ids of the readers that the jobs need. */
  needed: string[];
  /** How many jobs of the undivided run share the bound on the size of its pictures; null where none are drawn. */
  drawn: number | null;
}

/** Judges the jobs of a run, one after the other. */
export function judgePrepared(run: PreparedRun): JudgedRun {
  return finishRun(run, run.jobs.map(inspector(run.judging, run.drawn)));
}

/**
 * Finds the jobs behind the paths, and what they are judged by.
 * @throws UsageError when the request itself is wrong
 */
export async function prepareRun(request: JudgeRequest): Promise<PreparedRun> {
  const { bare } = request;
  if (bare.thickness !== undefined) {
    const parsed = parseThickness(bare.thickness);
    if (!parsed.ok)
      throw new UsageError(`--thickness: ${escapeTerminal(parsed.problem)}.`, 'For instance --thickness "6 mm".');
  }
  const gathered = gather({ ...request, bareInFolders: Object.keys(bare).length > 0 });
  const library = libraryOf(gathered, request.untrusted);
  stopOnSettingProblems(library.shopProblems());
  const top = topOfRepository(gathered.root);
  const { changed, note } = changedIn(gathered.root, top, request);
  const unchecked = { ...UNCHECKED, ...gathered.shop.settings?.unchecked, ...request.unchecked };
  const undivided = chosen(gathered.discovery, library, changed, withIds(bare), unchecked);
  const jobs = shareOf(undivided.jobs, request.shard);
  const needed = readersNeeded(READERS, jobs);
  return {
    request,
    root: gathered.root,
    rootInRepository: top === gathered.root ? '' : `${slashed(relative(top, gathered.root))}/`,
    jobs,
    leftOut: shareOf(undivided.leftOut, request.shard),
    // What is only counted is told once, by the first part.
    passedBy: (request.shard?.index ?? 1) === 1 ? undivided.passedBy : NOTHING_PASSED_BY,
    notes: note === null ? [] : [note],
    trusted: gathered,
    judging: judgingInput(request, gathered.shop.settings, library, await loadReaders(READERS, needed)),
    judgedBy: judgedByOf(request, gathered.shop),
    needed,
    drawn: request.draw ? undivided.jobs.length : null,
  };
}

export function libraryOf({ catalogue, shop }: TrustedSources, untrusted: boolean): Library {
  return createLibrary({ catalogue: catalogue.sources, shop: shop.sources, untrusted });
}

export function judgingInput(
  { today, untrusted, bare }: Pick<JudgeRequest, 'today' | 'untrusted' | 'bare'>,
  settings: JudgingInput['settings'],
  library: Library,
  readers: LoadedReaders,
): JudgingInput {
  return { library, settings, options: { today, untrusted, ...withIds(bare) }, readers };
}

/** What came of a run, once all its jobs are judged, in their order. */
export function finishRun(run: PreparedRun, judged: readonly JudgedJob[]): JudgedRun {
  const { shard } = run.request;
  const result = runOf(
    judged.map((job) => job.result),
    packageVersion(),
  );
  const whole = { ...withLeftOut(result, run.leftOut, run.passedBy), judgedBy: run.judgedBy };
  return {
    result: shard === null ? whole : { ...whole, shard },
    root: run.root,
    rootInRepository: run.rootInRepository,
    notes: run.notes,
    pictures: new Map(judged.flatMap(({ result, drawing }) => (drawing ? [[result.name, drawing] as const] : []))),
  };
}

/** The files that the request lists as changed; null for all. */
function changedIn(
  root: string,
  top: string,
  { changed, cwd }: JudgeRequest,
): { changed: ChangedPaths | null; note: string | null } {
  if (changed === null) return { changed: null, note: null };
  return changedPaths(changed, { top: slashed(top), root: slashed(root), cwd: slashed(cwd), look });
}

function look(path: string): 'file' | 'folder' | null {
  try {
    return lstatSync(path).isDirectory() ? 'folder' : 'file';
  } catch {
    return null;
  }
}

/** The jobs of the undivided run, and what it leaves out: all, or what a change touches. */
function chosen(
  { jobs, leftOut, passedBy }: Discovery,
  library: Library,
  changed: ChangedPaths | null,
  bare: JudgeRequest['bare'],
  unchecked: Unchecked,
): Pick<PreparedRun, 'jobs' | 'leftOut' | 'passedBy'> {
  const all = weighed(leftOut, unchecked);
  if (changed === null) return { jobs, leftOut: all, passedBy };
  return {
    jobs: touchedJobs(jobs, changed, library, bare),
    leftOut: all
      .filter(({ path, kind }) => (kind === 'folder' ? changed.hasBelow(path) : changed.has(path)))
      .map((one) => ({ ...one, changed: true as const })),
    passedBy: NOTHING_PASSED_BY,
  };
}

/** The repository's top folder, where git's paths and those of annotations begin: a `.kerflint.yaml` can make a root further down. */
function topOfRepository(root: string): string {
  for (let folder = root; ; folder = dirname(folder)) {
    if (existsSync(join(folder, '.git'))) return folder;
    if (folder === dirname(folder)) return root;
  }
}
