import { describe, expect, it } from 'vitest';
import { airBar } from '../../../src/facts/recipes/air.ts';
import type { Bound, Recipe } from '../../../src/facts/recipes/recipe-fact.ts';
import { boundsText, boundText, focusText, recipeText } from '../../../src/facts/recipes/recipe-text.ts';
import type { Machine, Material } from '../../../src/job/model.ts';

// The pressures are common practice, no source.
describe('air assist to begin with', () => {
  const machine = (maximumBar: number | null) =>
    ({ air: maximumBar === null ? null : { maximumBar } }) as unknown as Machine;
  const bar = (family: Material['family'], maximumBar: number | null) =>
    airBar(machine(maximumBar), { family } as Material);

  it('is gentle on what melts, burns or is blown about, and no more than the supply gives', () => {
    expect([bar('acrylic', 3), bar('paper', 3), bar('textile', 3), bar('foam', 3)]).toEqual([0.3, 0.3, 0.3, 0.5]);
    expect([bar('wood', 3), bar('wood', 0.6), bar('acrylic', 0.2)]).toEqual([1, 0.6, 0.2]);
  });

  it('is not known where the profile says nothing of the supply', () => {
    expect(bar('wood', null)).toBeNull();
  });
});

describe('what holds a recipe back, in words', () => {
  it.each<[Bound, string]>([
    [{ kind: 'ceiling', value: 0.9 }, 'the recommended maximum of 90 %'],
    [{ kind: 'ceiling', value: 1 }, 'full power'],
    [{ kind: 'most-passes', value: 1 }, '1 pass at most with this kind of source'],
    [{ kind: 'most-passes', value: 3 }, '3 passes at most with this kind of source'],
    [{ kind: 'named-lens', value: null }, 'the lens that is named'],
    [{ kind: 'assumed-ceiling', value: 0.8 }, '80 %, the usual maximum of such a source, which is assumed'],
    [{ kind: 'planned-power', value: 0.3 }, 'the planned power of 30 %'],
    [{ kind: 'clean-speed', value: 4 }, 'the clean speed of 4 mm/s'],
    [{ kind: 'slowest-speed', value: 0.5 }, 'a slowest speed of 0.5 mm/s'],
    [{ kind: 'planned-speed', value: 12 }, 'the planned speed of 12 mm/s'],
    [{ kind: 'planned-passes', value: 1 }, 'the planned 1 pass'],
    [{ kind: 'planned-passes', value: 2 }, 'the planned 2 passes'],
    [{ kind: 'planned-focus', value: 0 }, 'the planned focus on the face'],
    [{ kind: 'planned-focus', value: -1 }, 'the planned focus 1.0 mm below the face'],
    [{ kind: 'depth-of-focus', value: 2.34 }, 'a depth of focus of 2.3 mm'],
    [{ kind: 'fastest-speed', value: 200 }, "the head's 200 mm/s"],
  ])('%o: %s', (bound, text) => {
    expect(boundText(bound)).toBe(text);
  });
});

describe('all that holds a recipe back', () => {
  const all: Bound[] = [
    { kind: 'ceiling', value: 1 },
    { kind: 'clean-speed', value: 4 },
    { kind: 'named-lens', value: null },
  ];

  it('is told in a row', () => {
    expect(boundsText([])).toBe('');
    expect(boundsText(all.slice(0, 1))).toBe('full power');
    expect(boundsText(all.slice(0, 2))).toBe('full power and the clean speed of 4 mm/s');
    expect(boundsText(all)).toBe('full power, the clean speed of 4 mm/s and the lens that is named');
  });
});

describe('a recipe in words', () => {
  const recipe: Recipe = {
    lens: '2in',
    setting: 0.85,
    powerW: 42.5,
    speedMmPerS: 6.5,
    passes: 2,
    focusMm: -1,
    focusStepMm: -1.5,
    throughProbability: 0.93,
  };

  it('has its passes, watts, share, speed and focus, and the lens where that is another than the fitted one', () => {
    const text = '2 passes at 42.5 W (85 %), 6.5 mm/s, the focus 1.0 mm below the face and lowered 1.5 mm after each';
    expect(recipeText(recipe, '2in')).toBe(text);
    expect(recipeText(recipe, '4in')).toBe(`${text}, with the 2in lens`);
    expect(recipeText(recipe, null)).toBe(`${text}, with the 2in lens`);
    expect(recipeText({ ...recipe, passes: 1, focusStepMm: 0 }, '2in')).toBe(
      '1 pass at 42.5 W (85 %), 6.5 mm/s, the focus 1.0 mm below the face',
    );
  });

  it('says of the focus that it is lowered only where it is', () => {
    expect(focusText({ focusMm: 0, focusStepMm: 0 })).toBe('the focus on the face');
    expect(focusText({ focusMm: 0.5, focusStepMm: 0.5 })).toBe('the focus 0.5 mm above the face');
  });
});
