import type { LeftOutFile, RunResult } from './result.ts';
import { withVerdicts } from './verdict.ts';

/** The result with what its search left out: a run is incomplete for each that says so. */
export function withLeftOut(
  result: RunResult,
  leftOut: readonly LeftOutFile[],
  passedBy: RunResult['passedBy'],
): RunResult {
  return withVerdicts({
    ...result,
    notCheckedFiles: [...result.notCheckedFiles, ...leftOut.map(({ path, reason }) => ({ file: path, reason }))],
    leftOut: [...result.leftOut, ...leftOut],
    passedBy,
  });
}
