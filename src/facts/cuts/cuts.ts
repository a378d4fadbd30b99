import type { CitedCut } from '../../job/evidence/cited-cuts.ts';
import type { Machine } from '../../job/model.ts';
import type { Artwork } from '../../model/artwork.ts';
import type { Toolpath } from '../../model/toolpath.ts';
import { everything, type Found } from '../../units/found.ts';
import type { WorkBudget } from '../../units/work.ts';
import type { JobOrigin } from '../input/job-origin.ts';
import type { OnBed } from '../match/on-bed.ts';
import { remediesOf } from '../recipes/remedies.ts';
import type { TaskFact } from '../tasks/task-fact.ts';
import type { Assignment } from '../tasks/tasks.ts';
import type { CutFact, SpeedFact } from './cut-fact.ts';
import type { FoundCut } from './one-cut.ts';
import type { StretchList } from './passes.ts';
import { cutsOfPlan } from './planned-cuts.ts';
import type { CutPredictor } from './prediction.ts';
import type { PredictorOrReason } from './predictor-of-job.ts';
import { publishedNear } from './published-near.ts';
import { cutsOfToolpath } from './toolpath-cuts.ts';

/** Remedies are sought for so many cuts of each task, the least sure ones: each costs many predictions. */
const SHORT_PER_TASK = 2;

/** The cuts of a job, with what the speed rules need of each. */
export interface Cuts {
  readonly cuts: readonly CutFact[];
  /** Parallel to `cuts`. */
  readonly speeds: readonly SpeedFact[];
  /** Why passes may be missing, or cuts be split that are one; null when all passes were followed. */
  readonly endedEarly: string | null;
}

/** What the cuts of a job are found and predicted from. */
export interface CutsInput {
  job: JobOrigin;
  machine: Machine | null;
  predicting: PredictorOrReason;
  onBed: OnBed;
  fullW: number;
  toolpath: Toolpath | null;
  artwork: Artwork | null;
  assignment: Assignment;
  tasks: readonly TaskFact[];
  work: WorkBudget;
}

/** Finds the cuts in the toolpath and, where it has none of a task, in the plan, predicts them and seeks remedies and published cuts. */
export function cutsOf(input: CutsInput & { citedCuts: () => readonly CitedCut[] }): Cuts {
  const { items, endedEarly } = predictedCuts(input);
  return {
    cuts: withRemedies(items, input.predicting.predictor, input.citedCuts),
    speeds: items.map(({ speed }) => speed),
    endedEarly,
  };
}

/**
 * The same cuts without remedies and published cuts.
 * @param stretches of the toolpath's strokes, where they are known already
 */
export function predictedCuts(input: CutsInput, stretches?: StretchList): Found<FoundCut> {
  const { machine, toolpath, artwork, assignment, tasks } = input;
  if (!machine) return everything([]);
  const context = { ...input, machine };
  const run = toolpath ? cutsOfToolpath(context, toolpath, assignment, stretches) : everything([]);
  const planned = artwork ? cutsOfPlan(context, artwork, tasks) : [];
  return { items: [...run.items, ...planned], endedEarly: run.endedEarly };
}

/** The kerf to hold the drawing against, mm: the widest predicted; null when none was. */
export function widestKerfMm(cuts: readonly CutFact[]): number | null {
  const kerfs = cuts.flatMap(({ prediction }) => (prediction?.kerfTopMm ? [prediction.kerfTopMm] : []));
  return kerfs.length > 0 ? Math.max(...kerfs) : null;
}

/** The cuts, with remedies for the least sure of each task that fall short, and what others published of such a cut. */
function withRemedies(
  found: readonly FoundCut[],
  predictor: CutPredictor | null,
  citedCuts: () => readonly CitedCut[],
): CutFact[] {
  const chosen = new Set(worstOfEachTask(found.filter(({ short }) => short !== null)));
  return found.map((one) => {
    const { cut, short } = one;
    if (!predictor || !short || !chosen.has(one)) return cut;
    return {
      ...cut,
      remedies: remediesOf(predictor, cut.passes, short),
      published: publishedNear(predictor.setup, summedUp(cut), citedCuts()),
    };
  });
}

/** Unequal passes as if all were as strong and slow as the strongest and slowest: near enough to look others up by. */
function summedUp({ passes }: CutFact) {
  return {
    powerW: Math.max(...passes.map(({ powerW }) => powerW)),
    speedMmPerS: Math.min(...passes.map(({ speedMmPerS }) => speedMmPerS)),
    passes: passes.length,
  };
}

function worstOfEachTask(short: readonly FoundCut[]): FoundCut[] {
  const probability = ({ cut }: FoundCut) => cut.prediction!.throughProbability;
  const counts = new Map<number, number>();
  return [...short]
    .sort((a, b) => probability(a) - probability(b))
    .filter(({ cut }) => {
      const count = counts.get(cut.taskIndex) ?? 0;
      counts.set(cut.taskIndex, count + 1);
      return count < SHORT_PER_TASK;
    });
}
