import type { JobResult } from '../result.ts';
import { groupsBy } from './groups.ts';

/** A job before and after; null where it was not yet, or is no more. */
export interface JobPair {
  before: JobResult | null;
  after: JobResult | null;
}

/**
 * The jobs of two runs, each with its counterpart: the one of its name or, of those that have none, the one whose content is the same, or
 * that alone bears the same file name in another folder.
 * @param isThere whether a file of the base is still there: then its job was not part of the later run, and nothing is said of it.
 */
export function pairJobs(
  base: readonly JobResult[],
  now: readonly JobResult[],
  isThere: (file: string) => boolean,
): { pairs: JobPair[]; notInRun: number } {
  const names = new Map(base.map((job) => [job.name, job]));
  const pairs: JobPair[] = now.map((after) => ({ before: names.get(after.name) ?? null, after }));
  const taken = new Set(now.map(({ name }) => name));
  const missing = base.filter(({ name }) => !taken.has(name));
  const gone = missing.filter((job) => !isThere(homeOf(job)));
  const left = renamed(gone, pairs);
  const alone = left.map((before): JobPair => ({ before, after: null }));
  const nameOf = ({ before, after }: JobPair) => (after ?? before)!.name;
  return {
    pairs: [...pairs, ...alone].sort((a, b) => (nameOf(a) < nameOf(b) ? -1 : 1)),
    notInRun: missing.length - gone.length,
  };
}

/** The file that a job is called by. */
export function homeOf(job: JobResult): string {
  return job.sidecar ?? job.files.toolpath ?? job.files.artwork ?? job.name;
}

/** Gives jobs that are gone to new ones that are the same; what is left over is gone indeed. */
function renamed(gone: readonly JobResult[], pairs: readonly JobPair[]): JobResult[] {
  // Of copies one is as good as another; a file name that several jobs bear tells nothing.
  const left = giveTo(pairs, gone, contentOf, () => true);
  return giveTo(pairs, left, fileNameOf, (olds, news) => olds === 1 && news === 1);
}

/** Gives jobs to pairs that lack one before and are like it, and gives back the others. */
function giveTo(
  pairs: readonly JobPair[],
  jobs: readonly JobResult[],
  likeness: (job: JobResult) => string | null,
  isPlain: (olds: number, news: number) => boolean,
): JobResult[] {
  const fresh = groupsBy(
    pairs.filter(({ before }) => before === null),
    ({ after }) => likeness(after!),
  );
  const left: JobResult[] = [];
  for (const [key, olds] of groupsBy(jobs, likeness)) {
    const news = key === null ? [] : (fresh.get(key) ?? []);
    const given = isPlain(olds.length, news.length) ? Math.min(olds.length, news.length) : 0;
    for (let i = 0; i < given; i++) news[i]!.before = olds[i]!;
    left.push(...olds.slice(given));
  }
  return left;
}

/** What was read of a job's files; null where nothing was. */
function contentOf({ toolpath, artwork, machine, lens, material, thicknessMm, tasks }: JobResult): string | null {
  if (toolpath === undefined && artwork === undefined) return null;
  return JSON.stringify([toolpath, artwork, machine, lens, material, thicknessMm, tasks]);
}

function fileNameOf({ name }: JobResult): string {
  return name.slice(name.lastIndexOf('/') + 1);
}
