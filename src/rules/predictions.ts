import type { CutFact, JobFacts, Prediction } from '../facts/facts.ts';
import type { NotApplicable } from './rule.ts';
import { mm } from './wording.ts';

/** A through cut with its prediction. */
export interface PredictedCut {
  cut: CutFact;
  prediction: Prediction;
}

/** The through cuts that were predicted, or why there are none. */
export function throughCuts(facts: JobFacts): PredictedCut[] | NotApplicable {
  return predicted(
    facts.cuts.filter((cut) => cut.aim === 'through'),
    'no cut has to go through',
  );
}

/** The cuts of any aim that were predicted, or why there are none. */
export function predictedCuts(facts: JobFacts): PredictedCut[] | NotApplicable {
  return predicted(facts.cuts, 'no cut goes into depth');
}

function predicted(cuts: readonly CutFact[], none: string): PredictedCut[] | NotApplicable {
  const found = cuts.flatMap((cut) => (cut.prediction === null ? [] : [{ cut, prediction: cut.prediction }]));
  if (found.length > 0) return found;
  return { notApplicable: cuts.find((cut) => cut.notPredicted !== null)?.notPredicted ?? none };
}

/** "4.1 mm (3.0–5.3)". */
export function depthWords(prediction: Prediction): string {
  return `${mm(prediction.depthMm)} mm (${mm(prediction.depthLowMm)}–${mm(prediction.depthHighMm)})`;
}

/** What to do, as one sentence: the cheapest remedy, or that none was found. */
export function remedySentence(cut: CutFact): string {
  const text =
    cut.remedies[0]?.text ??
    'No setting of this machine was found that would do it: take a thinner sheet or a stronger source';
  return text.endsWith('.') ? text : `${text}.`;
}

/** The remedies behind the first, each a way of its own. */
export function remedyHints(cut: CutFact): string[] {
  return cut.remedies.slice(1, 4).map((remedy) => `Or: ${remedy.text}`);
}
