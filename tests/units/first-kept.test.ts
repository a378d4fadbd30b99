import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { FirstKept } from '../../src/units/first-kept.ts';

describe('the first of many', () => {
  it('are those that a stable sort of all gives', () => {
    const items = fc.array(fc.record({ key: fc.integer({ min: 0, max: 9 }), id: fc.integer() }), { maxLength: 60 });
    fc.assert(
      fc.property(items, fc.integer({ min: 0, max: 20 }), (all, most) => {
        const kept = new FirstKept<(typeof all)[number]>(most, (a, b) => a.key - b.key);
        const out = all.flatMap((one) => kept.add(one) ?? []);
        const sorted = [...all].sort((a, b) => a.key - b.key);
        expect(kept.sorted()).toEqual(sorted.slice(0, most));
        expect(kept.size).toBe(Math.min(most, all.length));
        expect(new Set(out)).toEqual(new Set(sorted.slice(most)));
      }),
    );
  });

  it('can be made fewer, the last of them first', () => {
    const kept = new FirstKept<number>(Number.POSITIVE_INFINITY, (a, b) => a - b);
    for (const one of [3, 1, 2]) kept.add(one);
    expect([kept.dropLast(), kept.dropLast(), kept.sorted(), kept.dropLast(), kept.dropLast()]).toEqual([
      3,
      2,
      [1],
      1,
      null,
    ]);
  });
});
