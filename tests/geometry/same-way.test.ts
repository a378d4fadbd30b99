import { describe, expect, it } from 'vitest';
import { sameWay } from '../../src/geometry/outlines/same-way.ts';

describe('two lines that leave one place', () => {
  it('run along each other where they are a hundredth of a millimetre apart at most', () => {
    expect(sameWay(40, 0, 40, 0)).toBe(true);
    expect(sameWay(40, 0, 40, 0.0099)).toBe(true);
    expect(sameWay(40, 0, 40, 0.0101)).toBe(false);
  });

  it('must agree in direction to a fiftieth where they are short', () => {
    expect(sameWay(0.1, 0, 0.1, 0.0019)).toBe(true);
    expect(sameWay(0.1, 0, 0.1, 0.0021)).toBe(false);
  });

  it('do not where one goes on ahead, aside or nowhere', () => {
    expect(sameWay(1, 0, -1, 0)).toBe(false);
    expect(sameWay(0.001, 0, -0.001, 0)).toBe(false);
    expect(sameWay(1, 0, 0, 1)).toBe(false);
    expect(sameWay(0, 0, 0, 0)).toBe(false);
    expect(sameWay(0, 0, 5, 0)).toBe(false);
    expect(sameWay(5, 0, -5, 0)).toBe(false);
  });

  it('are compared over as much as both have: where the shorter one ends', () => {
    // A line of 50 mm that rises by 0.05 mm is 0.005 mm high after 5 mm.
    expect(sameWay(50, 0.05, 5, 0)).toBe(true);
    expect(sameWay(5, 0, 50, 0.05)).toBe(true);
    expect(sameWay(50, 0.05, 50, 0)).toBe(false);
  });
});
