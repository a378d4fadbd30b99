import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { contoursOfStrokes } from '../../../src/facts/strokes/stroke-contours.ts';
import { polylineLengthMm } from '../../../src/geometry/outlines/contours.ts';
import { factsOf, shed } from '../../memory-shop.ts';

/** The contours of all strokes of a program. */
function contoursOf(gcode: string) {
  const { toolpath } = factsOf({
    ...shed(),
    'rim.job.yaml':
      'kerflint: 1\nmachine: shed-60w\nmaterial: mdf\nthickness: 3 mm\nzero: machine\ntoolpath: rim.gcode\n',
    'rim.gcode': `G21 G90\nM4 S800 F600\n${gcode}\nM5\nM2\n`,
  });
  const { strokes } = toolpath!;
  return contoursOfStrokes(
    strokes,
    Uint32Array.from({ length: strokes.count }, (_, i) => i),
  );
}

describe('strokes that are joined into a contour', () => {
  it.each([
    ['as it goes on', 'G2 X10 Y30 I0 J10'],
    ['towards the line that was cut before it', 'G0 X10 Y30\nG3 X10 Y10 I0 J-10'],
  ])('have the points of an arc in the order in which the contour is gone along, where it was cut %s', (_, arc) => {
    const contours = contoursOf(`G0 X30 Y10\nG1 X10\n${arc}`);
    expect(contours).toHaveLength(1);
    const [{ xy, strokes, closed }] = contours as [(typeof contours)[0]];
    expect([closed, [...strokes]]).toEqual([false, [0, 1]]);
    expect([...xy.slice(0, 4), ...xy.slice(-2)]).toEqual([30, 10, 10, 10, 10, 30]);
    // A chord is shorter than its arc, by far less than a hundredth here.
    expect(polylineLengthMm(contours[0]!) / (20 + 10 * Math.PI)).toBeCloseTo(1, 2);
  });
});

