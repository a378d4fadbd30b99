import { describe, expect, it } from 'vitest';
import { type Files, factsOf, shed } from '../../memory-shop.ts';
import { OUTLINE } from '../outline.ts';

const job = (gcode: string): Files => ({
  ...shed(),
  'part.job.yaml':
    'kerflint: 1\nmachine: shed-60w\nlens: 2in\nmaterial: birch-plywood\nthickness: 3 mm ± 0.1 mm\nzero: machine\ntoolpath: part.gcode\n',
  'part.gcode': `G21 G90\nM8\nM4 S800 F600\n${gcode}\nM5\nM9\nM2\n`,
});

const square = (x: number, y: number, side: number) =>
  `G0 X${x} Y${y}\nG1 X${x + side}\nG1 Y${y + side}\nG1 X${x}\nG1 Y${y}\n`;

const order = (gcode: string) => factsOf(job(gcode)).order!;

describe('order of the cuts', () => {
  it('a hole cut before its part is in order', () => {
    expect(order(square(20, 20, 10) + square(10, 10, 40)).innerAfterOuter).toEqual([]);
  });

  it('a hole cut after its part was set free is named, with both places', () => {
    const found = order(square(10, 10, 40) + square(20, 20, 10)).innerAfterOuter;
    expect(found).toHaveLength(1);
    expect(found[0]!.inner.location.line).toBe(10);
    expect(found[0]!.outer.location.line).toBe(5);
  });

  it('passes taken in turn free the part with the last pass of its outline only', () => {
    const hole = square(20, 20, 10);
    const part = square(10, 10, 40);
    expect(order(part + hole + part).innerAfterOuter).toEqual([]);
    expect(order(part + hole + part + hole).innerAfterOuter).toHaveLength(1);
  });

  it('a contour that does not close is open by the distance of its ends', () => {
    const { open } = order('G0 X10 Y10\nG1 X50\nG1 Y50\nG1 X10\nG1 Y13');
    expect(open.map((one) => one.gapMm)).toEqual([expect.closeTo(3, 6)]);
  });

  it.each([
    ['in the same direction', 'G0 X10 Y10\nG1 X50\nG1 Y50\nG1 X10\nG1 Y13\n'],
    ['there and back', 'G0 X10 Y13\nG1 Y50\nG1 X50\nG1 Y10\nG1 X10\n'],
  ])('a contour that does not close stays open in a second pass %s', (_, second) => {
    const { open, contours, freed } = order(`G0 X10 Y10\nG1 X50\nG1 Y50\nG1 X10\nG1 Y13\n${second}`);
    expect(open.map((one) => [one.gapMm, one.lengthMm])).toEqual([[expect.closeTo(3, 6), expect.closeTo(157, 6)]]);
    expect([contours, freed]).toEqual([1, []]);
  });

  it('a line that ends on other cuts is a dividing cut and not open', () => {
    expect(order(`${square(10, 10, 40)}G0 X30 Y10\nG1 Y50`).open).toEqual([]);
  });

  it('a line that stops a millimetre short of another cut is open, wherever on the sheet it lies', () => {
    for (const x of [30, 30.5, 31, 31.5]) {
      const { open } = order(`${square(x - 20, 10, 40)}G0 X${x} Y10\nG1 Y49`);
      expect(open.map((one) => one.lengthMm)).toEqual([expect.closeTo(39, 6)]);
    }
  });

  it('contours know area, width and depth', () => {
    const { freed } = order(square(20, 20, 10) + square(10, 10, 40));
    expect(freed.map((one) => [one.areaMm2, one.widthMm, one.depth])).toEqual([
      [expect.closeTo(100, 6), expect.closeTo(10, 6), 1],
      [expect.closeTo(1600, 6), expect.closeTo(40, 6), 0],
    ]);
  });

  it('what does not close frees nothing', () => {
    const { freed, contours } = order(square(20, 20, 10) + 'G0 X10 Y10\nG1 X50\nG1 Y50');
    expect([contours, freed.map((one) => one.closed)]).toEqual([2, [true]]);
  });

  it('the share of travel is travel over all motion', () => {
    // 10√2 mm to the start, 40 mm of cutting.
    expect(order('G0 X10 Y10\nG1 X50').travelShare).toBeCloseTo((10 * Math.SQRT2) / (10 * Math.SQRT2 + 40), 6);
  });

  // From how many on it is a crowd: common practice, no source.
  it('eight cuts in a patch of 10 mm are a crowd, seven are an outline and its neighbours', () => {
    const slits = (count: number) =>
      Array.from({ length: count }, (_, i) => `G0 X${21 + i} Y22\nG1 Y28 F600`).join('\n');
    expect(order(slits(7)).crowded).toEqual([]);
    const [crowd, ...others] = order(slits(8)).crowded;
    expect(others).toEqual([]);
    expect(crowd).toMatchObject({ cuts: 8, x: 25, y: 25, areaMm2: 100, location: { line: 5 } });
  });

  it('many cuts in one small place are a crowd, with their energy', () => {
    const slits = Array.from({ length: 20 }, (_, i) => `G0 X${20 + i * 0.45} Y22\nG1 Y28`).join('\n');
    const { crowded } = order(slits);
    expect(crowded[0]!.cuts).toBe(20);
    expect(crowded[0]!.lengthMm).toBeCloseTo(120, 6);
    expect(crowded[0]!.jPerMm2).toBeGreaterThan(1);
  });

  it('contours name their task, their first line, their length and the strokes of all their runs', () => {
    const { freed, contours } = order(square(10, 10, 40) + square(20, 20, 10) + square(10, 10, 40));
    expect(contours).toBe(2);
    expect(freed.map(({ task, location, lengthMm, strokes }) => [task, location.line, lengthMm, [...strokes]])).toEqual(
      [
        [expect.any(String), 10, expect.closeTo(40, 6), [4, 5, 6, 7]],
        [freed[0]!.task, 5, expect.closeTo(160, 6), [0, 1, 2, 3, 8, 9, 10, 11]],
      ],
    );
    expect(freed.map(({ closed, gapMm }) => [closed, gapMm])).toEqual([
      [true, expect.closeTo(0, 6)],
      [true, expect.closeTo(0, 6)],
    ]);
  });

  it('an open contour has neither area nor width', () => {
    const { open } = order('G0 X10 Y10\nG1 X50\nG1 Y50');
    expect(open).toMatchObject([{ closed: false, areaMm2: 0, widthMm: 0, lengthMm: expect.closeTo(80, 6) }]);
  });

  it('a hole in a hole is after the one around it, not after the part', () => {
    const found = order(square(20, 20, 20) + square(25, 25, 5) + square(10, 10, 40)).innerAfterOuter;
    expect(found.map(({ inner, outer }) => [inner.location.line, outer.location.line])).toEqual([[10, 5]]);
    expect(found[0]).toMatchObject({ inner: { depth: 2 }, outer: { depth: 1 } });
  });

  it('is of what parts the sheet alone', () => {
    const tasks =
      'tasks:\n  - { name: score, aim: groove, program: { comment: score } }\n  - { name: rim, aim: through, program: { comment: rim } }\n';
    const files = job(`;score\n${square(10, 10, 40)};rim\n${square(20, 20, 10)}`);
    const { order: found } = factsOf({ ...files, 'part.job.yaml': `${files['part.job.yaml']}${tasks}` });
    expect(found!.contours).toBe(1);
    expect(found!.freed.map(({ task }) => task)).toEqual(['rim']);
    expect(found!.innerAfterOuter).toEqual([]);
  });

  it('there is no travel to speak of where nothing moves, and no order without a program', () => {
    expect(order('')).toMatchObject({ contours: 0, travelShare: 0, open: [], freed: [], crowded: [] });
    const drawn: Files = { ...job(''), 'part.svg': OUTLINE };
    const sidecar = String(drawn['part.job.yaml']).replace('toolpath: part.gcode', 'artwork: part.svg');
    expect(factsOf({ ...drawn, 'part.job.yaml': sidecar }).order).toBeNull();
  });
});
