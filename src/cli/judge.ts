import { existsSync } from 'node:fs';
import { dirname, join, relative, sep } from 'node:path';
import type { RunResult } from '../findings/result.ts';
import { withUnclaimed } from '../findings/unclaimed.ts';
import type { Discovery } from '../job/discovery.ts';
import { createLibrary, type Library } from '../job/library.ts';
import { artworkReaderFor, type DrawnRun, type PreflightInput, preflight, preflightDrawn } from '../preflight.ts';
import { terminal } from '../report/escape.ts';
import type { ReportContext } from '../report/format.ts';
import { parseThickness } from '../units/bench-values.ts';
import { changedPaths, touchedJobs } from './changed-jobs.ts';
import type { CheckOptions } from './check-options.ts';
import { type GatherRequest, gather, settled } from './gather.ts';
import { packageVersion } from './package-files.ts';
import { type Shard, shareOf } from './shard.ts';
import { UsageError } from './usage-error.ts';

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

export interface Judged {
  result: RunResult;
  /** Absolute. */
  root: string;
  /** Path from the top of the repository to the run's root, with a `/` at the end; empty when they are one. */
  rootInRepository: string;
  /** What pictures are drawn from, by the job's name; empty unless they were asked for. */
  pictures: NonNullable<ReportContext['pictures']>;
}

/**
 * Finds the jobs behind the paths and judges them.
 * @throws UsageError when the request itself is wrong: then nothing was judged
 */
export async function judge(request: JudgeRequest): Promise<Judged> {
  const { bare } = request;
  if (bare.thickness !== undefined) {
    const parsed = parseThickness(bare.thickness);
    if (!parsed.ok)
      throw new UsageError(`--thickness: ${terminal(parsed.problem)}.`, 'For instance --thickness "6 mm".');
  }
  const gathered = gather({ ...request, bareInFolders: Object.keys(bare).length > 0 });
  const library = createLibrary({
    catalogue: gathered.catalogue.sources,
    shop: gathered.shop.sources,
    untrusted: request.untrusted,
  });
  settled(library.shopProblems());
  const rootInRepository = pathInRepository(gathered.root);
  const undivided = chosen(gathered.discovery, library, request, rootInRepository);
  const [jobs, unclaimed] = [shareOf(undivided.jobs, request.shard), shareOf(undivided.unclaimed, request.shard)];
  const input: PreflightInput = {
    jobs,
    library,
    settings: gathered.shop.settings,
    options: { today: request.today, untrusted: request.untrusted, ...bare },
    toolVersion: packageVersion(),
    artworkReader: await artworkReaderFor(jobs),
    jobsOfRun: undivided.jobs.length,
  };
  const { result, drawings } = request.draw ? preflightDrawn(input) : { result: preflight(input), drawings: [] };
  const whole = withUnclaimed(result, unclaimed);
  return {
    result: request.shard === null ? whole : { ...whole, shard: request.shard },
    root: gathered.root,
    rootInRepository,
    pictures: byJob(result, drawings),
  };
}

function byJob({ jobs }: RunResult, drawings: DrawnRun['drawings']): Judged['pictures'] {
  return new Map(jobs.flatMap(({ name }, i) => (drawings[i] ? [[name, drawings[i]] as const] : [])));
}

/** The jobs of the undivided run: all, or those that a change touches. */
function chosen(
  { jobs, unclaimed }: Discovery,
  library: Library,
  { changed, bare }: JudgeRequest,
  rootInRepository: string,
): Pick<Discovery, 'jobs' | 'unclaimed'> {
  if (changed === null) return { jobs, unclaimed };
  // git names paths from the top of the repository.
  const paths = changedPaths(changed).flatMap((path) =>
    path.startsWith(rootInRepository) ? path.slice(rootInRepository.length) : [],
  );
  const names = new Set(paths);
  return {
    jobs: touchedJobs(jobs, paths, library, bare),
    unclaimed: unclaimed.filter(({ path }) => names.has(path)),
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
