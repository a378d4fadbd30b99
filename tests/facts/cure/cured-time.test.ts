import { describe, expect, it } from 'vitest';
import { curedTime } from '../../../src/facts/cure/cured-time.ts';
import type { CutFact } from '../../../src/facts/cuts/cut-fact.ts';
import type { JobFacts } from '../../../src/facts/facts.ts';
import { artworkOnly, type Change, cut, facts, pass, strokesThrough, task, toolpath } from '../../rules/build-facts.ts';

const at = (...speeds: number[]): CutFact =>
  cut({ passes: speeds.map((mmPerS) => pass({ programmedMmPerS: mmPerS, speedMmPerS: mmPerS })) });

/** A line of 80 mm in the toolpath, for which 12 mm/s are programmed. */
function lineAt(reachedMmPerS: number, change: Change<JobFacts> = {}): JobFacts {
  const strokes = strokesThrough([
    [10, 10],
    [90, 10],
  ]);
  strokes.reachedMmPerS.fill(reachedMmPerS);
  return facts({ toolpath: toolpath({ strokes }), ...change });
}

/** How much longer the cuts of a job take, s. */
function moreS(job: JobFacts, ...changed: (readonly [CutFact, CutFact])[]): number {
  return curedTime(job, changed)!.cuttingS - job.time!.cuttingS;
}

describe('the time of a job whose cuts run otherwise', () => {
  it('is longer by what its cutting takes longer, and the same in all else', () => {
    const time = { totalS: 40, cuttingS: 25, rasterS: 3, travelS: 8, dwellS: 4, basis: 'toolpath' as const };
    const job = lineAt(12, { time });
    // 80 mm at 4 mm/s for 80 mm at 12 mm/s.
    const more = 80 / 4 - 80 / 12;
    expect(curedTime(job, [[at(12), at(4)]])).toEqual({
      ...time,
      totalS: expect.closeTo(40 + more, 9),
      cuttingS: expect.closeTo(25 + more, 9),
    });
  });

  it('is not known where it was not', () => {
    expect(curedTime({ ...lineAt(12), time: null }, [[at(12), at(4)]])).toBeNull();
  });

  it('is the same where nothing changes', () => {
    expect(moreS(lineAt(12))).toBe(0);
    expect(moreS(lineAt(10), [at(12), at(12)])).toBeCloseTo(0, 9);
  });

  it('sums what several cuts take longer', () => {
    expect(moreS(lineAt(12), [at(12), at(4)], [at(12), at(6)])).toBeCloseTo(80 / 4 + 80 / 6 - 160 / 12, 9);
  });
});

describe('strokes of the toolpath', () => {
  it('cost in starts and stops what they cost in the file, more the faster they are run', () => {
    // Reached 10 of 12 mm/s: 8 s, of which 8 − 80/12 are starts and stops; at half the speed they cost half.
    const starts = 8 - 80 / 12;
    expect(moreS(lineAt(10), [at(12), at(6)])).toBeCloseTo(80 / 6 + starts / 2 - 8, 9);
    expect(moreS(lineAt(10), [at(12), at(24)])).toBeCloseTo(80 / 24 + 2 * starts - 8, 9);
  });

  it('never take less than in the file where they are run more slowly, never more where faster', () => {
    // 80 s in the file, nearly all of it starts and stops.
    expect(moreS(lineAt(1), [at(12), at(10)])).toBeCloseTo(0, 9);
    expect(moreS(lineAt(1), [at(12), at(24)])).toBeCloseTo(0, 9);
  });

  it('are never in less time than the file where they reach more than was programmed', () => {
    expect(moreS(lineAt(20), [at(12), at(12)])).toBe(0);
    expect(moreS(lineAt(16), [at(12), at(6)])).toBeCloseTo(80 / 6 - 80 / 16, 9);
  });

  it('are run as often as there are passes: those in the file are each a run of their own', () => {
    // One stroke in the file is one of two passes; three passes are half as much again.
    expect(moreS(lineAt(12), [at(12, 12), at(12, 12, 12)])).toBeCloseTo(80 / 12 / 2, 9);
    expect(moreS(lineAt(12), [at(12), at(6, 12, 6)])).toBeCloseTo(2 * (80 / 6), 9);
  });

  it('are counted by their own numbers alone, and not where nothing is known of their speed', () => {
    const strokes = strokesThrough([
      [0, 0],
      [60, 0],
      [60, 30],
      [0, 30],
    ]);
    strokes.reachedMmPerS.set([12, 12, 0]);
    const job = facts({ toolpath: toolpath({ strokes }) });
    const of = (numbers: number[]) => ({ ...at(12), strokes: Uint32Array.from(numbers) });
    expect(moreS(job, [of([1]), at(6)])).toBeCloseTo(30 / 6 - 30 / 12, 9);
    expect(moreS(job, [of([0, 1]), at(6)])).toBeCloseTo(90 / 6 - 90 / 12, 9);
    expect(moreS(job, [of([2]), at(6)])).toBe(0);
    strokes.speedMmPerS.fill(Number.NaN);
    expect(moreS(job, [of([0]), at(6)])).toBe(0);
  });

  it('take none where the cut had no pass and gets none', () => {
    expect(moreS(lineAt(12), [cut({ passes: [] }), cut({ passes: [] })])).toBe(0);
    expect(moreS(lineAt(12), [cut({ passes: [] }), at(10)])).toBeCloseTo(8, 9);
  });
});

describe('outlines of artwork', () => {
  const time = { totalS: 26, cuttingS: 25, rasterS: 0, travelS: 1, dwellS: 0, basis: 'artwork' as const };
  const drawn = (change: Change<JobFacts> = {}) =>
    artworkOnly({ time, tasks: [task({ strokes: new Uint32Array(0) })], ...change });
  /** Time of the rim, 80 × 70 mm, at a speed, but for corners. */
  const rimS = (mmPerS: number) => 300 / mmPerS;

  it('are planned anew, in all passes', () => {
    const corners = 0.05;
    expect(Math.abs(moreS(drawn(), [at(12), at(6)]) - (rimS(6) - rimS(12)))).toBeLessThan(corners);
    expect(Math.abs(moreS(drawn(), [at(12), at(12, 12)]) - rimS(12))).toBeLessThan(corners);
  });

  it('take no time of a cut without passes', () => {
    const without = cut({ passes: [] });
    expect(moreS(drawn(), [without, without])).toBe(0);
    expect(moreS(drawn(), [without, at(6)])).toBeGreaterThan(49);
  });

  it('are no part of the time where that is the toolpath’s, nor without artwork or machine', () => {
    const changed = [at(12), at(6)] as const;
    const absent = [task({ strokes: new Uint32Array(0) })];
    expect(moreS(facts({ tasks: absent }), changed)).toBe(0);
    expect(moreS({ ...drawn(), artwork: null }, changed)).toBe(0);
    expect(moreS({ ...drawn(), machine: null }, changed)).toBe(0);
    expect(moreS(facts({ tasks: absent, time }), changed)).toBeGreaterThan(20);
    // A cut of a task that is not there comes from no toolpath.
    expect(moreS(facts({ time }), [{ ...at(12), taskIndex: 7 }, at(6)])).toBeGreaterThan(20);
  });
});
