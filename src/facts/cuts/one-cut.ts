import { meanSpeedAcrossMmPerS } from '../../geometry/motion/motion.ts';
import type { Machine } from '../../job/model.ts';
import type { WorkBudget } from '../../units/work.ts';
import type { JobOrigin } from '../input/job-origin.ts';
import type { OnBed } from '../match/on-bed.ts';
import type { CutFact, SpeedFact, UnevenFact } from './cut-fact.ts';
import { wattsAt } from './power.ts';
import type { CutPredictor } from './prediction.ts';
import type { PredictorOrReason } from './predictor-of-job.ts';

/** A place on the bed; null where it is not known. */
export type PlaceOnBed = { readonly xMm: number; readonly yMm: number } | null;

/** What all cuts of a job are predicted from. */
export interface CutContext {
  readonly job: JobOrigin;
  readonly machine: Machine;
  readonly predicting: PredictorOrReason;
  readonly onBed: OnBed;
  readonly fullW: number;
  readonly work: WorkBudget;
}

/** A cut as found in the toolpath or in the plan, ready to be predicted. */
export type UnpredictedCut = Pick<
  CutFact,
  | 'task'
  | 'aim'
  | 'taskIndex'
  | 'lengthMm'
  | 'passes'
  | 'passCount'
  | 'location'
  | 'settingLocation'
  | 'strokes'
  | 'slowestMmPerS'
> & {
  readonly at: PlaceOnBed;
  /** All passes. */
  readonly cutTimeS: number;
  readonly uneven: UnevenFact | null;
  /** Why there is no recipe to predict from; null when there is one. */
  readonly noRecipe: string | null;
  /** Whether the focus can be lowered from pass to pass: the machine moves Z, and so does the program, where there is one. */
  readonly focusMoves: boolean;
};

/** What a remedy rests on where a through cut falls short. */
export interface ShortCut {
  /** 1σ of the power as a fraction. */
  readonly spread: number;
  readonly at: PlaceOnBed;
  readonly cutTimeS: number;
  readonly focusMoves: boolean;
}

/** One cut, side by side with what the speed rules need; `short` where it does not reach the limit it is judged by. */
export interface FoundCut {
  readonly cut: CutFact;
  readonly speed: SpeedFact;
  readonly short: ShortCut | null;
}

/** Predicts a cut, or says why it cannot be predicted. */
export function predicted(context: CutContext, found: UnpredictedCut): { cut: CutFact; short: ShortCut | null } {
  const { at, cutTimeS, noRecipe, focusMoves, ...rest } = found;
  const fastest = Math.max(0, ...found.passes.map((pass) => pass.programmedMmPerS));
  const scaled = found.passes.every((pass) => pass.scaled);
  // Energy is felt over the width of the beam: a head that stands still for an instant does not burn without end.
  const { accelerationMmPerS2 } = context.machine.motion;
  const spotMm = context.predicting.predictor?.spotMm ?? 0;
  const slowestMmPerS = meanSpeedAcrossMmPerS(found.slowestMmPerS, spotMm, accelerationMmPerS2);
  const cut: CutFact = {
    ...rest,
    slowestMmPerS,
    prediction: null,
    notPredicted: null,
    remedies: [],
    published: null,
    cornerOverburn: scaled || slowestMmPerS <= 0 ? 1 : Math.max(1, fastest / slowestMmPerS),
    throughWithFocusStep: null,
  };
  const without = (notPredicted: string) => ({ cut: { ...cut, notPredicted }, short: null });
  if (noRecipe !== null) return without(noRecipe);
  if (found.aim === 'surface') return without('a surface is marked, not cut');
  const { predictor, notPredicted } = context.predicting;
  if (!predictor) return without(notPredicted);
  if (found.passes.some((pass) => !(pass.speedMmPerS > 0))) return without('a pass has no speed');
  return predictedBy(predictor, context.machine, cut, { at, cutTimeS, focusMoves });
}

function predictedBy(
  predictor: CutPredictor,
  machine: Machine,
  cut: CutFact,
  rest: Omit<ShortCut, 'spread'>,
): { cut: CutFact; short: ShortCut | null } {
  const spread = Math.max(0, ...cut.passes.map((pass) => wattsAt(machine, pass.setting, rest.at)?.spread ?? 0));
  const wanted = cut.aim === 'through' ? 'through' : 'depth';
  const answer = predictor.predict(cut.passes, spread, wanted, rest.focusMoves);
  if ('problem' in answer) return { cut: { ...cut, notPredicted: answer.problem }, short: null };
  const { prediction, throughWithFocusStep } = answer;
  const isShort = wanted === 'through' && prediction.throughProbability < prediction.limit;
  return { cut: { ...cut, prediction, throughWithFocusStep }, short: isShort ? { spread, ...rest } : null };
}
