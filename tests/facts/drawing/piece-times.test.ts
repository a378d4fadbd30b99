import { describe, expect, it } from 'vitest';
import { type Piece, timesOf } from '../../../src/facts/drawing/drawn-pieces.ts';

describe('where the time goes', () => {
  const piece = (change: Partial<Piece>): Piece => ({
    cut: 0,
    area: null,
    task: 'rim',
    line: { xy: [0, 0, 1, 0], closed: false },
    inProgram: true,
    atX: 0,
    atY: 0,
    lengthMm: 40,
    timeS: 4,
    file: 'coaster.gcode',
    sourceLine: 1,
    ...change,
  });

  it('is told by alike pieces, the longest sums first, and the first begun first where they are as long', () => {
    const pieces = [
      piece({ timeS: null }),
      piece({ task: 'bore', timeS: 1.004 }),
      piece({ timeS: 4 }),
      piece({ lengthMm: 30, timeS: 8.01 }),
      piece({ timeS: 4.01 }),
      piece({ task: 'bore', timeS: 1.004 }),
      piece({ lengthMm: 20, timeS: 8.01 }),
    ];
    expect(timesOf(pieces, 3)).toEqual({
      alike: [
        { task: 'rim', pieces: 2, first: 3, totalS: 8.01 },
        { task: 'rim', pieces: 1, first: 4, totalS: 8.01 },
        { task: 'rim', pieces: 1, first: 7, totalS: 8.01 },
      ],
      // 2 × 1.004 s, told to a hundredth.
      others: { pieces: 2, totalS: 2.01 },
    });
  });

  it('has pieces of several kinds among what is not listed', () => {
    const pieces = [1, 2, 3, 4].map((timeS) => piece({ timeS, lengthMm: timeS }));
    expect(timesOf(pieces, 2)).toMatchObject({
      alike: [{ first: 4 }, { first: 3 }],
      others: { pieces: 2, totalS: 3 },
    });
    expect(timesOf(pieces, 4).others).toEqual({ pieces: 0, totalS: 0 });
  });

  it.each<[string, Partial<Piece>]>([
    ['task', { task: 'bore' }],
    ['cut', { cut: 1 }],
    ['length', { lengthMm: 40.1 }],
    ['time', { timeS: 4.1 }],
  ])('tells pieces of another %s apart', (_, change) => {
    expect(timesOf([piece({}), piece(change)], 9).alike.map(({ pieces }) => pieces)).toEqual([1, 1]);
    expect(timesOf([piece(change), piece(change)], 9).alike.map(({ pieces }) => pieces)).toEqual([2]);
  });

  it('takes what differs by less than a tenth for alike, and no two areas', () => {
    expect(timesOf([piece({ lengthMm: 40.02, timeS: 4.02 }), piece({})], 9).alike).toEqual([
      { task: 'rim', pieces: 2, first: 1, totalS: 8.02 },
    ]);
    // 1 mm in 14 s is not 11 mm in 4 s.
    const digits = [piece({ lengthMm: 1, timeS: 14 }), piece({ lengthMm: 11, timeS: 4 })];
    expect(timesOf(digits, 9).alike.map(({ first }) => first)).toEqual([1, 2]);
    const areas = [piece({ cut: null, area: 0 }), piece({ cut: null, area: 1 })];
    expect(timesOf(areas, 9).alike.map(({ first }) => first)).toEqual([1, 2]);
  });
});
