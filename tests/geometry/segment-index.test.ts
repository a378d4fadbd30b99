import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { GrowingIndex } from '../../src/geometry/index/growing-index.ts';
import { SegmentIndex } from '../../src/geometry/index/segment-index.ts';
import { distanceToSegment, SegmentBuilder, type Segments } from '../../src/geometry/segments/segments.ts';
import { type Row, segmentsOfRows } from './drawings.ts';

/** Least distance of two segments, measured end by end: 0 where they cross. */
function apart(s: Segments, i: number, [ax, ay, bx, by]: Row): number {
  const [cx, cy, dx, dy] = [s.x0[i]!, s.y0[i]!, s.x1[i]!, s.y1[i]!];
  const side = (px: number, py: number, qx: number, qy: number, x: number, y: number) =>
    Math.sign((qx - px) * (y - py) - (qy - py) * (x - px));
  const crossing =
    side(ax, ay, bx, by, cx, cy) * side(ax, ay, bx, by, dx, dy) < 0 &&
    side(cx, cy, dx, dy, ax, ay) * side(cx, cy, dx, dy, bx, by) < 0;
  if (crossing) return 0;
  return Math.min(
    distanceToSegment(ax, ay, cx, cy, dx, dy),
    distanceToSegment(bx, by, cx, cy, dx, dy),
    distanceToSegment(cx, cy, ax, ay, bx, by),
    distanceToSegment(dx, dy, ax, ay, bx, by),
  );
}

/** Small drawings, and such as lie a kilometre away or reach that far. */
const coordinate = fc.oneof(
  fc.integer({ min: -4, max: 4 }),
  fc.double({ min: -60, max: 60, noNaN: true }),
  fc.double({ min: 999_990, max: 1e6, noNaN: true }),
);
const row: fc.Arbitrary<Row> = fc.tuple(coordinate, coordinate, coordinate, coordinate);
const rows = fc.array(row, { maxLength: 40 });
const pad = fc.constantFrom(0, 0.05, 1, 30);
const part = fc.constantFrom(0.2, 1, 10);

describe('an index of segments', () => {
  it('finds all that lie within reach of a piece, each once', () => {
    fc.assert(
      fc.property(rows, row, pad, part, (lines, piece, padMm, partMm) => {
        const segments = segmentsOfRows(lines);
        const index = new SegmentIndex(segments, partMm);
        const found = [...index.search(...piece, padMm).subarray(0, index.foundCount)];
        expect(new Set(found).size).toBe(found.length);
        for (let i = 0; i < segments.count; i++) if (apart(segments, i, piece) <= padMm) expect(found).toContain(i);
      }),
    );
  });

  it('finds all that lie within reach of a box', () => {
    fc.assert(
      fc.property(rows, row, pad, part, (lines, [ax, ay, bx, by], padMm, partMm) => {
        const segments = segmentsOfRows(lines);
        const index = new SegmentIndex(segments, partMm);
        const box = { minX: Math.min(ax, bx), minY: Math.min(ay, by), maxX: Math.max(ax, bx), maxY: Math.max(ay, by) };
        const found = [...index.searchBox(box, padMm).subarray(0, index.foundCount)];
        const parts = new Set<number>();
        index.visitParts(box, padMm, (segment) => {
          const [minX = 0, minY = 0, maxX = 0, maxY = 0] = index.shownBox;
          expect(minX <= box.maxX + padMm && maxX >= box.minX - padMm).toBe(true);
          expect(minY <= box.maxY + padMm && maxY >= box.minY - padMm).toBe(true);
          parts.add(segment);
          return false;
        });
        expect([...parts].sort()).toEqual(found.sort());
        for (let i = 0; i < segments.count; i++) {
          const diagonals: Row[] = [
            [box.minX, box.minY, box.maxX, box.maxY],
            [box.minX, box.maxY, box.maxX, box.minY],
          ];
          if (diagonals.some((diagonal) => apart(segments, i, diagonal) <= padMm)) expect(found).toContain(i);
        }
      }),
    );
  });

  it('follows a slanted line instead of taking the box around it', () => {
    const builder = new SegmentBuilder();
    for (let k = 0; k < 200; k++) builder.addLine(k, 0, k + 200, 200, k);
    const segments = builder.finish();
    const index = new SegmentIndex(segments, 1);
    index.search(100, 0, 300, 200, 0.05);
    // The box of one line meets all the others.
    expect(index.foundCount).toBeLessThanOrEqual(5);
  });

  it('shows each segment once in the order of places', () => {
    fc.assert(
      fc.property(rows, (lines) => {
        const segments = segmentsOfRows(lines);
        const order = new SegmentIndex(segments, 1).inPlaceOrder();
        expect([...order].sort((a, b) => a - b)).toEqual(Array.from({ length: segments.count }, (_, i) => i));
      }),
    );
  });

  it('stops when it is told to', () => {
    const index = new SegmentIndex(segmentsOfRows(Array.from({ length: 100 }, () => [0, 0, 5, 0])), 1);
    let seen = 0;
    expect(index.visit(0, 0, 5, 0, 0, () => ++seen === 3)).toBe(true);
    expect(seen).toBe(3);
  });

  it('finds nothing where nothing is', () => {
    const index = new SegmentIndex(segmentsOfRows([]), 1);
    index.search(0, 0, 1, 1, 100);
    expect(index.foundCount).toBe(0);
    expect(index.inPlaceOrder()).toHaveLength(0);
  });
});

/** Nothing was found that is not put in yet, and what is and was not found lies apart. */
function holdsUntil(put: number, found: ReadonlySet<number>, segments: Segments, piece: Row): void {
  for (let i = 0; i < segments.count; i++) {
    if (found.has(i)) expect(i).toBeLessThanOrEqual(put);
    else if (i <= put) expect(apart(segments, i, piece)).toBeGreaterThan(0.5);
  }
}

describe('an index that grows', () => {
  it('finds at any time what was put in until then', () => {
    const many = fc.array(row, { minLength: 1, maxLength: 120 });
    fc.assert(
      fc.property(many, row, fc.integer({ min: 1, max: 7 }), (lines, piece, searches) => {
        const segments = segmentsOfRows(lines);
        const index = new GrowingIndex(segments, 1);
        for (let put = 0; put < segments.count; put++) {
          index.insert(put);
          if (put % 9 !== 0) continue;
          // Searched often enough it joins its parts.
          for (let k = 0; k < searches * 10; k++) {
            const found = new Set<number>();
            index.visit(...piece, 0.5, (segment) => found.add(segment));
            holdsUntil(put, found, segments, piece);
          }
        }
      }),
      { numRuns: 40 },
    );
  });
});
