import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Matrix } from '../../src/svg/frames/matrix.ts';
import { IDENTITY, mapBox } from '../../src/svg/frames/matrix.ts';
import { flatten } from '../../src/svg/shapes/flatten.ts';
import { measure, remeasure } from '../../src/svg/shapes/measure.ts';
import { parsePathData } from '../../src/svg/shapes/path-data.ts';

const number = fc.double({ min: -100, max: 100, noNaN: true }).map((v) => Math.round(v * 1000) / 1000);
const positive = number.map((v) => Math.abs(v) + 0.5);
const flag = fc.integer({ min: 0, max: 1 });
const step = fc.oneof(
  fc.tuple(number, number).map((p) => `L${p.join(' ')}`),
  fc.tuple(number, number, number, number).map((p) => `q${p.join(',')}`),
  fc.tuple(number, number, number, number, number, number).map((p) => `C${p.join(' ')}`),
  fc.tuple(number, number).map((p) => `t${p.join(' ')}`),
  fc.tuple(number, number, number, number).map((p) => `s${p.join(' ')}`),
  fc
    .tuple(positive, positive, number, flag, flag, number, number)
    .map((p) => `a${p.slice(0, 3).join(' ')} ${p[3]}${p[4]}${p.slice(5).join(' ')}`),
  fc.constant('z'),
);
const path = fc.array(step, { minLength: 1, maxLength: 12 }).map((steps) => `M10-20${steps.join('')}`);
const matrix = fc
  .tuple(number, number, number, number, number, number)
  .filter((m) => Math.abs(m[0] * m[3] - m[1] * m[2]) > 1);

function chainLength(xy: Float64Array, closed: boolean): number {
  let length = 0;
  for (let i = 2; i < xy.length; i += 2) length += Math.hypot(xy[i]! - xy[i - 2]!, xy[i + 1]! - xy[i - 1]!);
  return closed ? length + Math.hypot(xy[0]! - xy.at(-2)!, xy[1]! - xy.at(-1)!) : length;
}

function distanceToChain(x: number, y: number, xy: Float64Array): number {
  let least = Infinity;
  for (let i = 2; i < xy.length; i += 2) {
    const dx = xy[i]! - xy[i - 2]!;
    const dy = xy[i + 1]! - xy[i - 1]!;
    const t = Math.min(1, Math.max(0, ((x - xy[i - 2]!) * dx + (y - xy[i - 1]!) * dy) / (dx * dx + dy * dy || 1)));
    least = Math.min(least, Math.hypot(x - xy[i - 2]! - t * dx, y - xy[i - 1]! - t * dy));
  }
  return least;
}

