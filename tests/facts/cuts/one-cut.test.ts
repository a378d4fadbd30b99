import { describe, expect, it } from 'vitest';
import { type CutContext, predicted, type UnpredictedCut } from '../../../src/facts/cuts/one-cut.ts';
import { at, machine, pass } from '../../rules/build-facts.ts';
import { context, predictor, speedAtLimit } from './set-up.ts';

const found = (change: Partial<UnpredictedCut> = {}): UnpredictedCut => ({
  task: 'rim',
  aim: 'through',
  taskIndex: 2,
  lengthMm: 300,
  passes: [pass({ speedMmPerS: 12, programmedMmPerS: 24 })],
  passCount: 7,
  location: at('part.gcode', 5),
  settingLocation: at('part.gcode', 4),
  strokes: Uint32Array.of(3, 4),
  slowestMmPerS: 8,
  at: { xMm: 90, yMm: 70 },
  cutTimeS: 25,
  uneven: null,
  noRecipe: null,
  focusMoves: false,
  ...change,
});

const SURE = [pass({ speedMmPerS: 2 })];

describe('a cut of a job', () => {
  it('keeps what was found of it, with what is predicted, and says nothing of remedies yet', () => {
    const uneven = { fewest: 1, most: 2, shortMm: 4, location: at('part.gcode', 9) };
    const one = found({ uneven });
    const { cut } = predicted(context(), one);
    const { at: _, cutTimeS: __, noRecipe: ___, focusMoves: ____, slowestMmPerS: _____, ...kept } = one;
    expect(cut).toMatchObject({ ...kept, notPredicted: null, remedies: [], published: null, uneven });
    expect(cut.prediction!.throughProbability).toBeLessThan(0.1);
    expect(cut).not.toHaveProperty('at');
    expect(cut).not.toHaveProperty('cutTimeS');
    expect(cut).not.toHaveProperty('noRecipe');
    expect(cut).not.toHaveProperty('focusMoves');
  });

  it('that falls short names what remedies rest on: the power is as unsteady as at its weakest setting', () => {
    const passes = [pass({ setting: 0.5 }), pass({ setting: 1, speedMmPerS: 20 })];
    const { cut, short } = predicted(context(), found({ passes, focusMoves: true }));
    // A meter's 5 % and, half way down from the reading, another 5 % for the straight line.
    const spread = expect.closeTo(Math.hypot(0.05, 0.05), 9);
    expect(short).toEqual({ spread, at: { xMm: 90, yMm: 70 }, cutTimeS: 25, focusMoves: true });
    expect(cut.throughWithFocusStep).not.toBeNull();
  });

  it('is wanted through only if that is its aim, and falls short only if it is less sure than it is held to', () => {
    expect(predicted(context(), found({ aim: 'groove' })).short).toBeNull();
    expect(predicted(context(), found({ aim: 'groove' })).cut.prediction).not.toBeNull();
    expect(predicted(context(), found({ passes: SURE })).short).toBeNull();
    const groove = found({ aim: 'groove', passes: [pass(), pass()], focusMoves: true });
    expect(predicted(context(), groove).cut.throughWithFocusStep).toBeNull();
  });

  it('does not fall short at the very limit', () => {
    const atLimit = found({ passes: [pass({ setting: 1, speedMmPerS: speedAtLimit(1) })] });
    const { cut, short } = predicted(context(), atLimit);
    expect(cut.prediction).toMatchObject({ throughProbability: 0.9, limit: 0.9 });
    expect(short).toBeNull();
  });
});

describe('a cut is not predicted', () => {
  it.each<[string, Partial<UnpredictedCut>, Partial<CutContext>]>([
    ['power or speed is not planned', { noRecipe: 'power or speed is not planned' }, {}],
    ['a surface is marked, not cut', { aim: 'surface' }, {}],
    ['the lens is not known', {}, { predicting: { predictor: null, notPredicted: 'the lens is not known' } }],
    ['a pass has no speed', { passes: [pass(), pass({ speedMmPerS: 0 })] }, {}],
    ['a pass has no speed', { passes: [pass({ speedMmPerS: Number.NaN })] }, {}],
    ['there is no pass', { passes: [] }, {}],
    ['no pass has any power', { passes: [pass({ powerW: 0 })] }, {}],
  ])('and says why: %s', (notPredicted, change, more) => {
    const { cut, short } = predicted(context(more), found(change));
    expect(cut).toMatchObject({ notPredicted, prediction: null, throughWithFocusStep: null });
    expect(short).toBeNull();
  });

  it('for the first of several reasons: what the plan lacks, the aim, what the job lacks', () => {
    const without = context({ predicting: { predictor: null, notPredicted: 'the lens is not known' } });
    const all = found({ noRecipe: 'nothing is planned', aim: 'surface', passes: [pass({ speedMmPerS: 0 })] });
    const why = (cut: UnpredictedCut) => predicted(without, cut).cut.notPredicted;
    expect(why(all)).toBe('nothing is planned');
    expect(why({ ...all, noRecipe: null })).toBe('a surface is marked, not cut');
    expect(why({ ...all, noRecipe: null, aim: 'through' })).toBe('the lens is not known');
  });
});

describe('how much more a corner burns', () => {
  const nowhere = context({ predicting: { predictor: null, notPredicted: 'whatever' } });
  const overburn = (change: Partial<UnpredictedCut>) => predicted(nowhere, found(change)).cut.cornerOverburn;
  const constant = (programmedMmPerS: number) => pass({ programmedMmPerS, scaled: false });

  it('is the fastest pass over the slowest place, where power is constant', () => {
    expect(overburn({ passes: [constant(24)] })).toBe(3);
    expect(overburn({ passes: [constant(16), constant(24), constant(20)] })).toBe(3);
  });

  it('is nothing where power follows the speed in every pass', () => {
    expect(overburn({ passes: [pass({ programmedMmPerS: 24 })] })).toBe(1);
    expect(overburn({ passes: [pass({ programmedMmPerS: 24 }), constant(24)] })).toBe(3);
  });

  it('is nothing where the head is never slower, or where nothing is known of it', () => {
    expect(overburn({ passes: [constant(24)], slowestMmPerS: 30 })).toBe(1);
    expect(overburn({ passes: [constant(24)], slowestMmPerS: 0 })).toBe(1);
  });

  it('is felt over the width of the spot, within which a standing head speeds up again', () => {
    const lens = { ...machine().lenses[0]!, spotMm: { xMm: 0.2, yMm: 0.2 } };
    const at = machine({ lenses: [lens] });
    const wide = context({ machine: at, predicting: { predictor: predictor({ machine: at }), notPredicted: null } });
    const { cut } = predicted(wide, found({ passes: [constant(24)], slowestMmPerS: 0 }));
    // Over 0.1 mm from rest at 3000 mm/s² the mean speed is √(2 a s)/2 = 12.247 mm/s.
    expect(cut.slowestMmPerS).toBeCloseTo(12.2474, 4);
    expect(cut.cornerOverburn).toBeCloseTo(24 / 12.2474, 4);
  });
});
