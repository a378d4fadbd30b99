import { describe, expect, it } from 'vitest';
import { leastSure } from '../../../src/facts/cuts/least-sure.ts';
import { lensOutlook } from '../../../src/facts/cuts/lens-outlook.ts';
import { powerSpreadOf, predictorUnder } from '../../../src/facts/cuts/predictor-under.ts';
import { setUpUnder } from '../../../src/facts/cuts/setup.ts';
import type { Lens } from '../../../src/job/model.ts';
import { cut, facts, machine, material, pass, prediction, sidecar } from '../../rules/build-facts.ts';
import { predictor, setUp } from './set-up.ts';

const chance = (throughProbability: number) => cut({ prediction: prediction({ throughProbability }) });

describe('the least sure cut', () => {
  it('is the first of those that must go through and are least likely to', () => {
    const cuts = [
      chance(0.8),
      { ...chance(0.1), aim: 'groove' as const },
      cut({ prediction: null }),
      chance(0.4),
      chance(0.4),
      chance(0.9),
    ];
    expect(leastSure(cuts)).toBe(cuts[3]);
  });

  it('is none where no through cut was predicted', () => {
    expect(leastSure([])).toBeNull();
    expect(leastSure([cut({ prediction: null }), cut({ aim: 'groove' })])).toBeNull();
  });
});

describe('what a longer lens would do', () => {
  const [short, long] = machine().lenses;
  const withLenses = (...lenses: Lens[]) => machine({ lenses });
  const thick = (lenses: readonly Lens[] = [short!, long!]) =>
    predictor({ machine: withLenses(...lenses), thicknessMm: 9, lens: short! });
  const slow = cut({
    passes: [pass({ speedMmPerS: 4, focusMm: 2 }), pass({ speedMmPerS: 4, focusMm: 1, setting: 0.5 })],
  });

  it('is the chance of the least sure cut with the focus where it serves best of three places', () => {
    const found = lensOutlook(
      [chance(0.95), { ...slow, prediction: prediction({ throughProbability: 0.2 }) }],
      thick(),
    )!;
    expect(found).toMatchObject({ lens: '4in', focalMm: 101.6 });
    const under = predictor({ machine: withLenses(short!, long!), thicknessMm: 9, lens: long! });
    // As it is set, on the face and a third of the sheet below it, the second pass 1 mm lower each time.
    const chances = [2, 0, -3].map((focusMm) => {
      const passes = slow.passes.map((one, i) => ({ ...one, focusMm: focusMm - i }));
      return under.chanceFrom(0, passes, Math.hypot(0.05, 0.05))!;
    });
    expect(found.throughProbability).toBe(Math.max(...chances));
    expect(new Set(chances).size).toBeGreaterThan(1);
  });

  it('is told of the lens that parts the sheet the likeliest, and only of longer ones', () => {
    const three: Lens = { ...long!, id: '3in', focalMm: 76.2 };
    const one: Lens = { ...short!, id: '1.5in', focalMm: 38.1 };
    const forward = lensOutlook([slow], thick([short!, one, three, long!]))!;
    const backward = lensOutlook([slow], thick([long!, three, short!, one]))!;
    expect(forward).toEqual(backward);
    const alone = [three, long!].map((lens) => lensOutlook([slow], thick([short!, lens]))!.throughProbability);
    expect(forward.throughProbability).toBe(Math.max(...alone));
    expect(lensOutlook([slow], thick([short!, one]))).toBeNull();
  });

  it('is told even where it has no chance', () => {
    const hopeless = cut({ passes: [pass({ speedMmPerS: 400 })] });
    expect(lensOutlook([hopeless], thick())).toMatchObject({ lens: '4in', throughProbability: 0 });
  });

  it('passes over a lens that gives no beam', () => {
    // A spot that was measured as nothing.
    const broken: Lens = { ...long!, id: 'broken', focalMm: 90, spotMm: { xMm: 0, yMm: 0 } };
    expect(lensOutlook([slow], thick([short!, broken, long!]))).toMatchObject({ lens: '4in' });
  });

  it('is not asked for within the depth of focus, nor without a prediction', () => {
    // Twice z_R: 2.32 mm.
    expect(lensOutlook([slow], predictor({ thicknessMm: 2.3 }))).toBeNull();
    expect(lensOutlook([slow], predictor({ thicknessMm: 2.4 }))).not.toBeNull();
    expect(lensOutlook([slow], null)).toBeNull();
    expect(lensOutlook([cut({ prediction: null })], thick())).toBeNull();
  });
});

