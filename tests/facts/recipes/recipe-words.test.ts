import { describe, expect, it } from 'vitest';
import { airBar } from '../../../src/facts/recipes/air.ts';
import type { Bound } from '../../../src/facts/recipes/recipe-fact.ts';
import { boundText } from '../../../src/facts/recipes/recipe-text.ts';
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
    [{ kind: 'named-lens', value: null }, 'the lens that is named'],
  ])('%o: %s', (bound, text) => {
    expect(boundText(bound)).toBe(text);
  });
});
