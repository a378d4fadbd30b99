import { describe, expect, it } from 'vitest';
import { piecesOf } from '../../../src/facts/drawing/drawn-pieces.ts';
import type { JobFacts } from '../../../src/facts/facts.ts';
import type { AreaFact } from '../../../src/facts/order/areas.ts';
import {
  artwork,
  artworkOnly,
  at,
  cut,
  facts,
  machine,
  plannedTask,
  rasterArea,
  strokesThrough,
  task,
  toolpath,
} from '../../rules/build-facts.ts';

/** Straight strokes x0, y0, x1, y1 that need not touch, on the lines given, run at 10 mm/s. */
function strokesOf(...given: { line: number; xy: [number, number, number, number] }[]) {
  const strokes = strokesThrough([...given.map(({ xy }): [number, number] => [xy[0], xy[1]]), [0, 0]]);
  return {
    ...strokes,
    endX: Float64Array.from(given, ({ xy }) => xy[2]),
    endY: Float64Array.from(given, ({ xy }) => xy[3]),
    line: Uint32Array.from(given, ({ line }) => line),
    reachedMmPerS: new Float64Array(given.length).fill(10),
  };
}

const area = (line: number, name: string | null = null): AreaFact => ({
  task: name,
  location: at('coaster.gcode', line),
  peakLocation: at('coaster.gcode', line + 2),
  strokes: 300,
  minX: 12,
  minY: 34,
  maxX: 52,
  maxY: 64,
  pitchMm: 0.1,
  spotMm: 0.16,
  meanJPerMm2: 1.08,
  peakJPerMm2: 2.7,
  speedMmPerS: 300,
  reachedMmPerS: 290,
  runOutMm: 4,
  runOutNeededMm: 15,
  air: false,
});

describe('the order of the pieces', () => {
  it('is that of the strokes where several stand on one line of the program, whatever cut they belong to', () => {
    const job = facts({
      toolpath: toolpath({
        strokes: strokesOf(
          { line: 7, xy: [0, 0, 10, 0] },
          { line: 7, xy: [30, 0, 40, 0] },
          { line: 7, xy: [60, 0, 70, 0] },
          { line: 7, xy: [90, 0, 99, 0] },
        ),
      }),
      cuts: [
        cut({ strokes: Uint32Array.of(2) }),
        cut({ strokes: Uint32Array.of(3) }),
        cut({ strokes: Uint32Array.of(0) }),
        cut({ strokes: Uint32Array.of(1) }),
      ],
    });
    expect(piecesOf(job).map((piece) => [piece.cut, piece.atX])).toEqual([
      [2, 0],
      [3, 30],
      [0, 60],
      [1, 90],
    ]);
  });

  it('is that of the lines, shaded areas among them', () => {
    const job = facts({
      toolpath: toolpath({
        strokes: strokesOf({ line: 50, xy: [0, 0, 10, 0] }, { line: 20, xy: [30, 0, 40, 0] }),
        areas: [rasterArea(0.3), rasterArea(0.3)],
      }),
      cuts: [cut({ strokes: Uint32Array.of(0, 1) })],
      areas: [area(60), area(40)],
    });
    expect(piecesOf(job).map((piece) => [piece.area, piece.sourceLine])).toEqual([
      [null, 20],
      [1, 40],
      [null, 50],
      [0, 60],
    ]);
  });

  it('has what is only planned behind all that the program does', () => {
    const job = facts({
      toolpath: toolpath({ strokes: strokesOf({ line: 50, xy: [0, 0, 10, 0] }) }),
      tasks: [task({ strokes: new Uint32Array(0) }), task()],
      cuts: [cut({ taskIndex: 0 }), cut({ taskIndex: 1 })],
      match: MATCHED,
    });
    expect(piecesOf(job).map((piece) => [piece.cut, piece.inProgram])).toEqual([
      [1, true],
      [0, false],
    ]);
  });
});

/** Artwork of which all but its place in the toolpath is as asked for: 5 mm to the right, and 100 mm up after the flip. */
const MATCHED = {
  placement: { scale: 1, quarterTurns: 0, mirrored: false, dxMm: 5, dyMm: 100, offsetMm: 0, ambiguous: null },
} as unknown as JobFacts['match'];

