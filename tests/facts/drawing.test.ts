import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { drawingOf, pointsPerJob } from '../../src/facts/drawing/drawing.ts';
import { type GivenLine, simplify, thinLines } from '../../src/facts/drawing/drawn-lines.ts';
import { type Files, factsOf, shed } from '../memory-shop.ts';

const job = (more: string, gcode = 'M4 S800 F600\nG0 X20 Y30\nG1 X120\nG1 Y90'): Files => ({
  ...shed(),
  'part.job.yaml': `kerflint: 1\nmachine: shed-60w\nlens: 2in\nmaterial: birch-plywood\nthickness: 3 mm\ntoolpath: part.gcode\n${more}`,
  'part.gcode': `G21 G90\n${gcode}\nM5\nM2\n`,
});
const drawing = (more: string, gcode?: string, findings: Parameters<typeof drawingOf>[1]['findings'] = []) =>
  drawingOf(factsOf(job(more, gcode)), { reach: null, findings, points: 1000 });

const SHEET = 'sheet: { width: 200 mm, height: 100 mm, at: { x: 15 mm, y: 40 mm } }\n';

describe('the frame of a picture', () => {
  it.each([
    ['zero: machine\n', { minX: 15, minY: 40, maxX: 215, maxY: 140 }],
    ['zero: sheet-corner\n', { minX: 0, minY: 0, maxX: 200, maxY: 100 }],
    ['zero: set-by-hand\n', null],
    ['', null],
  ])('has the sheet where %j puts it', (zero, sheet) => {
    expect(drawing(`${zero}${SHEET}`).sheet).toEqual(sheet);
    expect(drawing(zero).sheet).toBeNull();
  });

  it('holds the sheet, the motion and the cuts', () => {
    expect(drawing('zero: machine\n').view).toEqual({ minX: 20, minY: 30, maxX: 120, maxY: 90 });
    expect(drawing(`zero: machine\n${SHEET}`).view).toEqual({ minX: 15, minY: 30, maxX: 215, maxY: 140 });
    // A half circle to the right of X120 bulges to X150.
    const arc = 'M4 S800 F600\nG0 X120 Y30\nG3 X120 Y90 J30';
    expect(drawing('zero: machine\n', arc).view).toEqual({ minX: 120, minY: 30, maxX: 150, maxY: 90 });
  });

  it('holds all that artwork draws, what does not part the sheet too', () => {
    const svg =
      '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60"><path d="M10 20H30V35H10Z" fill="none" stroke="#9c36b5"/><path d="M50 20H80V50H50Z" fill="none" stroke="#e8590c"/></svg>';
    const sidecar =
      'kerflint: 1\nmachine: shed-60w\nlens: 2in\nmaterial: birch-plywood\nthickness: 3 mm\nartwork: part.svg\ntasks:\n  - { name: cut, strokes: { stroke: "#9c36b5" }, aim: through }\n  - { name: notes, strokes: { stroke: "#e8590c" }, aim: surface }\n';
    const facts = factsOf({ ...shed(), 'part.job.yaml': sidecar, 'part.svg': svg });
    const { view } = drawingOf(facts, { reach: null, findings: [], points: 1000 });
    expect(view).toEqual({ minX: 10, minY: 20, maxX: 80, maxY: 50 });
  });

  it('is one millimetre where nothing is drawn', () => {
    expect(drawing('zero: machine\n', 'M8').view).toEqual({ minX: 0, minY: 0, maxX: 1, maxY: 1 });
  });

  it('stands upright for a toolpath', () => {
    expect(drawing('').yUp).toBe(true);
  });
});

describe('the bed', () => {
  const bed = (zero: string) => drawing(`${zero}${SHEET}`).bed;

  it('lies where the axes reach in the frame of the picture', () => {
    expect(bed('zero: machine\n')).toEqual({ minX: 0, minY: 0, maxX: 600, maxY: 400 });
    // The sheet's corner, which is X0 Y0, lies at 15, 40 on the bed.
    expect(bed('zero: sheet-corner\n')).toEqual({ minX: -15, minY: -40, maxX: 585, maxY: 360 });
    expect(bed('zero: set-by-hand\n')).toBeNull();
  });
});

