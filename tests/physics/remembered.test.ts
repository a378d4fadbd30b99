// What is remembered of cuts, held against computing each anew.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CutInput, predictCut, probabilityFrom, throughProbability } from '../../src/physics/doubt/predict.ts';
import {
  rememberedPrediction,
  rememberedProbability,
  rememberedProbabilityFrom,
} from '../../src/physics/doubt/remembered.ts';
import { learnedShares } from '../../src/physics/doubt/samples.ts';
import { ACRYLIC, co2Beam, DOUBT, PINE, pineCut } from './sample-cuts.ts';

/** Few enough that most of what is drawn comes again, the same or alike but for one number. */
const cuts = fc
  .record({
    beam: fc.constantFrom(co2Beam(2), co2Beam(4)),
    stock: fc.constantFrom(PINE, ACRYLIC),
    thicknessMm: fc.constantFrom(3, 6),
    powerW: fc.constantFrom(30, 50),
    speedMmPerS: fc.constantFrom(5, 10, 20),
    count: fc.constantFrom(1, 2),
  })
  .map(
    ({ count, powerW, speedMmPerS, ...rest }): CutInput => ({
      ...rest,
      doubt: { ...DOUBT },
      passes: Array.from({ length: count }, () => ({ powerW, speedMmPerS, focusMm: 0 })),
      bowMm: 0,
    }),
  );

describe('what is remembered of a cut', () => {
  it('is what computing it gives, whatever was asked before', () => {
    const met = { reached: 0, missed: 0 };
    fc.assert(
      fc.property(cuts, fc.constantFrom(0, 0.2, 0.5, 0.9, 0.95, 1), (cut, limit) => {
        const chance = probabilityFrom(limit, cut);
        met[chance === null ? 'missed' : 'reached']++;
        expect(rememberedProbabilityFrom(limit, cut)).toBe(chance);
      }),
      { numRuns: 600, seed: 5 },
    );
    expect(Math.min(met.reached, met.missed)).toBeGreaterThan(100);
  });

  it('is asked for again when a limit that was not reached is lowered, and not when the chance is known', () => {
    const cut = pineCut(12);
    const chance = throughProbability(cut);
    expect(chance, 'a cut that leaves something open').toBeGreaterThan(0.1);
    expect(chance).toBeLessThan(0.9);
    expect(rememberedProbabilityFrom(0.95, cut)).toBeNull();
    expect(rememberedProbabilityFrom(0.99, cut)).toBeNull();
    expect(rememberedProbabilityFrom(chance, cut)).toBe(chance);
    expect(rememberedProbability(cut)).toBe(chance);
    expect(rememberedProbabilityFrom(0.95, cut)).toBeNull();
  });

  it('is of no other cut: each number changed by itself gives what it gives', () => {
    const whole: CutInput = {
      ...pineCut(12),
      beam: { ...co2Beam(2), doubt: { diameter: 0.1, spot: 0.1, computed: true, leastFactor: 0.8 } },
      passes: [
        { powerW: 25, speedMmPerS: 12, focusMm: 0 },
        { powerW: 25, speedMmPerS: 12, focusMm: -1 },
      ],
      bowMm: 1,
      kerfThresholdJPerMm2: 20,
    };
    const before = rememberedPrediction(whole);
    expect(before).toEqual(predictCut(whole));
    let moved = 0;
    for (const other of eachNumberChanged(whole)) {
      const found = rememberedPrediction(other);
      expect(found).toEqual(predictCut(other));
      expect(rememberedProbability(other)).toBe(throughProbability(other));
      if (JSON.stringify(found) !== JSON.stringify(before)) moved++;
    }
    expect(moved, 'of the numbers most bear on a cut').toBeGreaterThan(20);
  });

  it('goes by which list of learned points it rests on', () => {
    const learned = (removalFactor: number) =>
      learnedShares().map(() => ({ removalFactor, divergenceShare: 0.15, focusShiftMm: 0, scatter: 0.1 }));
    const under = (removalFactor: number) => ({
      ...pineCut(12),
      doubt: { ...DOUBT, learned: learned(removalFactor) },
    });
    for (const cut of [under(1), under(1.3), under(0.8)])
      expect(rememberedProbability(cut)).toBe(throughProbability(cut));
  });

  it('holds for cuts of many passes, which are computed each time', () => {
    const passes = Array.from({ length: 20 }, () => ({ powerW: 4, speedMmPerS: 20, focusMm: 0 }));
    const cut = { ...pineCut(12), passes };
    expect(rememberedPrediction(cut)).toEqual(predictCut(cut));
    expect(rememberedPrediction(cut)).not.toBe(rememberedPrediction(cut));
    expect(rememberedProbability(cut)).toBe(throughProbability(cut));
  });
});

/** The value once for each number in it, with that number a tenth greater. */
function* eachNumberChanged<T>(value: T): Generator<T> {
  if (typeof value === 'number') yield (value * 1.1 + 0.01) as T;
  if (typeof value !== 'object' || value === null) return;
  for (const [key, part] of Object.entries(value)) {
    for (const changed of eachNumberChanged(part)) {
      yield (Array.isArray(value) ? value.with(Number(key), changed) : { ...value, [key]: changed }) as T;
    }
  }
}
