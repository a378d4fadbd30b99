import { describe, expect, it } from 'vitest';
import { evenPasses, roundToStep, timePerMm, typedSpeeds } from '../../src/physics/march/passes.ts';

describe('a recipe', () => {
  it('of even passes moves the focus by the same step each time', () => {
    expect(evenPasses({ passes: 3, powerW: 40, speedMmPerS: 8, focusMm: -0.5, focusStepMm: -1.5 })).toEqual([
      { powerW: 40, speedMmPerS: 8, focusMm: -0.5 },
      { powerW: 40, speedMmPerS: 8, focusMm: -2 },
      { powerW: 40, speedMmPerS: 8, focusMm: -3.5 },
    ]);
  });

  it('takes for each mm what its passes take together', () => {
    const [a, b] = [4, 10].map((speedMmPerS) => ({ powerW: 40, speedMmPerS, focusMm: 0 }));
    expect(timePerMm([a!, b!])).toBeCloseTo(0.25 + 0.1, 12);
    expect(timePerMm([])).toBe(0);
  });
});

describe('speeds that a person would type', () => {
  it('go up by 0.1 below 2 mm/s, by 0.5 below 20, by 1 below 100 and by 10 above', () => {
    expect(typedSpeeds(1.75, 3.4)).toEqual([1.8, 1.9, 2, 2.5, 3]);
    expect(typedSpeeds(19, 22.5)).toEqual([19, 19.5, 20, 21, 22]);
    expect(typedSpeeds(98, 131)).toEqual([98, 99, 100, 110, 120, 130]);
  });

  it('take in both ends where those can be typed, and are none where nothing lies between', () => {
    expect(typedSpeeds(5, 6)).toEqual([5, 5.5, 6]);
    expect(typedSpeeds(5.1, 5.4)).toEqual([]);
    expect(typedSpeeds(7, 6)).toEqual([]);
    expect(typedSpeeds(0, 0.3)).toEqual([0.1, 0.2, 0.3]);
  });

  it('come to an end', () => {
    expect(typedSpeeds(9_980, Number.POSITIVE_INFINITY)).toEqual([9_980, 9_990, 10_000]);
  });
});

it('rounding goes to the nearest multiple, without a tail', () => {
  expect([roundToStep(0.1 + 0.2, 0.1), roundToStep(1.26, 0.5), roundToStep(-1.3, 0.5), roundToStep(7, 2.5)]).toEqual([
    0.3, 1.5, -1.5, 7.5,
  ]);
});
