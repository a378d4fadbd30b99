import { describe, expect, it } from 'vitest';
import { shareDone, workFor } from '../../src/units/work.ts';

const looks = (bytes: number): number[] => Object.values(workFor(bytes));

describe('the work of a job', () => {
  it('is the same for all small files, and grows with larger ones, each share as much', () => {
    expect(looks(0)).toEqual(looks(100_000));
    expect(workFor(300_000).passes).toBe(3 * workFor(0).passes);
    expect(workFor(500_000).webs).toBe(5 * workFor(0).webs);
    expect(looks(999_999)).toEqual(looks(500_000));
    expect(workFor(50_000_000).crossings).toBe(250 * workFor(0).crossings);
  });

  it('never shrinks with a larger file, and keeps memory within bounds', () => {
    for (let bytes = 1; bytes < 1e9; bytes *= 3) {
      const [less, more] = [looks(bytes), looks(3 * bytes)];
      for (const [i, share] of less.entries()) expect(more[i]).toBeGreaterThanOrEqual(share);
    }
    expect(workFor(1e9)).toMatchObject({ outlinePoints: 4_000_000, repeatedElements: 100_000 });
  });

  it('gives passes more than any other search of lines', () => {
    const { passes, coverage, duplicates, crossings, webs } = workFor(0);
    expect(passes).toBeGreaterThan(Math.max(coverage, duplicates, crossings, webs));
  });
});

describe('the share that was done', () => {
  it.each([
    [0.999, '99 %'],
    [0.375, '37 %'],
    [0.01, '1 %'],
    [0.009, 'less than 1 %'],
    [0, 'less than 1 %'],
  ])('%d is told as %s', (share, text) => {
    expect(shareDone(share)).toBe(text);
  });
});
