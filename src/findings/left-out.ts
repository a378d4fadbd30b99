import type { LeftOutFile, RunResult } from './result.ts';
import { type RunRest, withVerdicts } from './run-tally.ts';

/** What a search left out, as a run tells it. */
export function leftOutRest(leftOut: readonly LeftOutFile[], passedBy: RunResult['passedBy']): RunRest {
  return {
    notCheckedFiles: leftOut.map(({ path, reason }) => ({ file: path, reason })),
    leftOut: [...leftOut],
    passedBy,
  };
}

/** A whole result with what its search left out: a run is incomplete for each that says so. */
export function withLeftOut(
  result: RunResult,
  leftOut: readonly LeftOutFile[],
  passedBy: RunResult['passedBy'],
): RunResult {
  return withVerdicts({ ...result, ...leftOutRest(leftOut, passedBy) });
}
