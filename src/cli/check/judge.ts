import { existsSync } from 'node:fs';
import { dirname, join, relative, sep } from 'node:path';
import { withOrphans } from '../../findings/orphans.ts';
import type { RunResult } from '../../findings/result.ts';
import type { Discovery, FoundJob } from '../../job/files/discovery.ts';
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
import { packageVersion } from '../files/package-files.ts';
import { UsageError } from '../usage-error.ts';
import { changedPaths, touchedJobs } from './changed-jobs.ts';
import type { CheckOptions } from './check-options.ts';
import { type GatherRequest, gather, stopOnSettingProblems, type TrustedSources } from './gather.ts';
import { type Shard, shareOf } from './shard.ts';

/** What `check` judges: everything of its options that has a bearing on the result. */
export interface JudgeRequest extends Omit<GatherRequest, 'bareInFolders'> {
  bare: CheckOptions['bare'];
  today: string;
  /** A list of changed files, whose jobs alone are judged; null for all jobs. */
  changed: string | null;
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
}

/** A run whose jobs are known and not yet judged. */
export interface PreparedRun {
  request: JudgeRequest;
  /** Absolute. */
  root: string;
  rootInRepository: string;
  /** Those of its share. */
  jobs: FoundJob[];
  orphans: Discovery['orphans'];
  trusted: TrustedSources;
  judging: JudgingInput;
  /** Ids of the readers that the jobs need. */
  needed: string[];
  /** How many jobs of the undivided run share the bound on the size of its pictures; null where none are drawn. */
  drawn: number | null;
}

/**
 * Finds the jobs behind the paths and judges them, one after the other.
 * @throws UsageError when the request itself is wrong: then nothing was judged
 */
export async function judgeRun(request: JudgeRequest): Promise<JudgedRun> {
  const run = await prepareRun(request);
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
  const rootInRepository = pathInRepository(gathered.root);
  const undivided = chosen(gathered.discovery, library, request, rootInRepository);
  const jobs = shareOf(undivided.jobs, request.shard);
  const needed = readersNeeded(READERS, jobs);
  return {
    request,
    root: gathered.root,
    rootInRepository,
    jobs,
    orphans: shareOf(undivided.orphans, request.shard),
    trusted: gathered,
    judging: judgingInput(request, gathered.shop.settings, library, await loadReaders(READERS, needed)),
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
  return { library, settings, options: { today, untrusted, ...bare }, readers };
}

/** What came of a run, once all its jobs are judged, in their order. */
export function finishRun(run: PreparedRun, judged: readonly JudgedJob[]): JudgedRun {
  const { shard } = run.request;
  const result = runOf(
    judged.map((job) => job.result),
    packageVersion(),
  );
  const whole = withOrphans(result, run.orphans);
  return {
    result: shard === null ? whole : { ...whole, shard },
    root: run.root,
    rootInRepository: run.rootInRepository,
    pictures: new Map(judged.flatMap(({ result, drawing }) => (drawing ? [[result.name, drawing] as const] : []))),
  };
}

/** The jobs of the undivided run: all, or those that a change touches. */
function chosen(
  { jobs, orphans }: Discovery,
  library: Library,
  { changed, bare }: JudgeRequest,
  rootInRepository: string,
): Pick<Discovery, 'jobs' | 'orphans'> {
  if (changed === null) return { jobs, orphans };
  // git names paths from the top of the repository.
  const paths = changedPaths(changed).flatMap((path) =>
    path.startsWith(rootInRepository) ? path.slice(rootInRepository.length) : [],
  );
  const names = new Set(paths);
  return {
    jobs: touchedJobs(jobs, paths, library, bare),
    orphans: orphans.filter(({ path }) => names.has(path)),
  };
}

/** A `.kerflint.yaml` can make a root further down than the repository's, where paths of annotations begin. */
function pathInRepository(root: string): string {
  for (let folder = root; ; folder = dirname(folder)) {
    if (existsSync(join(folder, '.git'))) {
      const path = relative(folder, root).split(sep).join('/');
      return path === '' ? '' : `${path}/`;
    }
    if (folder === dirname(folder)) return '';
  }
}
