import { JobOpener } from '../../job/files/job-opener.ts';
import { inspector, type JudgedJob, loadReaders } from '../../preflight.ts';
import { READERS } from '../../readers.ts';
import { cachedJobs } from '../cache/cached-jobs.ts';
import { openRoot } from '../check/gather.ts';
import { judgingInput, libraryOf } from '../check/judge.ts';
import type { Answer, JudgingTask } from './parallel.ts';

interface Bench {
  judgeAt(path: string): JudgedJob;
  /** What the sidecars name that were read since it was last asked. */
  named(): Answer['named'];
  trouble(): string | null;
}

let bench: Promise<Bench> | undefined;

/** What a thread does with a task. It belongs to one run, and keeps what it has opened for the next task. */
export default async function judgeTask({ run, paths }: JudgingTask): Promise<Answer> {
  bench ??= benchFor(run);
  const { judgeAt, named, trouble } = await bench;
  return { judged: paths.map(judgeAt), named: named(), trouble: trouble() };
}

async function benchFor(run: JudgingTask['run']): Promise<Bench> {
  const { access, trusted } = openRoot(run.root, run);
  const readers = await loadReaders(READERS, run.needed);
  const judging = judgingInput(run, trusted.shop.settings, libraryOf(trusted, run.untrusted), readers);
  const alone = { inspect: inspector(judging, run.drawn), trouble: () => null };
  const { inspect, trouble } = run.cache === null ? alone : cachedJobs(alone.inspect, judging, trusted, run.cache);
  let told: Answer['named'] = [];
  const opener = new JobOpener(access, READERS, { told: (path, files) => told.push({ path, files }) });
  const named = () => {
    const since = told;
    told = [];
    return since;
  };
  return { judgeAt: (path) => inspect(opener.open(path)), named, trouble };
}
