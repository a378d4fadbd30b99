import { asStated } from '../../job/machine/assumed.ts';
import { type CutInput, cutProblem, sampleDepths } from '../../physics/doubt/predict.ts';
import { quantile } from '../../physics/doubt/quantile.ts';
import { roundTo } from '../../units/format.ts';
import type { CutFact, PassFact } from '../cuts/cut-fact.ts';
import { leastSure } from '../cuts/least-sure.ts';
import { beamOf, spotKey, widestAcross } from '../cuts/optics.ts';
import { wattsAt } from '../cuts/power.ts';
import { CutPredictor } from '../cuts/prediction.ts';
import { type Setup, setUpUnder } from '../cuts/setup.ts';
import type { ProposalFact, Recipe } from '../recipes/recipe-fact.ts';
import type { AssumedKey, Narrowing } from './assumed-fact.ts';

/** Key of the profile that a power meter's reading fills in. */
export const POWER_KEY = 'source.measured';
/** A gain below this is none: it would be told as the same per cent. */
const LEAST_GAIN = 0.01;

/** A prediction that an answer hangs on: passes in a set-up. */
export interface Answer {
  readonly setup: Setup;
  readonly passes: readonly PassFact[];
}

/** The prediction that a job's answer hangs on most: its least sure cut, or what is proposed for the least sure of those without settings. */
export function answerOf(
  predictor: CutPredictor | null,
  cuts: readonly CutFact[],
  proposals: readonly ProposalFact[],
): Answer | null {
  if (predictor === null) return null;
  const cut = leastSure(cuts);
  if (cut !== null) return { setup: predictor.setup, passes: cut.passes };
  const best = proposals.map(({ proposed, surest }) => proposed ?? surest);
  const least = best.reduce<Recipe | null>(
    (worst, one) => (worst === null || one.throughProbability < worst.throughProbability ? one : worst),
    null,
  );
  if (least === null) return null;
  const lens = predictor.setup.machine.lenses.find(({ id }) => id === least.lens);
  const setup = lens ? setUpUnder(predictor.setup, lens) : null;
  if (setup === null) return null;
  return { setup, passes: passesOfRecipe(least) };
}

/** The passes that a recipe asks for. */
export function passesOfRecipe({ powerW, setting, speedMmPerS, focusMm, focusStepMm, passes }: Recipe): PassFact[] {
  return Array.from(
    { length: passes },
    (_, i): PassFact => ({
      powerW,
      setting,
      speedMmPerS,
      programmedMmPerS: speedMmPerS,
      focusMm: focusMm + i * focusStepMm,
      air: false,
      scaled: true,
    }),
  );
}

/** The one of the assumed keys whose measurement would narrow the depth most; null where none would. */
export function narrowing(answer: Answer, keys: readonly AssumedKey[]): Narrowing | null {
  const { setup, passes } = answer;
  const inDoubt = keys.filter((one) => one.inDoubt).map(({ key }) => key);
  if (inDoubt.length === 0) return null;
  const fromShare = halfBand(setup, passes);
  if (fromShare === null) return null;
  let best: Narrowing | null = null;
  for (const key of [...inDoubt, ...spotBesides(setup, inDoubt)]) {
    const toShare = halfBand(measured(setup, key), passes);
    if (toShare === null || fromShare - toShare < LEAST_GAIN) continue;
    if (best === null || toShare < best.toShare) best = { key, fromShare, toShare };
  }
  return best && { key: best.key, fromShare: roundTo(best.fromShare, 3), toShare: roundTo(best.toShare, 3) };
}

/** A spot that is computed from what was assumed can be measured all the same, and that says more than either of what makes it. */
function spotBesides({ lens }: Setup, inDoubt: readonly string[]): string[] {
  const assumed = inDoubt.includes('beam.m2') || inDoubt.includes('beam.diameter');
  return assumed && lens.spotMm === null ? [spotKey(lens)] : [];
}

/** The set-up once a key is measured and came out as assumed. */
function measured(setup: Setup, key: string): Setup {
  const { machine, lens, beam } = setup;
  if (key === spotKey(lens) && lens.spotMm === null) {
    return { ...setup, lens: { ...lens, spotMm: { xMm: beam.spotMm, yMm: beam.spotMm } } };
  }
  if (key !== POWER_KEY) return { ...setup, machine: asStated(machine, key) };
  // Whatever it reads: the passes keep the watts that they are taken to have, and only their doubt is another.
  return { ...setup, machine: { ...machine, source: { ...machine.source, measuredW: machine.source.ratedW } } };
}

/** Half the band between the 5th and the 95th percentile of the depth, in its logarithm; null where the depth vanishes. */
function halfBand(setup: Setup, passes: readonly PassFact[]): number | null {
  const input = inputOf(setup, passes);
  if (input === null || cutProblem(input) !== null) return null;
  const { depths } = sampleDepths(input);
  const low = quantile(depths, 0.05);
  return low > 0 ? Math.log(quantile(depths, 0.95) / low) / 2 : null;
}

function inputOf(setup: Setup, passes: readonly PassFact[]): CutInput | null {
  const { beam } = beamOf(setup.machine, setup.lens);
  if (beam === null) return null;
  const spread = Math.max(0, ...passes.map(({ setting }) => wattsAt(setup.machine, setting, null)?.spread ?? 0));
  return new CutPredictor({ ...setup, beam: widestAcross(beam) }).inputFor(passes, spread);
}
