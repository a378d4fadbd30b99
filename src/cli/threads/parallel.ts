import { Tinypool } from 'tinypool';
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
  /** Why the thread could not keep results in the cache; null when it could. */
  trouble: string | null;
}

/** Few enough that no thread is left with a long share while others are done, so many that handing over costs nothing. */
const MOST_JOBS_A_TASK = 8;
/** With fewer jobs the tasks are smaller: this many for each thread. */
const LEAST_TASKS_A_THREAD = 4;

/**
 * Judges the jobs of a run in several threads, and gives what came of them in their order: the same as one thread gives. Each thread
 * opens library and settings once.
 * @throws Error when a thread fails or dies: then nothing is known of its jobs
 */
export async function judgeInThreads(
  { request, root, drawn, needed, jobs }: PreparedRun,
  { workers, cache, program }: { workers: number; cache: string | null; program?: string },
): Promise<Answer> {
  if (jobs.length === 0) return { judged: [], trouble: null };
  const { cwd, shop, untrusted, bare, today, remember = false } = request;
  const run = { cwd, shop, untrusted, bare, today, remember, root, drawn, needed, cache };
  const size = Math.min(MOST_JOBS_A_TASK, Math.ceil(jobs.length / (workers * LEAST_TASKS_A_THREAD)));
  const tasks: JudgingTask[] = [];
  for (let i = 0; i < jobs.length; i += size) {
    const paths = jobs.slice(i, i + size).map(({ name, sidecarSource }) => sidecarSource?.name ?? name);
    tasks.push({ run, paths });
  }
  const threads = Math.min(workers, tasks.length);
  const filename = program ?? packagePath('dist', 'parts', 'worker.js');
  const pool = new Tinypool({ filename, minThreads: threads, maxThreads: threads });
  try {
    const answers = await Promise.race([
      death(pool),
      Promise.all(tasks.map((task): Promise<Answer> => pool.run(task))),
    ]);
    return {
      judged: answers.flatMap(({ judged }) => judged),
      trouble: answers.find(({ trouble }) => trouble !== null)?.trouble ?? null,
    };
  } finally {
    // Not by the pool's own destroy(): that waits for ever for a thread that is dead, and fails when another one dies meanwhile.
    pool.cancelPendingTasks();
    for (const thread of pool.threads) void thread.terminate();
  }
}

/** Fails once a thread ends by itself, whatever ends it. */
function death(pool: Tinypool): Promise<never> {
  return new Promise((_, reject) => {
    pool.on('error', reject);
    const ended = new Error('a worker ended before its jobs were judged');
    for (const thread of pool.threads) {
      // Error and end of a thread can come in one and the same step; the error says more, so it has to be handled first.
      thread.once('exit', () => setImmediate(reject, ended));
    }
  });
}
