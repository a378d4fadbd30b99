import { OncePerRun } from '../../findings/joining.ts';
import { inspector, type JudgedJob, rulesOncePerRun } from '../../preflight.ts';
import type { PreparedRun } from './judge.ts';

/** Judges the jobs of a run one by one in this thread, in their order. What is said once a run is thinned out. */
export async function* judgeInTurn(run: PreparedRun): AsyncGenerator<JudgedJob, void> {
  const once = new OncePerRun(rulesOncePerRun);
  const inspect = inspector(run.judging, run.drawn);
  for (const job of run.jobs) {
    const judged = inspect(job);
    yield { ...judged, result: once.thinned(judged.result) };
  }
}
