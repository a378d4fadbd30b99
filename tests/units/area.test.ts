import { describe, expect, it } from 'vitest';
import { parseArea } from '../../src/units/compound-quantities.ts';

/** Inches to mm by hand: 1 in = 25.4 mm (NIST SP 811). */
describe('two sides of an area', () => {
  it.each([
    ['500 x 300 mm', 500, 300],
    ['500x300mm', 500, 300],
    ['50 cm × 300 mm', 500, 300],
    ['20 x 12 in', 508, 304.8],
    ['20" x 12"', 508, 304.8],
    ['1 1/2 x 2 ft', 457.2, 609.6],
    ['500 mm X 12 in', 500, 304.8],
  ])('%s', (typed, xMm, yMm) => {
    const read = parseArea(typed);
    expect(read.ok && [read.value.xMm, read.value.yMm]).toEqual([expect.closeTo(xMm, 9), expect.closeTo(yMm, 9)]);
  });

  it.each([
    ['500 x 300', /no unit: did you mean 500 x 300 mm\?/],
    ['500 mm', /not two lengths .*such as 500 x 300 mm/],
    ['1 x 2 x 3 mm', /not two lengths/],
    ['500 x wide mm', /is not a length/],
    ['500 x 300 W', /a power where a length belongs/],
    ['0 x 300 mm', /must be above 0/],
    ['', /such as 500 x 300 mm/],
    [500, /such as 500 x 300 mm/],
    ['x'.repeat(100_000), /not two lengths/],
  ])('not %s', (typed, problem) => {
    const read = parseArea(typed);
    expect(read.ok ? null : read.problem).toMatch(problem);
  });
});
