import { describe, expect, it } from 'vitest';
import { RULES } from '../../src/cli/registered-rules.ts';
import { ERROR_BELOW_BY_CATALOGUE } from '../../src/facts/cuts/error-below-by-catalogue.ts';
import { errorLimitOf, limitOf } from '../../src/facts/cuts/limits.ts';
import { rulesInForce } from '../../src/rules/in-force.ts';
import { cut, facts, prediction } from './build-facts.ts';

/** Every chance that a prediction can say, to a tenth of a per cent. */
const CHANCES = Array.from({ length: 1001 }, (_, i) => i / 1000);
/** What a prediction rests on, with its limits. */
const BASES = [
  { basis: 'catalogue, ± 40 %', errorLimit: ERROR_BELOW_BY_CATALOGUE, limit: 0.9 },
  { basis: 'calibrated, 9 coupons', errorLimit: 0.5, limit: 0.95 },
];

/** Ids of the two rules that judge a cut, where they speak. */
function saidOf(below: number | null, throughProbability: number, basis: (typeof BASES)[number]): string[] {
  const said = below === null ? [] : [{ id: 'cut/short-of-through', severity: null, options: { below } }];
  const judged = facts({ cuts: [cut({ prediction: prediction({ throughProbability, ...basis }) })] });
  return rulesInForce(RULES, said)
    .rules.filter(({ rule }) => rule.id === 'cut/short-of-through' || rule.id === 'cut/marginal')
    .flatMap(({ rule, options }) => {
      const answer = rule.check(judged, options);
      return 'notApplicable' in answer ? [] : [...answer].map(() => rule.id);
    });
}

describe('the limits that a through cut is judged by', () => {
  it.each([null, 0, 0.05, 0.3, 0.8])('leave no gap and no overlap between error and warning, below: %s', (below) => {
    for (const basis of BASES) {
      const error = below === null || below === 0 ? basis.errorLimit : below;
      for (const chance of CHANCES) {
        const expected = chance < error ? ['cut/short-of-through'] : chance < basis.limit ? ['cut/marginal'] : [];
        expect(saidOf(below, chance, basis), `${basis.basis}, ${chance}`).toEqual(expected);
      }
    }
  });

  it('ask more of a cut where coupons speak than where only the catalogue does', () => {
    const by = (bracketed: boolean) => [errorLimitOf({ bracketed }), limitOf({ bracketed })];
    expect(by(false)).toEqual([ERROR_BELOW_BY_CATALOGUE, 0.9]);
    expect(by(true)).toEqual([0.5, 0.95]);
    // The range in which the fit looks for it: docs/evidence.md.
    expect(ERROR_BELOW_BY_CATALOGUE).toBeGreaterThanOrEqual(0.1);
    expect(ERROR_BELOW_BY_CATALOGUE).toBeLessThanOrEqual(0.5);
  });
});
