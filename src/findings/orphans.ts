import type { RunResult } from './result.ts';
import { withVerdicts } from './verdict.ts';

/** The result with its orphans, files that no sidecar names, listed among what was not checked. */
export function withOrphans(result: RunResult, orphans: readonly { path: string }[]): RunResult {
  const reason = 'no sidecar names it, and no --machine, --material and --thickness say what it is';
  const notCheckedFiles = [...result.notCheckedFiles, ...orphans.map(({ path }) => ({ file: path, reason }))];
  return withVerdicts({ ...result, notCheckedFiles });
}