describe('artwork beside a toolpath', () => {
  /** A plate of 60 × 40 mm with a notch, drawn from the top down, and a line in its middle. */
  const PLATE = 'M10 10H70V50H30V40H10Z';
  const files = (gcode: string): Files => ({
    ...job('zero: sheet-corner\nartwork: part.svg\n', gcode),
    'part.svg': `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60"><g fill="none" stroke="#9c36b5"><path d="${PLATE}"/><path d="M20 20H60"/></g></svg>`,
  });
  const artwork = (gcode: string) =>
    drawingOf(factsOf(files(gcode)), { reach: null, findings: [], points: 1000 }).artwork;

  it('is drawn where the toolpath lays it, upright', () => {
    // 105 mm to the right, and 200 mm up from the drawing's upper edge.
    const cut = 'M4 S800 F600\nG0 X115 Y190\nG1 X175\nG1 Y150\nG1 X135\nG1 Y160\nG1 X115\nG1 Y190';
    const lines = artwork(cut);
    expect(lines).toHaveLength(2);
    const xs = lines.flat().filter((_, i) => i % 2 === 0);
    const ys = lines.flat().filter((_, i) => i % 2 === 1);
    const extent = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
    for (const [i, mm] of [115, 175, 150, 190].entries()) expect(extent[i]).toBeCloseTo(mm, 1);
    for (const [i, mm] of [125, 180, 165, 180].entries()) expect(lines[1]![i]).toBeCloseTo(mm, 1);
  });

  it('is not drawn where the toolpath does not have it', () => {
    expect(artwork('M8')).toEqual([]);
  });
});

describe('the pieces of the work', () => {
  const TWICE =
    'M4 S800 F600\nG0 X50 Y50\nG1 X60\nG1 Y60\nG1 X50\nG1 Y50\nG0 X10 Y10\nG1 X20\nG0 X50 Y50\nG1 X60\nG1 Y60\nG1 X50\nG1 Y50';

  it('stand in the order in which the program begins them, with all their passes', () => {
    const { pieces, pieceCount } = drawing('', TWICE);
    expect(pieceCount).toBe(2);
    expect(pieces.map(({ atX, atY, line, lengthMm, inProgram }) => [atX, atY, line, lengthMm, inProgram])).toEqual([
      [50, 50, 4, 40, true],
      [10, 10, 9, 10, true],
    ]);
    // 10 mm/s: twice 40 mm, once 10 mm, and what starting and stopping takes (less than 0.1 s at 3000 mm/s²).
    expect(pieces[0]!.timeS).toBeCloseTo(8, 1);
    expect(pieces[1]!.timeS).toBeCloseTo(1, 1);
  });

  it('are told with their times: alike ones together, and all of them are the time of the cutting', () => {
    const squares = Array.from({ length: 30 }, (_, i) => {
      const [x, side] = [10 + 8 * (i % 10), i < 20 ? 5 : 4 + 0.2 * (i - 20)];
      const y = 10 + 8 * Math.floor(i / 10);
      return `G0 X${x} Y${y}\nG1 X${x + side}\nG1 Y${y + side}\nG1 X${x}\nG1 Y${y}`;
    }).join('\n');
    const facts = factsOf(job('', `M4 S800 F600\n${squares}`));
    const { pieceTimes, pieceCount } = drawingOf(facts, { reach: null, findings: [], points: 1000 });
    expect(pieceCount).toBe(30);
    // Those of 5 mm: twenty, and the one of the last ten that is 4 + 5 · 0.2 mm wide.
    expect(pieceTimes.alike[0]).toMatchObject({ pieces: 21, first: 1 });
    const sum = pieceTimes.alike.reduce((all, { totalS }) => all + totalS, pieceTimes.others.totalS);
    expect(sum).toBeCloseTo(facts.time!.cuttingS, 1);
  });

  it('are listed one by one only as far as the picture has room, and counted in full', () => {
    const { pieces, pieceCount } = drawingOf(factsOf(job('', TWICE)), { reach: null, findings: [], points: 20 });
    expect([pieces.length, pieceCount]).toEqual([1, 2]);
  });
});

