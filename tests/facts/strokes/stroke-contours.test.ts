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