describe('a contour of the toolpath', () => {
  const piecesFrom = (strokes: ReturnType<typeof strokesOf>) =>
    piecesOf(
      facts({
        toolpath: toolpath({ strokes }),
        cuts: [cut({ strokes: Uint32Array.from({ length: strokes.count }, (_, i) => i) })],
      }),
    );

  it('begins where the first of its strokes begins, also where that joins it in the middle', () => {
    // The second stroke leads to the start of the first: the contour runs from 0 to 20, but is begun at 10.
    const [piece, ...others] = piecesFrom(strokesOf({ line: 30, xy: [10, 5, 20, 5] }, { line: 31, xy: [0, 5, 10, 5] }));
    expect(others).toEqual([]);
    expect(piece).toMatchObject({ atX: 10, atY: 5, sourceLine: 30, lengthMm: 20 });
    expect([...Array.from(piece!.line.xy)]).toEqual([0, 5, 10, 5, 20, 5]);
  });

  it('has what its cut says of it, and the line of the program at which it begins', () => {
    const [piece] = piecesFrom(strokesOf({ line: 30, xy: [10, 5, 20, 5] }));
    expect(piece).toEqual({
      cut: 0,
      area: null,
      task: 'outline',
      line: { xy: Float64Array.of(10, 5, 20, 5), closed: false },
      inProgram: true,
      atX: 10,
      atY: 5,
      lengthMm: 10,
      timeS: 1,
      file: 'coaster.gcode',
      sourceLine: 30,
    });
  });

  it('takes the time of all its passes, of which the first counts for its place', () => {
    /** A triangle with sides of 20, 15 and √(20² + 15²) = 25 mm, begun at its left or its upper corner. */
    const sides: [number, number, number, number][] = [
      [0, 0, 20, 0],
      [20, 0, 20, 15],
      [20, 15, 0, 0],
    ];
    const round = (line: number, from = 0) =>
      [0, 1, 2].map((side) => ({ line: line + side, xy: sides[(from + side) % 3]! }));
    const pieces = piecesFrom(strokesOf(...round(30), { line: 33, xy: [50, 0, 60, 0] }, ...round(34, 2), ...round(37)));
    expect(pieces.map(({ atX, sourceLine, lengthMm, timeS }) => [atX, sourceLine, lengthMm, timeS])).toEqual([
      // Three times 60 mm at 10 mm/s.
      [0, 30, 60, 18],
      [50, 33, 10, 1],
    ]);
  });

  it('of an open line is as long as the line, however often it is run along, and in whichever direction', () => {
    const pieces = piecesFrom(
      strokesOf({ line: 30, xy: [0, 0, 20, 0] }, { line: 31, xy: [20, 0, 0, 0] }, { line: 32, xy: [0, 0, 20, 0] }),
    );
    expect(pieces.map(({ line, lengthMm, timeS }) => [line.closed, lengthMm, timeS])).toEqual([[false, 20, 6]]);
  });

  it('takes no time for a stroke on which the head never gets going', () => {
    const strokes = strokesOf({ line: 30, xy: [0, 0, 20, 0] }, { line: 31, xy: [20, 0, 20, 5] });
    strokes.reachedMmPerS[1] = 0;
    expect(piecesFrom(strokes)[0]).toMatchObject({ lengthMm: 25, timeS: 2 });
  });

  it('closes where it comes home', () => {
    const strokes = strokesOf(
      { line: 30, xy: [0, 0, 20, 0] },
      { line: 31, xy: [20, 0, 20, 15] },
      { line: 32, xy: [20, 15, 0, 0] },
    );
    const [piece] = piecesFrom(strokes);
    // Sides of 20, 15 and √(20² + 15²) = 25 mm.
    expect(piece).toMatchObject({ line: { closed: true }, lengthMm: 60, timeS: 6 });
  });
});

