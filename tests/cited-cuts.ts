import type { CutQuestion } from '../src/facts/evidence/near-cuts.ts';
import type { CitedCut } from '../src/job/evidence/cited-cuts.ts';

/** A published cut that nobody published, for tests. */
export const citedCut = (change: Partial<CitedCut> = {}): CitedCut => ({
  id: 'r1',
  source: 'a-shop',
  citation: 'A shop, wiki',
  kind: 'co2',
  material: 'birch-plywood',
  thicknessMm: 6,
  ratedW: 60,
  setting: 0.5,
  powerW: 30,
  speedMmPerS: 15,
  passes: 1,
  focusMm: 0,
  focalMm: null,
  outcome: 'cut',
  depthMm: null,
  use: 'daily',
  quality: 'A',
  worn: false,
  inferred: [],
  note: null,
  predictedDepthMm: 6.8,
  throughProbability: 0.71,
  ...change,
});

/** A recipe about which one asks: 6 mm of birch plywood in one pass. */
export const asked = (change: Partial<CutQuestion> = {}): CutQuestion => ({
  kind: 'co2',
  material: 'birch-plywood',
  thicknessMm: 6,
  powerW: 30,
  speedMmPerS: 15,
  passes: 1,
  ...change,
});
