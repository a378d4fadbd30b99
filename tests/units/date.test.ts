import { describe, expect, it } from 'vitest';
import { daysBetween, isDate, localDate } from '../../src/units/date.ts';

describe('dates', () => {
  it.each([
    ['2026-11-25', true],
    ['2024-02-29', true],
    ['2000-02-29', true],
    // No leap years: 1900 is divisible by 100 and not by 400 (Gregorian calendar).
    ['1900-02-29', false],
    ['2026-02-29', false],
    ['2026-04-31', false],
    ['2026-13-01', false],
    ['2026-00-10', false],
    ['2026-01-00', false],
    ['0050-01-01', false],
    ['2026-1-1', false],
    ['2026-11-25T00:00', false],
    ['', false],
  ])('%s is one: %s', (text, is) => {
    expect(isDate(text)).toBe(is);
  });

  it.each([
    ['2026-11-25', '2026-11-25', 0],
    ['2024-02-28', '2024-03-01', 2],
    ['2025-02-28', '2025-03-01', 1],
    // The length of the Gregorian cycle: 400 years have 146,097 days.
    ['1600-03-01', '2000-03-01', 146_097],
    ['2026-11-25', '2025-11-25', -365],
  ])('from %s to %s are %d days', (from, to, days) => {
    expect(daysBetween(from, to)).toBe(days);
  });

  it('are not reckoned with where one is none', () => {
    expect(daysBetween('2026-02-30', '2026-03-01')).toBeNull();
    expect(daysBetween('2026-03-01', 'today')).toBeNull();
  });

  it('are those on the wall of the place, not those of Greenwich', () => {
    expect(localDate(new Date(2026, 0, 5, 0, 1))).toBe('2026-01-05');
    expect(localDate(new Date(2026, 11, 31, 23, 59))).toBe('2026-12-31');
  });
});
