import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  fixed,
  formatBar,
  formatCount,
  formatMm,
  formatMoney,
  formatPercent,
  formatSpeed,
  formatTime,
  formatWatts,
  roundTo,
} from '../../src/units/format.ts';
import { nearestWord } from '../../src/units/nearest-word.ts';

describe('numbers in messages', () => {
  it.each([
    [formatMm(6), '6.0 mm'],
    [formatMm(4.05), '4.1 mm'],
    [formatMm(0.137, 2), '0.14 mm'],
    [formatMm(-0.01), '0.0 mm'],
    [formatSpeed(12), '12 mm/s'],
    [formatSpeed(7.49), '7.5 mm/s'],
    [formatPercent(0.8), '80 %'],
    [formatPercent(0.29), '29 %'],
    [formatWatts(48), '48 W'],
    [formatBar(1.4), '1.4 bar'],
    [formatMoney({ amount: 14.5, currency: 'EUR' }), '14.50 EUR'],
    [formatMoney({ amount: 1.005, currency: 'EUR' }), '1.01 EUR'],
    [formatCount(1, 'pass', 'passes'), '1 pass'],
    [formatCount(3, 'pass', 'passes'), '3 passes'],
  ])('%s', (got, want) => {
    expect(got).toBe(want);
  });

  it.each([
    [0.54, '0.5 s'],
    [59.4, '59 s'],
    [60, '1 min'],
    [125, '2 min 5 s'],
    [3599.7, '1 h'],
    [3780, '1 h 3 min'],
  ])('%d s reads as %s', (seconds, text) => {
    expect(formatTime(seconds)).toBe(text);
  });

  it('rounds half away from zero as the decimal digits are written, symmetrically', () => {
    fc.assert(
      fc.property(fc.integer({ min: -1_000_000, max: 1_000_000 }), (thousandths) => {
        const value = thousandths / 1000;
        // The exact answer in whole numbers.
        const hundredths = Math.sign(thousandths) * Math.floor((Math.abs(thousandths) + 5) / 10);
        expect(roundTo(value, 2) * 1).toBeCloseTo(hundredths / 100, 12);
        expect(fixed(value, 2)).not.toMatch(/^-0\.00$/);
      }),
    );
  });
});

describe('the word that was meant', () => {
  it.each([
    ['sped', 'speed'],
    ['thicknes', 'thickness'],
    ['psases', 'passes'],
    ['Lens', 'lens'],
  ])('%s → %s', (written, meant) => {
    expect(nearestWord(written, ['speed', 'thickness', 'passes', 'lens'])).toBe(meant);
  });

  it('is not guessed at from afar', () => {
    expect(nearestWord('colour', ['speed', 'thickness', 'passes', 'lens'])).toBeUndefined();
    expect(nearestWord('x'.repeat(5000), ['speed'])).toBeUndefined();
  });
});
