import { normalCdf } from '../src/physics/doubt/normal.ts';
import { MARGIN, MARGIN_SD, SHOP_SD } from './assumptions.ts';
import { counts } from './leave-out.ts';
import { scatterOf } from './observations.ts';
import { energyOf, estimate, type Fit, type FitOptions, fitRows } from './optimise.ts';
import { CHAR_LEVEL, settingExponent } from './parameters.ts';
import { changedRows, type Row, type RowChange } from './rows.ts';
import { ALARMS } from './scores.ts';
import { powerFactorByThreshold, type ThresholdForm } from './width-by-threshold.ts';

/** One change to the model or to what it takes as given. */
export interface Trial {
  name: string;
  change?: RowChange;
  options?: FitOptions;
}

/** What came of a trial. */
export interface TrialResult {
  name: string;
  /** ln of the probability of all rows, the unknowns integrated over. */
  logEvidence: number;
  /** ln of the probability of rows of quality A and B from sources left out, one after the other. */
  leftOutScore: number;
  /** Probability below which one daily setting in twenty falls. */
  twentieth: number;
  /** ln of the level of what chars, over that before the evidence. */
  charLevel: { mean: number; sd: number };
  /** Exponent on the setting beyond 1, where it was let free. */
  settingExponent: { mean: number; sd: number } | null;
}

const withThreshold = (form: ThresholdForm, factor: number): RowChange => ({
  powerFactor: (input, material) => powerFactorByThreshold(input, material, form, factor),
});

const withConduction = (factor: number): RowChange => ({
  input: (input) => {
    const conductivityWPerMK = factor * input.stock.conductivityWPerMK;
    return { ...input, stock: { ...input.stock, conductivityWPerMK } };
  },
});

/** Curves and straight runs of another size, at the acceleration that is taken where none is stated. */
const withParts = (featureMm: number): RowChange => ({
  input: (input, cut) => {
    const speedMmPerS = Math.min(cut.speedMmPerS, Math.sqrt(3000 * featureMm));
    return { ...input, passes: input.passes.map((pass) => ({ ...pass, speedMmPerS })) };
  },
});

/** Another divergence share, with a band as wide. */
const withShare = (share: number): RowChange => ({
  input: (input) => {
    const { low, high } = input.doubt.divergence;
    const factor = share / input.stock.divergenceShare;
    const divergence = { low: low * factor, high: Math.min(1, high * factor) };
    return { ...input, stock: { ...input.stock, divergenceShare: share }, doubt: { ...input.doubt, divergence } };
  },
});

const withSpots = (factor: number): RowChange => ({
  input: (input) => ({
    ...input,
    beam: { ...input.beam, spotMm: input.beam.spotMm * factor, diffractionMm: input.beam.diffractionMm * factor },
  }),
});

export const TRIALS: readonly Trial[] = [
  { name: 'as kept' },
  { name: 'speeds as set, whatever the size of the parts', change: withParts(Number.POSITIVE_INFINITY) },
  { name: 'parts of 2 mm instead of 3 mm', change: withParts(2) },
  { name: 'parts of 5 mm', change: withParts(5) },
  { name: 'parts of 20 mm', change: withParts(20) },
  { name: 'width by threshold fluence, width alone', change: withThreshold('width alone', 1) },
  { name: 'width by threshold fluence, width and power', change: withThreshold('width and power', 1) },
  {
    name: 'width by threshold fluence, width and power, threshold doubled',
    change: withThreshold('width and power', 2),
  },
  {
    name: 'width by threshold fluence, width and power, but speeds as set',
    change: { ...withThreshold('width and power', 1), ...withParts(Number.POSITIVE_INFINITY) },
  },
  { name: 'watts as a power of the setting', options: { settingSd: 0.3 } },
  { name: 'divergence share 0.05', change: withShare(0.05) },
  { name: 'divergence share 0.35', change: withShare(0.35) },
  { name: 'conduction × 3', change: withConduction(3) },
  { name: 'spots × 1.3', change: withSpots(1.3) },
  { name: 'scatter of rows × 0.7', options: { rowScale: 0.7 } },
  { name: 'scatter of rows × 1.5', options: { rowScale: 1.5 } },
  { name: 'margin of daily settings 1.1', options: { margin: 1.1 } },
  { name: 'margin of daily settings 1.6', options: { margin: 1.6 } },
];

/** Fits and scores the rows of the main fit, changed as the trial says; the spreads between sheets stay as that found them. */
export function runTrial(trial: Trial, fitted: readonly Row[], sheetSd: Fit['sheetSd']): TrialResult {
  const rows = trial.change ? changedRows(fitted, trial.change) : fitted;
  const options = { ...trial.options, sheetSd };
  const whole = fitRows(rows, options);
  const sources = [...new Set(rows.map((row) => row.evidence.id))];
  const found = sources.flatMap((source) => {
    const held = rows.filter((row) => row.evidence.id === source && counts(row));
    if (held.length === 0) return [];
    const others = fitRows(
      rows.filter((row) => row.evidence.id !== source),
      options,
    );
    return held.map((row) => quickScore(others, row, options));
  });
  const daily = found.filter((one) => one.daily).map((one) => one.probability);
  return {
    name: trial.name,
    logEvidence: whole.logEvidence,
    leftOutScore: found.reduce((sum, one) => sum + one.logScore, 0),
    twentieth: daily.sort((a, b) => a - b)[Math.floor(ALARMS * daily.length)]!,
    charLevel: estimate(whole, [{ parameter: CHAR_LEVEL, coefficient: 1 }]),
    settingExponent: options.settingSd
      ? estimate(whole, [{ parameter: settingExponent(options.settingSd), coefficient: 1 }])
      : null,
  };
}

/** A row of an unseen source by the fit's own normal distribution, which the product's prediction follows closely. */
function quickScore(found: Fit, row: Row, options: FitOptions) {
  const energy = energyOf(found, row.material);
  const place = row.logRatio.at(energy.mean);
  // Believed to be nothing where it was not let free.
  const bent = { parameter: settingExponent(0), coefficient: Math.log(row.setting ?? 1) };
  const setting = estimate(found, [bent]);
  const asA: Row = { ...row, cut: { ...row.cut, quality: 'A' } };
  const sheetSd = found.sheetSd[row.materialClass] ?? 0;
  const sd = Math.hypot(
    energy.sd * row.logRatio.slopeAt(energy.mean),
    sheetSd,
    SHOP_SD,
    scatterOf(asA, options.rowScale),
    setting.sd,
  );
  const mean = place + setting.mean;
  const probability = normalCdf(mean / sd);
  if (row.cut.use === 'daily') {
    const wide = Math.hypot(sd, MARGIN_SD);
    const logScore =
      -0.5 * ((mean - Math.log(options.margin ?? MARGIN)) / wide) ** 2 - Math.log(wide * Math.sqrt(2 * Math.PI));
    return { daily: true, probability, logScore };
  }
  const outcome = row.cut.outcome === 'cut' ? probability : 1 - probability;
  return { daily: false, probability, logScore: Math.log(0.01 + 0.98 * outcome) };
}