describe('what is run along again', () => {
  const STEPS = 'G1 X50\nG1 Y40\nG1 X20';
  const BACK = 'G1 X50\nG1 Y10\nG1 X10';

  it.each([
    ['in the same direction', `G0 X10 Y10\n${STEPS}\nG0 X10 Y10\n${STEPS}`],
    ['there and back', `G0 X10 Y10\n${STEPS}\nY40\n${BACK}`],
    ['there and back, line by line', 'G0 X10 Y10\nG1 X50\nG1 X10\nG0 X50\nG1 Y40\nG1 Y10\nG0 Y40\nG1 X20\nG1 X50'],
    ['there and back, with the focus moved in between', `G0 X10 Y10 Z0\n${STEPS}\nG1 Z-1\nY40\n${BACK}`],
    ['in other pieces', `G0 X10 Y10\n${STEPS}\nG1 X31\nG1 X50\nG1 Y22.5\nG1 Y10\nG1 X17\nG1 X10`],
  ])('%s is an open line each time, and none that leads back on itself', (_, gcode) => {
    const contours = contoursOf(gcode);
    expect(contours.map(({ closed }) => closed)).toEqual([false, false]);
    // 40 + 30 + 30 mm, between X10 Y10 and X20 Y40.
    for (const contour of contours) {
      expect(polylineLengthMm(contour)).toBeCloseTo(100, 6);
      expect(contour.gapMm).toBeCloseTo(Math.hypot(10, 30), 6);
    }
  });

  it.each([
    ['there and back', 'G0 X10 Y10\nG2 X30 Y10 I10 J0\nG3 X10 Y10 I-10 J0'],
    ['there, and back in two pieces', 'G0 X10 Y10\nG2 X30 Y10 I10 J0\nG3 X20 Y20 I-10 J0\nG3 X10 Y10 I0 J-10'],
    ['twice from the same end', 'G0 X10 Y10\nG2 X30 Y10 I10 J0\nG0 X10\nG2 X30 Y10 I10 J0'],
  ])('may be an arc: %s', (_, gcode) => {
    expect(contoursOf(gcode).map(({ closed, gapMm }) => [closed, Math.round(gapMm)])).toEqual([
      [false, 20],
      [false, 20],
    ]);
  });

  it('is not what leads back on the other side', () => {
    const halves = contoursOf('G0 X10 Y10\nG2 X30 Y10 I10 J0\nG2 X10 Y10 I-10 J0');
    expect(halves.map(({ closed }) => closed)).toEqual([true]);
    // A half circle over a chord: they leave its ends in different directions.
    for (const gcode of ['G0 X10 Y10\nG2 X30 Y10 I10 J0\nG1 X10', 'G0 X10 Y10\nG1 X30\nG3 X10 Y10 I-10 J0']) {
      expect(contoursOf(gcode).map(({ closed }) => closed)).toEqual([true]);
    }
  });

  it('is not the other flank of a narrow tip, however short its lines', () => {
    // The flanks of 0.2 mm part by 0.01 mm: three degrees.
    const tip = contoursOf('G0 X9 Y14\nG1 X10 Y10\nG1 X10.2 Y10.005\nG1 X10 Y10.01\nG1 X9 Y14');
    expect(tip.map(({ closed }) => closed)).toEqual([true]);
  });

  it('may be a spur of a closed contour, which stays closed', () => {
    const spurred = contoursOf('G0 X10 Y10\nG1 X50\nG1 Y40\nG1 X60\nG1 X50\nG1 X10\nG1 Y10');
    expect(spurred.map(({ closed }) => closed)).toEqual([true]);
  });

  it('is a closed contour each time where it is one, in either direction', () => {
    const square = 'G0 X10 Y10\nG1 X50\nG1 Y50\nG1 X10\nG1 Y10\n';
    const backwards = 'G1 Y50\nG1 X50\nG1 Y10\nG1 X10\n';
    for (const gcode of [square + square, square + backwards]) {
      expect(contoursOf(gcode).map((one) => [one.closed, Math.round(polylineLengthMm(one))])).toEqual([
        [true, 160],
        [true, 160],
      ]);
    }
  });

  it('is as many open lines as it has passes, whichever way each goes and wherever it pauses', () => {
    /** So far along one of the sides, mm to a thousandth. */
    const between = (from: number, to: number, share: number) => Math.round(1000 * (from + (to - from) * share)) / 1000;
    const side = fc.record({ turnDeg: fc.integer({ min: 20, max: 60 }), mm: fc.integer({ min: 3, max: 40 }) });
    const pass = fc.record({
      back: fc.boolean(),
      pauses: fc.array(fc.constantFrom(null, 0.3, 0.5), { minLength: 4, maxLength: 4 }),
    });
    fc.assert(
      fc.property(
        fc.array(side, { minLength: 2, maxLength: 4 }),
        fc.array(pass, { minLength: 1, maxLength: 4 }),
        (sides, passes) => {
          const corners: [number, number][] = [[100, 100]];
          let headingDeg = 0;
          for (const { turnDeg, mm } of sides) {
            const [x, y] = corners.at(-1)!;
            headingDeg += turnDeg;
            corners.push([
              between(x, x + mm, Math.cos((headingDeg * Math.PI) / 180)),
              between(y, y + mm, Math.sin((headingDeg * Math.PI) / 180)),
            ]);
          }
          const gcode = passes.map(({ back, pauses }) => {
            const [first, ...others] = back ? corners.toReversed() : corners;
            let [x, y] = first!;
            const moves = others.flatMap(([toX, toY], k) => {
              const pause = pauses[k] ?? null;
              const on = pause === null ? [] : [`G1 X${between(x, toX, pause)} Y${between(y, toY, pause)}`];
              [x, y] = [toX, toY];
              return [...on, `G1 X${x} Y${y}`];
            });
            return [`G0 X${first![0]} Y${first![1]}`, ...moves].join('\n');
          });
          const lengthMm = sides.reduce((sum, { mm }) => sum + mm, 0);
          const contours = contoursOf(gcode.join('\n'));
          expect(contours.map(({ closed }) => closed)).toEqual(passes.map(() => false));
          for (const contour of contours) expect(Math.abs(polylineLengthMm(contour) - lengthMm)).toBeLessThan(0.02);
        },
      ),
      { numRuns: 60 },
    );
  });
});
