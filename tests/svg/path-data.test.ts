import { describe, expect, it } from 'vitest';
import { textSource } from '../../src/source/source.ts';
import { IDENTITY } from '../../src/svg/frames/matrix.ts';
import { readArtwork } from '../../src/svg/read.ts';
import { measure } from '../../src/svg/shapes/measure.ts';
import { parsePathData } from '../../src/svg/shapes/path-data.ts';

function length(d: string): number {
  return measure(parsePathData(d).curves, IDENTITY).reduce((sum, m) => sum + m.length, 0);
}

// SVG 2 §9.3.9 and §9.5.4: the grammar and its error rule; values worked by hand.
describe('path data', () => {
  it.each([
    ['M0-.5.5e1-.5', [0, -0.5, 5, -0.5]],
    ['M1 2 3 4', [1, 2, 3, 4]],
    ['m1 2 3 4', [1, 2, 4, 6]],
    ['M1,2L+3,4e0', [1, 2, 3, 4]],
    ['M1 2h3', [1, 2, 4, 2]],
    ['M1 2V.5', [1, 2, 1, 0.5]],
    ['\n M 1 2 \r\t l 1 1 ', [1, 2, 2, 3]],
  ])('%j', (d, xy) => {
    const path = parsePathData(d);
    expect(path.errorAt).toBeNull();
    expect(path.curves.xy).toEqual(xy);
  });

  it('arc flags may run together with what follows', () => {
    const apart = parsePathData('M0 0a5 5 0 0 1 5 5a5 5 0 1 0 .5 -.5').curves;
    expect(parsePathData('M0 0a5 5 0 015 5a5 5 0 10.5-.5').curves).toEqual(apart);
  });

  it.each([
    ['L1 1', 0, 0],
    ['M0 0L10 0 10', 12, 10],
    ['M0 0L10 0,', 10, 10],
    ['M0 0L10 0 Lx', 11, 10],
    ['M0 0L10 0a5 5 0 2 1 5 5', 16, 10],
    ['M0 0L10 0L5.', 11, 10],
    ['M0 0,,L1 1', 5, 0],
    ['M0 0L10 0#', 9, 10],
  ])('%j stops at offset %d, having drawn %d', (d, at, drawn) => {
    const path = parsePathData(d);
    expect(path.errorAt).toBe(at);
    expect(length(d)).toBeCloseTo(drawn, 12);
  });

  it('the place of an error counts references and line ends in the file', () => {
    const text =
      '<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm">\n<path id="p"\n d="M0&#32;0\n  L5 x5"/></svg>';
    expect(readArtwork(textSource('a.svg', text), { pxPerInch: 96 }).problems).toMatchObject([
      { code: 'bad-path', args: { text: 'x5', at: 10 }, place: { line: 4, column: 6 } },
    ]);
  });
});

// Closed forms: circle 2πr; a parabola's arc length (any calculus text); an ellipse by its integral; the rest by hand.
describe('exact lengths', () => {
  it('a full circle in two arcs', () => {
    expect(length('M-10 0A10 10 0 0 1 10 0A10 10 0 0 1-10 0')).toBeCloseTo(20 * Math.PI, 9);
  });

  it('an arc whose radii are too small is scaled up to a half circle', () => {
    expect(length('M0 0A1 1 0 0 1 10 0')).toBeCloseTo(5 * Math.PI, 9);
  });

  it('an arc of no radius is a line', () => {
    expect(length('M0 0A0 10 0 0 1 30 40')).toBeCloseTo(50, 12);
  });

  it('a parabola: y = x² from −1 to 1 is √5 + asinh(2)/2 long', () => {
    expect(length('M-1 1Q0-1 1 1')).toBeCloseTo(Math.sqrt(5) + Math.asinh(2) / 2, 9);
  });

  it('an ellipse by its complete elliptic integral: axes 2 and 1, 9.688448220547675', () => {
    // E(√3/2) = 1.2110560275684594 ([ABRAMOWITZ-1964], table 17.1), times four and the long half axis 2.
    expect(length('M2 0A2 1 0 0 1-2 0A2 1 0 0 1 2 0')).toBeCloseTo(8 * 1.2110560275684594, 9);
  });

  it('a cubic that turns back on a straight line counts the way there and back', () => {
    // x(t) = 30 t (1 − t)(1 − 2t), whose extremes stand at t = (3 ± √3)/6.
    const extreme = (t: number): number => 30 * t * (1 - t) * (1 - 2 * t);
    const t1 = (3 - Math.sqrt(3)) / 6;
    expect(length('M0 0C10 0-10 0 0 0')).toBeCloseTo(4 * Math.abs(extreme(t1)), 6);
  });
});