describe('a shaded area', () => {
  it('is a rectangle that begins at its lower left, with the powered way and the time of the raster', () => {
    const raster = { ...rasterArea(0.3), poweredMm: 9000, timeS: 40 };
    const job = facts({ toolpath: toolpath({ areas: [raster] }), cuts: [], areas: [area(40, 'picture')] });
    expect(piecesOf(job)).toEqual([
      {
        cut: null,
        area: 0,
        task: 'picture',
        line: { xy: [12, 34, 52, 34, 52, 64, 12, 64], closed: true },
        inProgram: true,
        atX: 12,
        atY: 34,
        lengthMm: 9000,
        timeS: 40,
        file: 'coaster.gcode',
        sourceLine: 40,
      },
    ]);
  });

  it('is called a surface where it belongs to no task', () => {
    const job = facts({ toolpath: toolpath({ areas: [rasterArea(0.3)] }), cuts: [], areas: [area(40)] });
    expect(piecesOf(job)[0]!.task).toBe('surface');
  });
});

describe('an outline that is only planned', () => {
  it('is drawn as it stands on the page, at its line of the artwork', () => {
    const [piece, ...others] = piecesOf(artworkOnly({ cuts: [cut({ location: at('coaster.job.yaml', 12) })] }));
    expect(others).toEqual([]);
    expect(piece).toMatchObject({
      cut: 0,
      area: null,
      task: 'outline',
      inProgram: false,
      atX: 10,
      atY: 10,
      lengthMm: 300,
      file: 'coaster.svg',
      sourceLine: 4,
    });
    expect(piece!.line.closed).toBe(true);
    expect([...Array.from(piece!.line.xy)]).toEqual([10, 10, 90, 10, 90, 80, 10, 80, 10, 10]);
    // 300 mm at 12 mm/s, and a little for four corners (12 mm/s takes 4 ms at 3000 mm/s²).
    expect(piece!.timeS).toBeGreaterThan(25);
    expect(piece!.timeS).toBeLessThan(25.1);
  });

  it('takes the time of all passes that are planned', () => {
    const twice = artworkOnly({ tasks: [task({}, plannedTask({ passes: 2 }))] });
    expect(piecesOf(twice)[0]!.timeS).toBeCloseTo(2 * piecesOf(artworkOnly())[0]!.timeS!, 9);
  });

  it.each<[string, Partial<JobFacts>]>([
    ['no machine', { machine: null }],
    ['no speed', { tasks: [task({}, plannedTask({ speedMmPerS: null }))] }],
    ['a speed of nothing', { tasks: [task({}, plannedTask({ speedMmPerS: 0 }))] }],
    ['no planned task', { tasks: [task({}, null)] }],
  ])('has no time with %s', (_, change) => {
    expect(piecesOf(artworkOnly(change))[0]!.timeS).toBeNull();
  });

  it('takes its own time and not that of the others of its task', () => {
    const [rim] = artwork().outlines;
    const bore = { ...rim!, xy: Float64Array.of(40, 40, 50, 40, 50, 50, 40, 50), lengthMm: 40 };
    const job = artworkOnly({
      machine: machine(),
      artwork: artwork({ outlines: [rim!, bore] }),
      cuts: [cut({ strokes: Uint32Array.of(0, 1) })],
    });
    const [first, second] = piecesOf(job);
    expect(first!.timeS! / second!.timeS!).toBeCloseTo(300 / 40, 1);
    expect([second!.atX, second!.atY, second!.lengthMm]).toEqual([40, 40, 40]);
  });

  it('is passed over where it has no points, and kept where it is a single one', () => {
    const [rim] = artwork().outlines;
    const outlines = [
      { ...rim!, xy: new Float64Array(0) },
      { ...rim!, xy: Float64Array.of(44, 33), closed: false },
    ];
    const job = artworkOnly({ artwork: artwork({ outlines }), cuts: [cut({ strokes: Uint32Array.of(0, 1) })] });
    expect(piecesOf(job).map(({ atX, atY }) => [atX, atY])).toEqual([[44, 33]]);
  });

  it('is laid where the toolpath has the artwork, and is not drawn where that is not known', () => {
    const planned = { tasks: [task({ strokes: new Uint32Array(0) })], cuts: [cut()] };
    // X + 5, and 100 − Y: machines count upwards.
    expect(piecesOf(facts({ ...planned, match: MATCHED }))).toMatchObject([{ atX: 15, atY: 90, inProgram: false }]);
    expect(piecesOf(facts({ ...planned, match: null }))).toEqual([]);
    expect(piecesOf(artworkOnly({ ...planned, artwork: null }))).toEqual([]);
  });
});
