import { existsSync, lstatSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { leftOutRest } from '../../findings/left-out.ts';
import type { JudgedBy, LeftOutFile } from '../../findings/result.ts';
import type { RunRest } from '../../findings/run-tally.ts';
import type { Discovery } from '../../job/files/discovery.ts';
import type { JobList } from '../../job/files/job-list.ts';
import { NOTHING_PASSED_BY, type PassedBy, UNCHECKED, type Unchecked, weighed } from '../../job/files/left-out.ts';
import { createLibrary, type Library } from '../../job/files/library.ts';
import { type JudgingInput, type LoadedReaders, loadReaders, readersNeeded } from '../../preflight.ts';
import { READERS } from '../../readers.ts';
import { escapeTerminal } from '../../report/escape.ts';
import { parseThickness } from '../../units/compound-quantities.ts';
import { slashed } from '../files/files.ts';
import { withIds } from '../files/named-profiles.ts';
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

/** Of so many jobs it is looked which readers they need. */
const JOBS_LOOKED_AT = 100;

/** A run whose jobs are known and not yet judged. */
export interface PreparedRun {
  request: JudgeRequest;
  /** Absolute. */
  root: string;
  rootInRepository: string;
  /** Those of its share. */
  jobs: JobList;
  /** Those of its share; to be asked for when the jobs are judged, since it is told then which files they name. */
  leftOut: () => LeftOutFile[];
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
  const jobs = undivided.jobs.only(shareOf(undivided.jobs.paths, request.shard));
  // To see which readers many jobs need would take longer than to load them all.
  const needed = jobs.length > JOBS_LOOKED_AT ? READERS.map(({ id }) => id) : readersNeeded(READERS, jobs);
  return {
    request,
    root: gathered.root,
    rootInRepository: top === gathered.root ? '' : `${slashed(relative(top, gathered.root))}/`,
    jobs,
    leftOut: () => shareOf(undivided.leftOut(), request.shard),
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

/** What a run tells besides its jobs. */
export function restOf({ leftOut, passedBy, judgedBy, request: { shard } }: PreparedRun): RunRest {
  const rest = { ...leftOutRest(leftOut(), passedBy), judgedBy };
  return shard === null ? rest : { ...rest, shard };
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
  discovery: Discovery,
  library: Library,
  changed: ChangedPaths | null,
  bare: JudgeRequest['bare'],
  unchecked: Unchecked,
): Pick<PreparedRun, 'jobs' | 'leftOut' | 'passedBy'> {
  const { jobs, passedBy } = discovery;
  const all = () => weighed(discovery.leftOut, unchecked);
  if (changed === null) return { jobs, leftOut: all, passedBy };
  return {
    jobs: touchedJobs(jobs, changed, library, bare),
    leftOut: () =>
      all()
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
