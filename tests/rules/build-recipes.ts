import type { RemedyFact } from '../../src/facts/cuts/cut-fact.ts';
import type { ProposalFact, Recipe } from '../../src/facts/recipes/recipe-fact.ts';

/** A remedy that slows the cut, in these words. */
export const remedy = (text: string, change: Partial<RemedyFact> = {}): RemedyFact => ({
  kind: 'slower',
  text,
  powerW: null,
  setting: null,
  speedMmPerS: 7.5,
  passes: null,
  focusMm: null,
  focusStepMm: null,
  lens: null,
  layers: null,
  layerThicknessMm: null,
  throughProbability: 0.91,
  ...change,
});

/** The most that the machine of these tests can do, which is not enough. */
export const recipe = (change: Partial<Recipe> = {}): Recipe => ({
  lens: '2in',
  setting: 0.85,
  powerW: 45.9,
  speedMmPerS: 4,
  passes: 3,
  focusMm: -1,
  focusStepMm: -2,
  throughProbability: 0.3,
  ...change,
});

/** What the machine can do about cuts that have no settings: nothing that is sure, unless a change says so. */
export const proposal = (cuts: ProposalFact['cuts'], change: Partial<ProposalFact> = {}): ProposalFact => ({
  cuts,
  surest: recipe(),
  proposed: null,
  limitedBy: [],
  limit: 0.9,
  errorLimit: 0.14,
  freed: null,
  thinner: null,
  published: null,
  ...change,
});
