import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { LeftRay } from '../../src/geometry/index/left-ray.ts';
import type { Segments } from '../../src/geometry/segments/segments.ts';
import { type Row, segmentsOfRows } from './drawings.ts';

/** Edges of four outlines in turn. */
const edgesOf = (rows: readonly Row[]) => segmentsOfRows(rows.map(([a, b, c, d], i) => [a, b, c, d, i % 4]));

/** What a ray meets first, by looking at every edge. */
function byLooking(edges: Segments, x: number, y: number, owner: number): number {
  const { count, x0, y0, x1, y1 } = edges;
  const met = Array.from({ length: count }, (_, e) => e)
    .filter((e) => edges.owner[e] !== owner && y0[e]! > y !== y1[e]! > y)
    .map((e) => ({ e, slope: (x1[e]! - x0[e]!) / (y1[e]! - y0[e]!) }))
    .map(({ e, slope }) => ({ e, slope, at: x0[e]! + slope * (y - y0[e]!) }))
    .filter(({ at }) => at <= x)
    .sort((a, b) => b.at - a.at || b.slope - a.slope || b.e - a.e);
  return met[0]?.e ?? -1;
}

const onGrid = fc.tuple(fc.nat(12), fc.nat(12), fc.nat(12), fc.nat(12));
/** To a millionth: of edges that are lower than what a division bears nobody knows where they cross a ray. */
const placeMm = fc.double({ min: -300, max: 300, noNaN: true }).map((mm) => Math.round(mm * 1e6) / 1e6);
const anywhere = fc.tuple(placeMm, placeMm, placeMm, placeMm);
const flat = fc
  .tuple(fc.nat(300), fc.nat(3), fc.nat(300), fc.nat(3))
  .map(([a, b, c, d]): Row => [a, b / 1e3, c, d / 1e3]);

describe('a ray to the left', () => {
  it.each([
    ['on a grid, where corners lie on each other', onGrid, 13],
    ['anywhere', anywhere, 300],
    ['that are long and nearly level', flat, 300],
  ])('meets first what looking at every edge finds: edges %s', (_, edge, side) => {
    fc.assert(
      fc.property(
        fc.array(edge as fc.Arbitrary<Row>, { maxLength: 60 }),
        fc.array(fc.tuple(fc.integer({ min: -2, max: 4 * side }), fc.integer({ min: -2, max: 4 * side })), {
          minLength: 1,
          maxLength: 20,
        }),
        (rows, places) => {
          const edges = edgesOf(rows);
          const ray = new LeftRay(edges);
          for (const [x4, y4] of places) {
            for (const owner of [-1, 1]) {
              expect(ray.firstHit(x4 / 4, y4 / 4, owner)).toBe(byLooking(edges, x4 / 4, y4 / 4, owner));
            }
          }
          // And from the ends of the edges themselves.
          for (let e = 0; e < edges.count; e++) {
            const [x, y] = [edges.x0[e]!, edges.y0[e]!];
            expect(ray.firstHit(x, y, edges.owner[e]!)).toBe(byLooking(edges, x, y, edges.owner[e]!));
          }
        },
      ),
    );
  });

  it('meets nothing where there is nothing, and beyond everything', () => {
    expect(new LeftRay(edgesOf([])).firstHit(0, 0, -1)).toBe(-1);
    const ray = new LeftRay(edgesOf([[5, 0, 5, 10]]));
    expect(ray.firstHit(6, 5, -1)).toBe(0);
    for (const [x, y] of [
      [4, 5],
      [6, 11],
      [6, -1],
      [Number.NaN, 5],
      [6, Number.NaN],
      [Infinity, 5],
      [6, Infinity],
    ] as const) {
      expect(ray.firstHit(x, y, -1), `${x} ${y}`).toBe(-1);
    }
  });
});
