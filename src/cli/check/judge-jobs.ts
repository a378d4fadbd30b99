import { OncePerRun } from '../../findings/joining.ts';
import { inspector, type JudgedJob, rulesOncePerRun } from '../../preflight.ts';
import { escapeTerminal } from '../../report/escape.ts';
import type { PreparedRun } from './judge.ts';

/** How a run is judged; the result is the same. */
export interface JudgingWay {
  /** Threads. */
  workers: number;
  /** Folder with results of earlier runs, as typed; null for none. */
  cache: string | null;
  /** Told what a person should know. */
  tell: (line: string) => void;
}

/** Judges the jobs of a run one by one, in their order. What is said once a run is thinned out. */
export async function* judgeJobs(run: PreparedRun, way: JudgingWay): AsyncGenerator<JudgedJob, void> {
  const once = new OncePerRun(rulesOncePerRun);
  for await (const judged of judgedAlone(run, way)) yield { ...judged, result: once.thinned(judged.result) };
}

/** By what the run needs and no more: pool and cache are loaded for runs that have them. */
async function* judgedAlone(
  run: PreparedRun,
  { workers, cache: at, tell }: JudgingWay,
): AsyncGenerator<JudgedJob, void> {
  const cache =
    at === null ? null : (await import('../cache/cache-folder.ts')).cacheFolder(at, run.request.cwd, run.root);
  let trouble: string | null = null;
  if (workers > 1) {
    const { judgeInThreads } = await import('../threads/parallel.ts');
    trouble = yield* judgeInThreads(run, { workers, cache });
  } else {
    const inspect = inspector(run.judging, run.drawn);
    const { cachedJobs } = cache === null ? { cachedJobs: null } : await import('../cache/cached-jobs.ts');
    const cached = cache === null || cachedJobs === null ? null : cachedJobs(inspect, run.judging, run.trusted, cache);
    for (const job of run.jobs) yield (cached?.inspect ?? inspect)(job);
    trouble = cached?.trouble() ?? null;
  }
  if (trouble !== null) tell(`results are not kept: ${escapeTerminal(trouble)}`);
}
