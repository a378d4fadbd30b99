import { describe, expect, it } from 'vitest';
import { learnedShares } from '../../src/physics/doubt/samples.ts';

describe('the fixed points at which what was learned is taken', () => {
  it.each(['removal', 'divergence', 'focus', 'scatter'] as const)(
    'lie one in the middle of each of as many equal parts of the %s',
    (quantity) => {
      const shares = learnedShares()
        .map((point) => point[quantity])
        .sort((a, b) => a - b);
      for (const [i, share] of shares.entries()) expect(share).toBeCloseTo((i + 0.5) / shares.length, 12);
    },
  );
});
