import { groundsOf } from '../../../src/facts/coupons/grounds.ts';
import type { CutContext } from '../../../src/facts/cuts/one-cut.ts';
import { opticsOf } from '../../../src/facts/cuts/optics.ts';
import { CutPredictor } from '../../../src/facts/cuts/prediction.ts';
import type { Setup } from '../../../src/facts/cuts/setup.ts';
import { workFor } from '../../../src/units/work.ts';
import { facts, machine, material, pass } from '../../rules/build-facts.ts';

/** A sheet of 6 mm under the invented machine's first lens, with the changes given. */
export function setUp(change: Partial<Setup> = {}): Setup {
  const at = change.machine ?? machine();
  const lens = change.lens ?? at.lenses[0]!;
  const of = change.material ?? material();
  return {
    machine: at,
    lens,
    beam: opticsOf(at, lens.id).beam!,
    material: of,
    grounds: groundsOf(at, lens, of)!,
    thicknessMm: 6,
    thicknessSpreadMm: 0.1,
    bowMm: 0,
    ...change,
  };
}

export const predictor = (change: Partial<Setup> = {}) => new CutPredictor(setUp(change));

/** What cuts are found and predicted from: the invented machine, and a job of which nobody says where it lies on the bed. */
export const context = (change: Partial<CutContext> = {}): CutContext => ({
  job: facts().input,
  machine: machine(),
  predicting: { predictor: predictor(), notPredicted: null },
  onBed: { box: null, unknown: 'X0 Y0 is set by hand', unfollowed: null, shift: null },
  fullW: 54,
  work: workFor(0),
  ...change,
});

/** The speed, to a hundredth of a mm/s, at which so many passes at full power are as sure as they are held to, to the digit. */
export function speedAtLimit(passes: number): number {
  const made = predictor();
  for (let hundredths = 200; hundredths < 2000; hundredths++) {
    const run = Array.from({ length: passes }, () => pass({ setting: 1, speedMmPerS: hundredths / 100 }));
    if (made.chanceFrom(0, run, 0.05) === 0.9) return hundredths / 100;
  }
  throw new Error('no speed is at the limit');
}
