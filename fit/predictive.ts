import { inputOfPublished } from '../src/facts/evidence/published-cut.ts';
import { BLUNDERS } from '../src/physics/calibration/prior.ts';
import { normalQuantile } from '../src/physics/doubt/normal.ts';
import { predictCut, throughProbability } from '../src/physics/doubt/predict.ts';
import { MARGIN, MARGIN_SD } from './assumptions.ts';
import { withValue } from './removal-values.ts';
import { type Row, withPower } from './rows.ts';

/** What the product says of a published cut with a removal energy and its spread, and how it fares. */
export interface Scored {
  row: Row;
  /** ln of the power delivered over the power needed, nothing being off. */
  logRatio: number;
  throughProbability: number;
  /**
   * Where the source's boundary lies among what the product holds possible, 0…1; evenly spread if the doubt is right. A daily
   * setting's boundary is that setting less its margin, with the margin's own spread. Null for other rows.
   */
  rank: number | null;
  /** ln of the density of that boundary, or of the probability of what came of the cut. */
  logScore: number;
}

/** Margins over which a daily setting's own is spread, each as likely as the next. */
const MARGINS = Array.from({ length: 21 }, (_, i) => Math.log(MARGIN) + MARGIN_SD * normalQuantile((i + 0.5) / 21));
/** Step of the density, in ln of the power. */
const STEP = 0.1;
/** Density of a slip: of a row that is not what it seems. */
const SLIP_DENSITY = 0.1;

export function score(row: Row, value: { jPerMm3: number; spread: number }): Scored {
  const { value: input, problem } = inputOfPublished(row.evidence, row.cut, withValue(row.material, value));
  if (input === null) throw new Error(problem);
  const { prediction, problem: why } = predictCut(input);
  if (prediction === null) throw new Error(why);
  const probability = prediction.throughProbability;
  const base = { row, logRatio: Math.log(prediction.energyRatio), throughProbability: probability };
  if (row.cut.use !== 'daily') {
    const outcome = row.cut.outcome === 'not' ? 1 - probability : probability;
    return { ...base, rank: null, logScore: Math.log(BLUNDERS / 2 + (1 - BLUNDERS) * outcome) };
  }
  const below = (shift: number) =>
    MARGINS.reduce((sum, margin) => sum + 1 - throughProbability(withPower(input, -margin - shift)), 0) /
    MARGINS.length;
  const density = (below(STEP / 2) - below(-STEP / 2)) / STEP;
  return { ...base, rank: below(0), logScore: Math.log(BLUNDERS * SLIP_DENSITY + (1 - BLUNDERS) * density) };
}
