import { Tinypool } from 'tinypool';
import type { NamedFiles } from '../../job/files/claims.ts';
import type { JudgedJob } from '../../preflight.ts';
import type { JudgeRequest, PreparedRun } from '../check/judge.ts';
import { packagePath } from '../files/package-files.ts';

/** Some of a run's jobs, as a thread gets them. */
export interface JudgingTask {
  /** The same in all tasks of a run. */
  run: Pick<JudgeRequest, 'cwd' | 'shop' | 'untrusted' | 'bare' | 'today' | 'remember'> &
    Pick<PreparedRun, 'root' | 'drawn' | 'needed'> & {
      /** Folder with results of earlier runs; null for none. */
      cache: string | null;
    };
  /** Of sidecars and bare files, relative to the root. */
  paths: string[];
}

/** What a thread makes of a task. */
export interface Answer {
  judged: JudgedJob[];
  /** What the sidecars that were read name. */
  named: { path: string; files: NamedFiles }[];
  /** Why the thread could not keep results in the cache; null when it could. */
  trouble: string | null;
}

/** Few enough that no thread is left with a long share while others are done, so many that handing over costs nothing. */
const MOST_JOBS_A_TASK = 8;
/** With fewer jobs the tasks are smaller: this many for each thread. */
const LEAST_TASKS_A_THREAD = 4;

/** So many tasks for each thread are handed out at a time: more than it works on, and what they give has to be kept until its turn. */
const TASKS_AHEAD = 4;

/**
 * Judges the jobs of a run in several threads, and yields what came of them in their order: the same as one thread gives. Each thread
 * opens library and settings once. Returns why the threads could not keep results in the cache; null when they could.
 * @throws Error when a thread fails or dies: then nothing is known of its jobs
 */
export async function* judgeInThreads(
  { request, root, drawn, needed, jobs }: PreparedRun,
  { workers, cache, program }: { workers: number; cache: string | null; program?: string },
): AsyncGenerator<JudgedJob, string | null> {
  const { paths } = jobs;
  if (paths.length === 0) return null;
  const { cwd, shop, untrusted, bare, today, remember = false } = request;
  const run = { cwd, shop, untrusted, bare, today, remember, root, drawn, needed, cache };
  const size = Math.min(MOST_JOBS_A_TASK, Math.ceil(paths.length / (workers * LEAST_TASKS_A_THREAD)));
  const threads = Math.min(workers, Math.ceil(paths.length / size));
  const filename = program ?? packagePath('dist', 'parts', 'worker.js');
  const pool = new Tinypool({ filename, minThreads: threads, maxThreads: threads });
  const { failed, fail } = failure(pool);
  const handedOut: Promise<Answer>[] = [];
  let next = 0;
  let trouble: string | null = null;
  const handOut = () => {
    const answer: Promise<Answer> = pool.run({ run, paths: paths.slice(next, next + size) } satisfies JudgingTask);
    answer.catch(fail);
    handedOut.push(answer);
    next += size;
  };
  try {
    while (next < paths.length && handedOut.length < threads * TASKS_AHEAD) handOut();
    for (let first = handedOut.shift(); first; first = handedOut.shift()) {
      const answer = await Promise.race([failed, first]);
      if (next < paths.length) handOut();
      trouble ??= answer.trouble;
      for (const { path, files } of answer.named) jobs.readElsewhere(path, files);
      yield* answer.judged;
    }
    return trouble;
  } finally {
    // Not by the pool's own destroy(): that waits for ever for a thread that is dead, and fails when another one dies meanwhile.
    pool.cancelPendingTasks();
    for (const thread of pool.threads) void thread.terminate();
  }
}

/** Fails once a task does, or once a thread ends by itself, whatever ends it. */
function failure(pool: Tinypool): { failed: Promise<never>; fail: (error: Error) => void } {
  let fail: (error: Error) => void = () => undefined;
  const failed = new Promise<never>((_, reject) => {
    fail = reject;
  });
  // All threads are ended at last, and then nobody waits for it any more.
  failed.catch(() => undefined);
  pool.on('error', fail);
  const ended = new Error('a worker ended before its jobs were judged');
  for (const thread of pool.threads) {
    // Error and end of a thread can come in one and the same step; the error says more, so it has to be handled first.
    thread.once('exit', () => setImmediate(fail, ended));
  }
  return { failed, fail };
}
