import type { JobFacts } from '../facts.ts';
import type { CutFact } from './cut-fact.ts';

/** Does a cut's list of strokes number strokes of the toolpath? Cuts predicted from the plan number outlines. */
export function isFromToolpath({ toolpath, tasks }: Pick<JobFacts, 'toolpath' | 'tasks'>, cut: CutFact): boolean {
  return toolpath !== null && (tasks[cut.taskIndex]?.strokes.length ?? 0) > 0;
}
