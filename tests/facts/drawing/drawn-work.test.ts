import { describe, expect, it } from 'vitest';
import { drawnWork } from '../../../src/facts/drawing/drawn-work.ts';
import type { AreaFact } from '../../../src/facts/order/areas.ts';
import { artwork, artworkOnly, at, cut, facts, pass, rasterArea, toolpath } from '../../rules/build-facts.ts';

/** Two cuts of a plate: its rim, and a slanted line on which both lie. */
const [rim] = artwork().outlines;
const SLANT = { ...rim!, xy: Float64Array.of(5.004, 6.006, 20, 30), closed: false, lengthMm: 28.2843 };

describe('a cut as it is drawn', () => {
  const drawn = (change: Parameters<typeof cut>[0]) => drawnWork(facts({ cuts: [cut(change)] }), 1000).cuts[0]!;

  it('has what is predicted of it, where it stands, and its lines', () => {
    expect(drawn({ task: 'rim', aim: 'groove', passes: [pass({ speedMmPerS: 11.987 })] })).toEqual({
      cut: 0,
      task: 'rim',
      aim: 'groove',
      probability: 0.96,
      depthMm: 7.4,
      depthLowMm: 6.1,
      depthHighMm: 9,
      recipe: '1 pass, 43.2 W, 12 mm/s',
      speedMmPerS: 11.99,
      file: 'coaster.gcode',
      line: 7,
      lines: [[10, 10, 90, 10]],
    });
  });

  it('has nothing predicted, and no recipe, where there is none', () => {
    expect(drawn({ prediction: null as never, passes: [] })).toMatchObject({
      probability: null,
      depthMm: null,
      depthLowMm: null,
      depthHighMm: null,
      recipe: 'no recipe',
      speedMmPerS: null,
    });
  });

  it('says how many passes it takes, by the first of them', () => {
    expect(drawn({ passes: [pass({ powerW: 20, speedMmPerS: 8 }), pass()] })).toMatchObject({
      recipe: '2 passes, 20 W, 8 mm/s',
      speedMmPerS: 8,
    });
  });
});

describe('a piece as it is described', () => {
  it('has its place and its measures rounded, and the line of its cut that draws it', () => {
    const job = artworkOnly({
      machine: null,
      artwork: artwork({ outlines: [rim!, SLANT] }),
      cuts: [cut(), cut({ strokes: Uint32Array.of(0, 1) })],
    });
    const { pieces, pieceCount, cuts } = drawnWork(job, 1000);
    expect(cuts.map(({ cut: index, lines }) => [index, lines.length])).toEqual([
      [0, 1],
      [1, 2],
    ]);
    expect(pieceCount).toBe(3);
    expect(pieces.map(({ cut: of, drawnBy, area }) => [of, drawnBy, area])).toEqual([
      [0, 0, null],
      [1, 0, null],
      [1, 1, null],
    ]);
    expect(pieces[2]).toEqual({
      cut: 1,
      drawnBy: 1,
      area: null,
      inProgram: false,
      atX: 5,
      atY: 6.01,
      lengthMm: 28.3,
      timeS: null,
      file: 'coaster.svg',
      line: 4,
    });
    expect(cuts[1]!.lines[1]).toEqual([5, 6.01, 20, 30]);
  });

  it('tells its time to a hundredth', () => {
    const strokes = { ...toolpath().strokes, reachedMmPerS: Float64Array.of(7, 7, 7, 7) };
    // 80 mm at 7 mm/s.
    expect(drawnWork(facts({ toolpath: toolpath({ strokes }) }), 1000).pieces[0]!.timeS).toBe(11.43);
  });

  it('is drawn by no line where it has no two points, and those after it by their own', () => {
    const dot = { ...rim!, xy: Float64Array.of(44, 33), closed: false };
    const job = artworkOnly({
      artwork: artwork({ outlines: [dot, rim!] }),
      cuts: [cut({ strokes: Uint32Array.of(0, 1) })],
    });
    const { pieces, cuts } = drawnWork(job, 1000);
    expect(pieces.map(({ drawnBy }) => drawnBy)).toEqual([null, 0]);
    expect(cuts[0]!.lines).toHaveLength(1);
  });

  it('is an area by its number, drawn by no line and with its own time', () => {
    const job = facts({
      toolpath: toolpath({ areas: [{ ...rasterArea(0.3), timeS: 40 }] }),
      areas: [{ task: 'picture', location: at('coaster.gcode', 5), minX: 1, minY: 2, maxX: 41, maxY: 32 } as AreaFact],
    });
    const { pieces, pieceTimes, cuts } = drawnWork(job, 1000);
    expect(pieces).toMatchObject([
      { cut: null, area: 0, drawnBy: null, atX: 1, atY: 2, lengthMm: 9000, timeS: 40, line: 5 },
      { cut: 0, area: null, drawnBy: 0 },
    ]);
    expect(cuts[0]!.lines).toEqual([[10, 10, 90, 10]]);
    expect(pieceTimes.alike.map(({ task, totalS }) => [task, totalS])).toEqual([
      ['picture', 40],
      // 80 mm at 12 mm/s.
      ['outline', 6.67],
    ]);
  });
});

describe('pieces of several cuts', () => {
  it('that come to lie on each other are drawn for each of the cuts, and once in each', () => {
    const copies = [0, 0.01, 0.02, 0.03].map((by) => ({ ...SLANT, xy: Float64Array.of(0, by, 20, 30 + by) }));
    const job = artworkOnly({
      artwork: artwork({ outlines: copies }),
      cuts: [cut({ strokes: Uint32Array.of(0, 1) }), cut({ strokes: Uint32Array.of(2, 3) })],
    });
    // Room for one line, of four.
    const { pieces, cuts, detail } = drawnWork(job, 3);
    expect(cuts.map(({ lines }) => lines.length)).toEqual([1, 1]);
    expect(cuts[0]!.lines).toEqual(cuts[1]!.lines);
    expect(pieces.map(({ cut: of, drawnBy }) => [of, drawnBy])).toEqual([[0, 0]]);
    expect(detail).toMatchObject({ corners: 8, kept: 2 });
  });

  it('are described one by one as far as there are a hundred points for each, and counted all', () => {
    const outlines = Array.from({ length: 4 }, (_, i) => ({ ...SLANT, xy: Float64Array.of(0, 9 * i, 20, 9 * i) }));
    const job = artworkOnly({
      artwork: artwork({ outlines }),
      cuts: [cut({ strokes: Uint32Array.of(0, 1, 2, 3) })],
    });
    const listed = (points: number) => drawnWork(job, points).pieces.length;
    expect([100, 101, 200, 201, 1000].map(listed)).toEqual([1, 2, 2, 3, 4]);
    expect(drawnWork(job, 100).pieceCount).toBe(4);
  });

  it('have their times told in twelve groups at most', () => {
    const outlines = Array.from({ length: 14 }, (_, i) => ({
      ...SLANT,
      xy: Float64Array.of(0, 9 * i, 20 + i, 9 * i),
      lengthMm: 20 + i,
    }));
    const job = artworkOnly({
      artwork: artwork({ outlines }),
      cuts: [cut({ strokes: Uint32Array.from({ length: 14 }, (_, i) => i) })],
    });
    const { pieceTimes } = drawnWork(job, 1000);
    expect(pieceTimes.alike).toHaveLength(12);
    expect(pieceTimes.others.pieces).toBe(2);
  });
});