describe('the same sheet under another lens', () => {
  const [, long] = machine().lenses;

  it('has its beam, with the wider side of a spot that is not round, and all else as before', () => {
    const before = setUp();
    const flat: Lens = { ...long!, spotMm: { xMm: 0.1, yMm: 0.3 } };
    const under = setUpUnder(before, flat)!;
    expect(under).toMatchObject({ lens: flat, machine: before.machine, thicknessMm: 6, bowMm: 0 });
    expect(under.beam.spotMm).toBeCloseTo(0.3, 12);
    expect(under.grounds.stock).toEqual(before.grounds.stock);
  });

  it('is nothing without a beam or without anything known of the material', () => {
    expect(setUpUnder(setUp(), { ...long!, focalMm: 0 })).toBeNull();
    expect(setUpUnder({ ...setUp(), material: material({ removal: null }) }, long!)).toBeNull();
  });
});

describe('the sheet of a job under one of its machine’s lenses', () => {
  const [, long] = machine().lenses;

  it('is predicted from what the job states', () => {
    const job = facts({ thicknessMm: 5, thicknessSpreadMm: 0.3, input: { sidecar: sidecar({ bowMm: 1.5 }) } });
    const flat: Lens = { ...long!, spotMm: { xMm: 0.3, yMm: 0.1 } };
    const { setup, spotMm } = predictorUnder(job, flat)!;
    expect(setup).toMatchObject({ lens: flat, thicknessMm: 5, thicknessSpreadMm: 0.3, bowMm: 1.5 });
    expect([setup.machine, setup.material]).toEqual([job.machine, job.material]);
    expect(spotMm).toBeCloseTo(0.3, 12);
  });

  it('is taken as flat where nothing is said', () => {
    const noWord = facts({ input: { sidecar: sidecar({ bowMm: null }) } });
    const bare = { ...facts(), input: { ...facts().input, sidecar: null } };
    for (const job of [noWord, bare]) expect(predictorUnder(job, long!)!.setup.bowMm).toBe(0);
  });

  it('is not predicted where something is missing', () => {
    expect(predictorUnder({ ...facts(), machine: null }, long!)).toBeNull();
    expect(predictorUnder({ ...facts(), material: null }, long!)).toBeNull();
    expect(predictorUnder({ ...facts(), thicknessMm: null }, long!)).toBeNull();
    expect(predictorUnder({ ...facts(), material: material({ removal: null }) }, long!)).toBeNull();
    expect(predictorUnder(facts(), { ...long!, focalMm: 0 })).toBeNull();
  });

  it('gets power that is as unsteady as at the weakest setting', () => {
    const spread = (job: Parameters<typeof powerSpreadOf>[0], ...settings: number[]) =>
      powerSpreadOf(
        job,
        settings.map((setting) => pass({ setting })),
      );
    expect(spread(facts(), 1)).toBe(0.05);
    expect(spread(facts(), 1, 0.5, 0.9)).toBeCloseTo(Math.hypot(0.05, 0.05), 9);
    expect(spread({ machine: null }, 1)).toBe(0);
    expect(spread({ machine: machine({ source: { measuredW: 0 } }) }, 1)).toBe(0);
    expect(spread(facts())).toBe(0);
  });
});