describe('pins', () => {
  const pin = (line: number, gcode: string) =>
    drawing('', gcode, [
      { fingerprint: 'f', location: { file: 'part.gcode', line, column: 1, endLine: line, endColumn: 1 } },
    ]).pins.map(({ x, y }) => [x, y]);
  const GCODE = 'M4 S800 F600\nG0 X20 Y30\nG1 X120\nG1 Y90\nM3\nG4 P1\nM5\nG0 X1 Y1\nM9';

  it.each([
    ['a cut stand where it begins', 4, [[20, 30]]],
    ['the next where that begins', 5, [[120, 30]]],
    ['a line without motion where the head stands', 6, [[120, 90]]],
    ['a dwell where it is', 7, [[120, 90]]],
    ['a line ahead of all motion nowhere', 1, []],
  ])('of %s', (_, line, places) => {
    expect(pin(line, GCODE)).toEqual(places);
  });
});

describe('the card of what is set before the job', () => {
  it('has the recipe of the toolpath, and what is planned beside it', () => {
    const { card } = drawing(
      'zero: machine\nface: bare\ntasks:\n  - { name: rim, aim: through, focus: -0.5 mm, focus-step: -1 mm, air: 1.4 bar }\n',
      'M4 S800 F600\nG0 X20 Y30\nG1 X120\nG0 X20\nG1 X120',
    );
    expect(card).toMatchObject({ machine: 'shed-60w', lens: '2in', standoffMm: 6, thicknessMm: 3, zero: 'machine' });
    expect(card.recipes).toEqual([
      {
        task: 'rim',
        aim: 'through',
        file: 'part.gcode',
        line: 4,
        stated: {
          setting: 0.8,
          powerW: expect.closeTo(43.2, 0),
          speedMmPerS: 10,
          passes: 2,
          focusMm: -0.5,
          focusStepMm: -1,
        },
        airBar: 1.4,
        proposed: null,
      },
    ]);
  });
});

