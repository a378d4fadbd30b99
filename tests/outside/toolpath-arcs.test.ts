import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { read } from '../gcode/reading.ts';

// Closed forms of plane geometry.
describe('arcs against closed forms', () => {
  it('a full circle is 2πr long and reaches r to every side', () => {
    const { cutLengthMm, strokes, poweredBoundsMm } = read('M3 S1 F60\nG0 X20 Y30\nG3 I10');
    expect(cutLengthMm).toBeCloseTo(20 * Math.PI, 9);
    expect(strokes.sweepRad[0]).toBeCloseTo(2 * Math.PI, 12);
    const { minX, maxX, minY, maxY } = poweredBoundsMm!;
    [minX - 20, maxX - 40, minY - 20, maxY - 40].forEach((d) => {
      expect(d).toBeCloseTo(0, 9);
    });
  });

  it('three turns of a helix are √((6πr)² + h²) long', () => {
    const { cutLengthMm, strokes } = read('M3 S1 F60\nG0 X0 Y0 Z0\nG2 X0 Y0 I5 J0 Z-6 P3');
    expect(cutLengthMm).toBeCloseTo(Math.hypot(30 * Math.PI, 6), 9);
    expect(strokes.sweepRad[0]).toBeCloseTo(-6 * Math.PI, 12);
  });

  it('by radius: chord c and radius r turn by 2 asin(c/2r), or by the rest of the circle when R is negative', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 50, noNaN: true }),
        fc.double({ min: 0.05, max: 0.98, noNaN: true }),
        fc.boolean(),
        fc.boolean(),
        (r, share, clockwise, long) => {
          const chord = 2 * r * share;
          const angle = 2 * Math.asin(share);
          const sweep = long ? 2 * Math.PI - angle : angle;
          const { strokes, cutLengthMm } = read(
            `M3 S1 F60\nG${clockwise ? 2 : 3} X${chord.toFixed(9)} R${(long ? -r : r).toFixed(9)}`,
          );
          expect(strokes.sweepRad[0]).toBeCloseTo(clockwise ? -sweep : sweep, 5);
          expect(cutLengthMm).toBeCloseTo(r * sweep, 4);
          // The centre is as far from both ends.
          expect(Math.hypot(strokes.centreX[0]!, strokes.centreY[0]!)).toBeCloseTo(r, 6);
          expect(Math.hypot(strokes.centreX[0]! - chord, strokes.centreY[0]!)).toBeCloseTo(r, 6);
          // G3 with a short arc keeps its centre to the left of the way, above the X axis.
          if (share < 0.95) expect(Math.sign(strokes.centreY[0]!)).toBe(clockwise === long ? 1 : -1);
        },
      ),
      { seed: 6, numRuns: 300 },
    );
  });

  it('by centre: a quarter, and its absolute form G90.1', () => {
    const relative = read('M3 S1 F60\nG0 X10\nG3 X0 Y10 I-10 J0');
    expect(relative.strokes.sweepRad[0]).toBeCloseTo(Math.PI / 2, 12);
    const absolute = read('M3 S1 F60\nG0 X15 Y5\nG90.1\nG3 X5 Y15 I5 J5');
    expect(absolute.strokes.sweepRad[0]).toBeCloseTo(Math.PI / 2, 12);
    expect([absolute.strokes.centreX[0], absolute.strokes.centreY[0]]).toEqual([5, 5]);
  });

  it('the box of any arc is that of its points', () => {
    const angle = fc.double({ min: -3, max: 3, noNaN: true });
    fc.assert(
      fc.property(angle, fc.double({ min: 0.1, max: 6.1, noNaN: true }), fc.boolean(), (start, turn, clockwise) => {
        const at = (a: number): [number, number] => [50 + 10 * Math.cos(a), 40 + 10 * Math.sin(a)];
        const sweep = clockwise ? -turn : turn;
        const [x0, y0] = at(start);
        const [x1, y1] = at(start + sweep);
        const box = { minX: 1e9, minY: 1e9, maxX: -1e9, maxY: -1e9 };
        for (let i = 0; i <= 2000; i++) {
          const [x, y] = at(start + (sweep * i) / 2000);
          box.minX = Math.min(box.minX, x);
          box.maxX = Math.max(box.maxX, x);
          box.minY = Math.min(box.minY, y);
          box.maxY = Math.max(box.maxY, y);
        }
        const seen = read(
          `M3 S1 F60\nG0 X${x0.toFixed(9)} Y${y0.toFixed(9)}\nG${clockwise ? 2 : 3} X${x1.toFixed(9)} Y${y1.toFixed(9)} I${(50 - x0).toFixed(9)} J${(40 - y0).toFixed(9)}`,
        ).poweredBoundsMm!;
        for (const key of ['minX', 'minY', 'maxX', 'maxY'] as const) expect(seen[key]).toBeCloseTo(box[key], 4);
      }),
      { seed: 7, numRuns: 300 },
    );
  });

  it.each([
    ['G18', 'G3 X10 Z10 I10 K0', (s: { x: number; y: number; z: number }) => Math.hypot(s.x - 10, s.z), 10],
    ['G19', 'G2 Y10 Z10 J10 K0', (s: { x: number; y: number; z: number }) => Math.hypot(s.y - 10, s.z), 10],
  ] as const)('%s: a quarter becomes chords on the circle, their sum near πr/2', (plane, arc, radius, r) => {
    const { strokes, cutLengthMm, problems } = read(`M3 S1 F60 ${plane}\n${arc}`);
    expect(problems).toEqual([]);
    expect(strokes.count).toBeGreaterThan(10);
    for (let i = 0; i < strokes.count; i++) {
      expect(radius({ x: strokes.endX[i]!, y: strokes.endY[i]!, z: strokes.endZ[i]! })).toBeCloseTo(r, 9);
    }
    // [NISTIR-6556], 3.5.3: clockwise is as seen from the positive end of the axis across the plane; the other way is three quarters.
    const quarters = cutLengthMm / (r * Math.PI * 0.5);
    expect(quarters).toBeCloseTo(1, 2);
  });

  it('a chain of short chords is as long and quick as the circle they follow', () => {
    const n = 3600;
    const chords = Array.from({ length: n }, (_, i) => {
      const a = (2 * Math.PI * (i + 1)) / n;
      return `G1 X${(20 * Math.cos(a)).toFixed(6)} Y${(20 * Math.sin(a)).toFixed(6)}`;
    });
    const polygon = read(['M3 S1 F1200', 'G0 X20', ...chords]);
    expect(polygon.cutLengthMm).toBeCloseTo(2 * n * 20 * Math.sin(Math.PI / n), 3);
    expect(polygon.time.cuttingS).toBeCloseTo(read('M3 S1 F1200\nG0 X20\nG3 X20 Y0 I-20').time.cuttingS, 1);
  });
});
