import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  fixed,
  formatBar,
  formatChance,
  formatCount,
  formatDepth,
  formatFocus,
  formatMm,
  formatMoney,
  formatPercent,
  formatSizeMm,
  formatSpeed,
  formatTime,
  formatWatts,
  roundTo,
  significant,
} from '../../src/units/format.ts';
import { nearestWord } from '../../src/units/nearest-word.ts';

describe('numbers in messages', () => {
  it.each([
    [formatMm(6), '6.0 mm'],
    [formatMm(6.35), '6.35 mm'],
    [formatMm(120.54), '120.5 mm'],
    [formatMm(4.05, 1), '4.1 mm'],
    [formatMm(0.137, 2), '0.14 mm'],
    [formatMm(-0.001), '0.0 mm'],
    [formatSizeMm(600, 300.06), '600 × 300.1 mm'],
    [formatDepth(4.12, 2.96, 5.34), '4.1 mm (3.0–5.3)'],
    [formatDepth(0.412, 0.296, 0.534), '0.41 mm (0.30–0.53)'],
    [formatFocus(0), 'on the face'],
    [formatFocus(-1), '1.0 mm below the face'],
    [formatFocus(0.25), '0.25 mm above the face'],
    [significant(0.04), '0.04'],
    [significant(12.345), '12.3'],
    [significant(1043.2), '1043'],
    [formatSpeed(12), '12 mm/s'],
    [formatSpeed(7.49), '7.49 mm/s'],
    [formatPercent(0.8), '80 %'],
    [formatPercent(0.29), '29 %'],
    [formatPercent(0.0004), '0.04 %'],
    [formatPercent(0.0837, 0), '8 %'],
    [formatWatts(48), '48 W'],
    [formatWatts(45.65), '45.7 W'],
    [formatBar(1.4), '1.4 bar'],
    [formatMoney({ amount: 14.5, currency: 'EUR' }), '14.50 EUR'],
    [formatMoney({ amount: 1.005, currency: 'EUR' }), '1.01 EUR'],
    [formatCount(1, 'pass', 'passes'), '1 pass'],
    [formatCount(3, 'pass', 'passes'), '3 passes'],
  ])('%s', (got, want) => {
    expect(got).toBe(want);
  });

  it.each([
    [0.25, '0.25 s'],
    [7.46, '7.5 s'],
    [9.97, '10 s'],
    [59.6, '1 min'],
    [59.4, '59 s'],
    [60, '1 min'],
    [125, '2 min 5 s'],
    [3599.7, '1 h'],
    [3780, '1 h 3 min'],
  ])('%d s reads as %s', (seconds, text) => {
    expect(formatTime(seconds)).toBe(text);
  });

  it.each([
    [0, 'under 1 %'],
    [0.004, 'under 1 %'],
    [0.012, '1 %'],
    [0.5, '50 %'],
    [0.994, '99 %'],
    [0.996, 'over 99 %'],
    [1, 'over 99 %'],
  ])('a probability of %d reads %s: certainty is never claimed', (probability, text) => {
    expect(formatChance(probability)).toBe(text);
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

it('leaves out of numbers beyond all reason what arithmetic lost', () => {
  expect(formatPercent(8.01e39 * 1.0000000000000002)).toBe('8.01e+41 %');
  expect(roundTo(-1e300, 2)).toBe(-1e300);
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
