import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { LatelyUsed } from '../../src/units/lately-used.ts';

const MOST = 4;

/** The same told by hand: every value, and the keys in the order of their last use. */
class Told {
  readonly values = new Map<number, string>();
  #order: number[] = [];

  enter(key: number, value: string): void {
    this.values.set(key, value);
    this.use(key);
  }

  use(key: number): void {
    this.#order = [key, ...this.#order.filter((one) => one !== key)];
  }

  /** What may be found: it must be where the key is among the last, and may be gone elsewhere. */
  allows(key: number, found: string | undefined): boolean {
    if (found === undefined) return !this.#order.slice(0, MOST).includes(key);
    return found === this.values.get(key);
  }
}

describe('what was used lately', () => {
  it('is what was entered, the last ones surely, and never more than twice as many', () => {
    const met = { kept: 0, gone: 0 };
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.boolean(), fc.nat(12)), { maxLength: 80 }), (steps) => {
        const used = new LatelyUsed<number, string>(MOST);
        const told = new Told();
        for (const [at, [enter, key]] of steps.entries()) {
          if (enter) {
            used.set(key, `${key}, ${at}`);
            told.enter(key, `${key}, ${at}`);
            continue;
          }
          const found = used.get(key);
          expect(told.allows(key, found)).toBe(true);
          met[found === undefined ? 'gone' : 'kept']++;
          if (found !== undefined) told.use(key);
        }
        const there = [...told.values.keys()].filter((key) => used.get(key) !== undefined);
        expect(there.length).toBeLessThanOrEqual(2 * MOST);
      }),
      { numRuns: 500 },
    );
    expect(Math.min(met.kept, met.gone)).toBeGreaterThan(100);
  });
});