describe('any path', () => {
  it('is read to its end', () => {
    fc.assert(
      fc.property(path, (d) => {
        expect(parsePathData(d).errorAt).toBeNull();
      }),
    );
  });

  it('is at least as long as its chords, and chords come near it as the tolerance falls', () => {
    fc.assert(
      fc.property(path, (d) => {
        const { curves } = parsePathData(d);
        const exact = measure(curves, IDENTITY);
        const { polylines } = flatten(curves, IDENTITY, 0.001, 1e7);
        expect(polylines).toHaveLength(exact.length);
        for (const [i, { xy, closed }] of polylines.entries()) {
          const chords = chainLength(xy, closed);
          expect(chords).toBeLessThanOrEqual(exact[i]!.length * (1 + 1e-9) + 1e-9);
          expect(chords).toBeGreaterThan(exact[i]!.length * (1 - 1e-3) - 0.05);
        }
      }),
      // A parabola that doubles back within a hair's breadth.
      { examples: [['M10-20q0,0.155,0,-24.027s0 0 0 0']] },
    );
  });

  it('keeps its flattened points inside its box, and its box no larger than they and the tolerance say', () => {
    fc.assert(
      fc.property(path, (d) => {
        const { curves } = parsePathData(d);
        const { polylines } = flatten(curves, IDENTITY, 0.01, 1e7);
        for (const [i, { box }] of measure(curves, IDENTITY).entries()) {
          const xs = polylines[i]!.xy.filter((_, at) => at % 2 === 0);
          const ys = polylines[i]!.xy.filter((_, at) => at % 2 === 1);
          for (const [low, high, least, most] of [
            [box.minX, box.maxX, Math.min(...xs), Math.max(...xs)],
            [box.minY, box.maxY, Math.min(...ys), Math.max(...ys)],
          ] as const) {
            expect(low).toBeLessThanOrEqual(least + 1e-9);
            expect(high).toBeGreaterThanOrEqual(most - 1e-9);
            expect(low).toBeGreaterThan(least - 0.011);
            expect(high).toBeLessThan(most + 0.011);
          }
        }
      }),
    );
  });

  it('flattens within the tolerance: a hundred times finer chain stays that near', () => {
    fc.assert(
      fc.property(path, (d) => {
        const { curves } = parsePathData(d);
        const coarse = flatten(curves, IDENTITY, 0.5, 1e7).polylines;
        for (const [i, fine] of flatten(curves, IDENTITY, 0.005, 1e7).polylines.entries()) {
          for (let at = 0; at < fine.xy.length; at += 2 * Math.max(1, Math.ceil(fine.xy.length / 200))) {
            expect(distanceToChain(fine.xy[at]!, fine.xy[at + 1]!, coarse[i]!.xy)).toBeLessThan(0.506);
          }
        }
      }),
      { numRuns: 50 },
    );
  });

  it('flattens the same through a matrix as its flattened points do', () => {
    fc.assert(
      fc.property(path, matrix, (d, m) => {
        const { curves } = parsePathData(d);
        const mapped = flatten(curves, m as Matrix, 0.01, 1e7).polylines;
        const plain = flatten(curves, IDENTITY, 1e-4, 1e7).polylines;
        for (const [i, { xy }] of plain.entries()) {
          const scale = Math.hypot(...m.slice(0, 4));
          for (let at = 0; at < xy.length; at += 2 * Math.max(1, Math.ceil(xy.length / 40))) {
            const x = m[0] * xy[at]! + m[2] * xy[at + 1]! + m[4];
            const y = m[1] * xy[at]! + m[3] * xy[at + 1]! + m[5];
            const chain = Float64Array.of(...mapped[i]!.xy, mapped[i]!.xy[0]!, mapped[i]!.xy[1]!);
            expect(distanceToChain(x, y, chain)).toBeLessThan(0.01 + 1e-4 * scale + 1e-6 * scale);
          }
        }
      }),
      { numRuns: 50 },
    );
  });

  it('measured through a matrix that only turns, mirrors and scales is the plain measure scaled', () => {
    const turn = fc.tuple(fc.integer({ min: 0, max: 3 }), fc.boolean(), positive);
    fc.assert(
      fc.property(path, turn, (d, [quarters, mirrored, scale]) => {
        const { curves } = parsePathData(d);
        const c = [1, 0, -1, 0][quarters]! * scale;
        const s = [0, 1, 0, -1][quarters]! * scale;
        const m: Matrix = mirrored ? [-c, -s, -s, c, 3, 4] : [c, s, -s, c, 3, 4];
        const plain = measure(curves, IDENTITY);
        for (const [i, measured] of measure(curves, m).entries()) {
          const again = remeasure(curves, plain, m)[i]!;
          expect(again.length).toBeCloseTo(measured.length, 5);
          const box = mapBox(m, plain[i]!.box);
          for (const side of ['minX', 'minY', 'maxX', 'maxY'] as const) {
            expect(measured.box[side]).toBeCloseTo(box[side], 6);
            expect(again.box[side]).toBeCloseTo(box[side], 9);
          }
        }
      }),
    );
  });
});

describe('any text as path data', () => {
  it('is read up to an error without a throw', () => {
    const soup = fc.array(fc.constantFrom(...'MmLlCcQqTtSsAaZzHhVv0123456789.-+eE ,\n;x'), { maxLength: 60 });
    fc.assert(
      fc.property(soup, (characters) => {
        const text = characters.join('');
        const { curves, errorAt } = parsePathData(text);
        expect(curves.xy.every(Number.isFinite)).toBe(true);
        if (errorAt !== null) expect(errorAt).toBeLessThanOrEqual(text.length);
      }),
      { numRuns: 2000 },
    );
  });
});
