// Where many cuts follow each other in a small place: what is counted there, and when.
import { describe, expect, it } from 'vitest';
import { crowdedPlaces } from '../../../src/facts/order/heat.ts';
import type { Toolpath } from '../../../src/model/toolpath.ts';
import { factsOf, shed } from '../../memory-shop.ts';

/** Lines from and to these places at half power and 10 mm/s, each on a line of its own from 101 on. */
function crowds(lines: readonly (readonly number[])[], more: object = {}, fullW = 50) {
  const read = factsOf({
    ...shed(),
    'part.job.yaml': 'kerflint: 1\nmachine: shed-60w\nmaterial: mdf\nthickness: 3 mm\ntoolpath: part.gcode\n',
    'part.gcode': 'G21 G90\nM3 S500 F600\nG1 X10\nM5\nM2\n',
  }).toolpath!;
  const of = (value: (i: number) => number) => Float64Array.from(lines, (_, i) => value(i));
  const at = (key: number) => of((i) => lines[i]![key]!);
  const strokes: Toolpath['strokes'] = {
    ...read.strokes,
    count: lines.length,
    startX: at(0),
    startY: at(1),
    endX: at(2),
    endY: at(3),
    sweepRad: of(() => 0),
    setting: of(() => 0.5),
    speedMmPerS: of(() => 10),
    reachedMmPerS: of(() => 10),
    line: Uint32Array.from(lines, (_, i) => 101 + i),
    ...more,
  };
  const chosen = Uint32Array.from(lines, (_, i) => i);
  return crowdedPlaces({ ...read, strokes }, chosen, fullW, 'part.gcode');
}
/** So many slits of 5 mm in one square of 10 mm, the lower left corner of which lies here. */
const slits = (count: number, x = 20, y = 30) =>
  Array.from({ length: count }, (_, i) => [x + 1 + i / 2, y + 2, x + 1 + i / 2, y + 7] as const);

describe('a crowded place', () => {
  it('is told with its middle, its first line, and the length, time and energy that it gets', () => {
    // Ten slits of 5 mm at 10 mm/s: half a second each. 25 W for 5 s are 125 J on 100 mm².
    expect(crowds(slits(10))).toEqual([
      {
        location: { file: 'part.gcode', line: 101, column: 1, endLine: 101, endColumn: 1 },
        x: 25,
        y: 35,
        cuts: 10,
        lengthMm: expect.closeTo(50, 9),
        areaMm2: 100,
        withinS: expect.closeTo(5, 9),
        jPerMm2: expect.closeTo(1.25, 9),
      },
    ]);
  });

  it('is one from eight cuts on', () => {
    expect(crowds(slits(7))).toEqual([]);
    expect(crowds(slits(8))).toHaveLength(1);
  });

  it('lasts from its first cut to its last, with what is cut elsewhere in between', () => {
    // 4 slits, then a way of 300 mm elsewhere (30 s), then 4 slits: 2 + 30 + 2 s.
    const [only, ...others] = crowds([...slits(4), [100, 5, 400, 5], ...slits(4)]);
    expect(others).toEqual([]);
    expect(only).toMatchObject({ cuts: 8, withinS: expect.closeTo(34, 9), lengthMm: expect.closeTo(40, 9) });
    expect(crowds([[100, 5, 400, 5], ...slits(8)])).toMatchObject([
      { withinS: expect.closeTo(4, 9), location: { line: 102 } },
    ]);
  });

  it('is the hottest first, and of equal ones the first that is cut', () => {
    const places = (...lines: (readonly number[])[][]) => crowds(lines.flat()).map(({ x, y }) => [x, y]);
    expect(places(slits(8), slits(10, 50, 60))).toEqual([
      [55, 65],
      [25, 35],
    ]);
    expect(places(slits(8), slits(8, 50, 60))).toEqual([
      [25, 35],
      [55, 65],
    ]);
    // Beside each other and above each other they are places of their own, left of zero as well.
    expect(places(slits(8), slits(8, 30), slits(8, 20, 40), slits(8, -20, -30))).toEqual([
      [25, 35],
      [35, 35],
      [25, 45],
      [-15, -25],
    ]);
  });

  it('has its share of lines that run through it', () => {
    // Eight lines of 30 mm through three squares: each has 10 mm, 1 s and 25 J of every line.
    const through = Array.from({ length: 8 }, (_, i) => [20, 31 + i, 50, 31 + i] as const);
    expect(crowds(through)).toMatchObject(
      [25, 35, 45].map((x) => ({ x, y: 35, cuts: 8, lengthMm: expect.closeTo(80, 9), jPerMm2: expect.closeTo(2, 9) })),
    );
    const up = Array.from({ length: 8 }, (_, i) => [21 + i, 50, 21 + i, 30] as const);
    expect(crowds(up).map(({ x, y, cuts }) => [x, y, cuts])).toEqual([
      [25, 45, 8],
      [25, 35, 8],
    ]);
  });

  it('has the whole of an arc whose middle of ends lies in it', () => {
    // Half circles over 8 mm: each is 4π mm long.
    const arcs = Array.from({ length: 8 }, () => [21, 35, 29, 35] as const);
    const all = (value: number) => Float64Array.from(arcs, () => value);
    const [only] = crowds(arcs, { sweepRad: all(Math.PI), centreX: all(25), centreY: all(35) });
    expect(only).toMatchObject({ x: 25, y: 35, cuts: 8, lengthMm: expect.closeTo(32 * Math.PI, 6) });
    const wide = Array.from({ length: 8 }, () => [15, 35, 35, 35] as const);
    const [one, ...others] = crowds(wide, { sweepRad: all(Math.PI), centreX: all(25), centreY: all(35) });
    expect(others).toEqual([]);
    expect(one).toMatchObject({ x: 25, cuts: 8, lengthMm: expect.closeTo(80 * Math.PI, 6) });
  });

  it('goes by the speed that is reached, by the programmed one where none was planned, and by none where there is no feed', () => {
    const all = (value: number) => new Float64Array(8).fill(value);
    const energy = (reached: number, programmed: number) =>
      crowds(slits(8), { reachedMmPerS: all(reached), speedMmPerS: all(programmed) })[0]!;
    // 40 mm at 5 mm/s: 8 s of 25 W on 100 mm².
    expect(energy(5, 10)).toMatchObject({ withinS: expect.closeTo(8, 9), jPerMm2: expect.closeTo(2, 9) });
    expect(energy(0, 20)).toMatchObject({ withinS: expect.closeTo(2, 9), jPerMm2: expect.closeTo(0.5, 9) });
    expect(energy(0, Number.NaN)).toMatchObject({ withinS: 0, jPerMm2: 0, cuts: 8 });
    expect(energy(0, 0)).toMatchObject({ withinS: 0, jPerMm2: 0 });
  });

  it('is nowhere where a place is no number', () => {
    expect(crowds(slits(8).map(([x, y, x1]) => [x!, y!, x1!, Number.NaN]))).toEqual([]);
  });
});
