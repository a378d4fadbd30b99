import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lastThat } from '../../src/physics/search/last-that.ts';

describe('the last of those that do', () => {
  it('is found wherever it is, and wherever it was believed', () => {
    fc.assert(
      fc.property(fc.nat(60), fc.nat(60), fc.integer({ min: -5, max: 70 }), (length, first, near) => {
        const candidates = Array.from({ length }, (_, i) => i);
        const doing = candidates.filter((i) => i < first);
        let tried = 0;
        const found = lastThat(
          candidates,
          (i) => {
            tried++;
            return i < first ? i * 10 : null;
          },
          near,
        );
        expect(found).toBe(doing.length === 0 ? null : doing.at(-1)! * 10);
        expect(tried).toBeLessThanOrEqual(14);
      }),
      { numRuns: 3000 },
    );
  });

  it('is found with two trials where it was believed rightly', () => {
    const tried: number[] = [];
    const does = (i: number) => {
      tried.push(i);
      return i < 40 ? i : null;
    };
    expect(
      lastThat(
        Array.from({ length: 100 }, (_, i) => i),
        does,
        40,
      ),
    ).toBe(39);
    expect(tried).toEqual([40, 39]);
  });
});