describe('lines of a picture', () => {
  it('keep the points that are farther than the tolerance from the line between those that stay, and both ends', () => {
    expect(simplify([0, 0, 5, 0.04, 10, 0], 0.05)).toEqual([0, 0, 10, 0]);
    expect(simplify([0, 0, 5, 0.06, 10, 0], 0.05)).toEqual([0, 0, 5, 0.06, 10, 0]);
    expect(simplify([0, 0, 10, 0, 10, 10], 0.05)).toEqual([0, 0, 10, 0, 10, 10]);
    // Beyond the ends it is the distance to the end that counts.
    expect(simplify([0, 0, 12, 0, 10, 0], 0.05)).toEqual([0, 0, 12, 0, 10, 0]);
    expect(simplify([3, 3, 3, 4, 3, 3], 0.05)).toEqual([3, 3, 3, 4, 3, 3]);
    expect(simplify([0, 0, Number.NaN, 1, 2, 2], 0.05)).toEqual([0, 0, 2, 2]);
  });

  it('leave every point that goes within the tolerance of what stays', () => {
    const point = fc.tuple(fc.double({ min: 0, max: 50, noNaN: true }), fc.double({ min: 0, max: 50, noNaN: true }));
    fc.assert(
      fc.property(
        fc.array(point, { minLength: 2, maxLength: 40 }),
        fc.double({ min: 0.1, max: 20, noNaN: true }),
        (points, tolerance) => {
          const kept = simplify(points.flat(), tolerance);
          expect(kept.slice(0, 2)).toEqual(points[0]);
          expect(kept.slice(-2)).toEqual(points.at(-1));
          for (const [x, y] of points) expect(distanceTo(kept, x, y)).toBeLessThanOrEqual(tolerance + 1e-9);
        },
      ),
      { seed: 5, numRuns: 300 },
    );
  });

  const line = (...xy: number[]): GivenLine => ({ xy, closed: false });

  it('are all drawn as they are where there is room', () => {
    const { lines, drawnBy, detail } = thinLines(
      [{ xy: [0, 0, 1, 0, 1, 1], closed: true }, line(7, 7), line(0, 0, 1, 0)],
      6,
    );
    expect(lines).toEqual([
      [0, 0, 1, 0, 1, 1, 0, 0],
      [0, 0, 1, 0],
    ]);
    expect([...drawnBy]).toEqual([0, -1, 1]);
    expect(detail).toEqual({ withinMm: 0.05, corners: 7, kept: 6 });
  });

  it('lose corners and never a line where there is too little room, and say how far off they are', () => {
    // A thousand dashes of 0.2 mm on 50 × 20 places 0.3 mm apart, and one line across.
    const dashes = Array.from({ length: 1000 }, (_, i) =>
      line(0.3 * (i % 50), 0.3 * Math.floor(i / 50), 0.3 * (i % 50) + 0.2, 0.3 * Math.floor(i / 50)),
    );
    const given = [...dashes, line(0, 0, 15, 6)];
    const { lines, drawnBy, detail } = thinLines(given, 200);
    expect(detail.kept).toBeLessThanOrEqual(200);
    expect(detail.kept).toBe(lines.reduce((sum, one) => sum + one.length / 2, 0));
    expect(detail.corners).toBe(2002);
    for (const [i, { xy }] of given.entries()) {
      const drawn = lines[drawnBy[i]!]!;
      for (const at of [0, 2]) expect(distanceTo(drawn, xy[at]!, xy[at + 1]!)).toBeLessThanOrEqual(detail.withinMm);
    }
  });

  it('are drawn once where they lie on each other, whichever way they run, and only there', () => {
    const there = line(0, 0, 40, 0, 40, 30);
    const { lines, drawnBy, detail } = thinLines([there, line(40, 30, 40, 0, 0, 0), line(0, 40, 40, 30)], 5);
    expect(lines).toHaveLength(2);
    expect([...drawnBy]).toEqual([0, 0, 1]);
    // On the finest grid there is: where lines are moved further, these would come to lie on each other anyway.
    expect(detail.withinMm).toBeLessThan(0.2);
  });

  it('fit whatever room there is, each within what is said', () => {
    const point = fc.tuple(
      fc.double({ min: -300, max: 300, noNaN: true }),
      fc.double({ min: -300, max: 300, noNaN: true }),
    );
    const given = fc.record({ points: fc.array(point, { minLength: 2, maxLength: 12 }), closed: fc.boolean() });
    fc.assert(
      fc.property(fc.array(given, { minLength: 1, maxLength: 25 }), fc.integer({ min: 2, max: 150 }), (all, room) => {
        const lines = all.map(({ points, closed }) => ({ xy: points.flat(), closed }));
        const { lines: drawn, drawnBy, detail } = thinLines(lines, room);
        expect(detail.kept).toBeLessThanOrEqual(room);
        for (const [i, { points }] of all.entries())
          for (const [x, y] of points)
            expect(distanceTo(drawn[drawnBy[i]!]!, x, y)).toBeLessThanOrEqual(detail.withinMm + 0.01);
      }),
      { seed: 11, numRuns: 200 },
    );
  });

  it('are shared out among the jobs of a run', () => {
    expect([0, 1, 10, 11, 100, 1000, 100_000].map(pointsPerJob)).toEqual([
      250_000, 250_000, 120_000, 109_090, 12_000, 1_500, 1_500,
    ]);
  });
});

/** Least distance of a point to a polyline, by its stretches one by one. */
function distanceTo(xy: readonly number[], x: number, y: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i + 3 < xy.length; i += 2) {
    const [x0, y0, x1, y1] = [xy[i]!, xy[i + 1]!, xy[i + 2]!, xy[i + 3]!];
    const squared = (x1 - x0) ** 2 + (y1 - y0) ** 2;
    const t = squared === 0 ? 0 : Math.min(1, Math.max(0, ((x - x0) * (x1 - x0) + (y - y0) * (y1 - y0)) / squared));
    least = Math.min(least, Math.hypot(x - x0 - t * (x1 - x0), y - y0 - t * (y1 - y0)));
  }
  return least;
}
