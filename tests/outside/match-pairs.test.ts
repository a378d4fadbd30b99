import { describe, expect, it } from 'vitest';
import { type Files, factsOf, shed } from '../memory-shop.ts';

/**
 * Pairs of artwork and toolpath made from one list of shapes by closed formulas: circles and rounded rectangles, whose offset
 * curves are circles and rounded rectangles again (plane geometry). The placement put in is the check value.
 */
type Shape =
  | { kind: 'circle'; x: number; y: number; r: number; hole: boolean }
  | { kind: 'plate'; x: number; y: number; w: number; h: number; r: number; hole: boolean };

const SHAPES: Shape[] = [
  { kind: 'circle', x: 14, y: 13, r: 5, hole: true },
  { kind: 'circle', x: 30, y: 22, r: 3, hole: true },
  { kind: 'plate', x: 40, y: 8, w: 12, h: 5, r: 1.5, hole: true },
  { kind: 'plate', x: 0, y: 0, w: 60, h: 35, r: 4, hole: false },
  { kind: 'plate', x: 0, y: 42, w: 25, h: 10, r: 2, hole: false },
];

interface Placing {
  quarterTurns: 0 | 1 | 2 | 3;
  mirrored: boolean;
  scale: number;
  dx: number;
  dy: number;
}

/** Towards the waste: outlines of parts grow, holes shrink. */
function grown(shape: Shape, offset: number): Shape {
  const by = shape.hole ? -offset : offset;
  if (shape.kind === 'circle') return { ...shape, r: shape.r + by };
  const { x, y, w, h, r } = shape;
  return { ...shape, x: x - by, y: y - by, w: w + 2 * by, h: h + 2 * by, r: r + by };
}

interface Piece {
  /** Ends of straight pieces and arcs: the arc's centre when it is one, anticlockwise. */
  x: number;
  y: number;
  centre: { x: number; y: number } | null;
}

/** The outline as straight pieces and anticlockwise arcs; the first piece is where it starts. */
function pieces(shape: Shape): Piece[] {
  if (shape.kind === 'circle') {
    const { x, y, r } = shape;
    return [
      { x: x + r, y, centre: null },
      { x: x - r, y, centre: { x, y } },
      { x: x + r, y, centre: { x, y } },
    ];
  }
  const { x, y, w, h, r } = shape;
  const corner = (cx: number, cy: number, ax: number, ay: number, bx: number, by: number): Piece[] => [
    { x: ax, y: ay, centre: null },
    { x: bx, y: by, centre: { x: cx, y: cy } },
  ];
  return [
    { x: x + r, y, centre: null },
    ...corner(x + w - r, y + r, x + w - r, y, x + w, y + r),
    ...corner(x + w - r, y + h - r, x + w, y + h - r, x + w - r, y + h),
    ...corner(x + r, y + h - r, x + r, y + h, x, y + h - r),
    ...corner(x + r, y + r, x, y + r, x + r, y),
  ];
}

function placePoint(p: { x: number; y: number }, place: Placing): { x: number; y: number } {
  let { x, y } = p;
  if (place.mirrored) x = -x;
  for (let i = 0; i < place.quarterTurns; i++) [x, y] = [-y, x];
  return { x: place.scale * x + place.dx, y: place.scale * y + place.dy };
}

const n = (v: number) => v.toFixed(5);

function gcode(shapes: Shape[], place: Placing, form: 'arcs' | 'lines'): string {
  const lines = ['G21 G90', 'M8', 'M4 S800 F540'];
  for (const shape of shapes) {
    let at: { x: number; y: number } | null = null;
    for (const piece of pieces(shape)) {
      const to = placePoint(piece, place);
      if (at === null) lines.push(`G0 X${n(to.x)} Y${n(to.y)}`);
      else if (piece.centre === null) lines.push(`G1 X${n(to.x)} Y${n(to.y)}`);
      else {
        const centre = placePoint(piece.centre, place);
        const turn = place.mirrored ? 'G2' : 'G3';
        if (form === 'arcs')
          lines.push(`${turn} X${n(to.x)} Y${n(to.y)} I${n(centre.x - at.x)} J${n(centre.y - at.y)}`);
        else lines.push(...chords(at, to, centre, place.mirrored));
      }
      at = to;
    }
  }
  return `${lines.join('\n')}\nM5\nM9\nM2\n`;
}

/** The arc in chords of about 6°, which stay within 0.01 mm of the arcs drawn here. */
function chords(
  from: { x: number; y: number },
  to: { x: number; y: number },
  centre: { x: number; y: number },
  clockwise: boolean,
): string[] {
  const start = Math.atan2(from.y - centre.y, from.x - centre.x);
  let sweep = Math.atan2(to.y - centre.y, to.x - centre.x) - start;
  const turn = 2 * Math.PI;
  sweep = clockwise ? -(((-sweep % turn) + turn) % turn || turn) : ((sweep % turn) + turn) % turn || turn;
  const r = Math.hypot(from.x - centre.x, from.y - centre.y);
  const count = Math.ceil(Math.abs(sweep) / 0.1);
  return Array.from({ length: count }, (_, i) => {
    const angle = start + (sweep * (i + 1)) / count;
    return `G1 X${n(centre.x + r * Math.cos(angle))} Y${n(centre.y + r * Math.sin(angle))}`;
  });
}

function svg(shapes: Shape[]): string {
  const flip = (y: number) => 60 - y;
  const drawn = shapes.map((s) =>
    s.kind === 'circle'
      ? `<circle cx="${s.x + 10}" cy="${flip(s.y)}" r="${s.r}"/>`
      : `<rect x="${s.x + 10}" y="${flip(s.y + s.h)}" width="${s.w}" height="${s.h}" rx="${s.r}"/>`,
  );
  return `<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="70mm" viewBox="0 0 80 70"><g stroke="#1864ab" fill="none">\n${drawn.join('\n')}\n</g></svg>`;
}

function matched(artwork: Shape[], program: string) {
  const files: Files = {
    ...shed(),
    'pair.job.yaml': `kerflint: 1
machine: shed-60w
lens: 2in
material: birch-plywood
thickness: 3 mm ± 0.1 mm
zero: machine
toolpath: pair.gcode
artwork: pair.svg
tasks:
  - { name: parts, aim: through, strokes: { stroke: "#1864ab" }, power: 80 %, speed: 9 mm/s }
`,
    'pair.svg': svg(artwork),
    'pair.gcode': program,
  };
  return factsOf(files).match!;
}

const HOME: Placing = { quarterTurns: 0, mirrored: false, scale: 1, dx: 0, dy: 0 };
const PLACINGS: Placing[] = ([0, 1, 2, 3] as const).flatMap((quarterTurns) =>
  [false, true].map((mirrored) => ({ ...HOME, quarterTurns, mirrored, dx: 70 + 13 * quarterTurns, dy: 80 })),
);

describe.each(['arcs', 'lines'] as const)('a toolpath of %s made from the artwork', (form) => {
  it.each(PLACINGS)('placed as $quarterTurns quarter turns, mirrored $mirrored, is found so', (place) => {
    const found = matched(SHAPES, gcode(SHAPES, place, form));
    expect(found.placement).toMatchObject({ quarterTurns: place.quarterTurns, mirrored: place.mirrored });
    expect(found.placement!.scale).toBeCloseTo(1, 3);
    expect(Math.abs(found.placement!.offsetMm)).toBeLessThan(0.02);
    expect([found.missing.items.length, found.extra.items.length]).toEqual([0, 0]);
  });

  it.each([0.12, -0.12, 0.08])('offset by %d mm for the kerf, is no mismatch, and the offset is named', (offset) => {
    const found = matched(
      SHAPES,
      gcode(
        SHAPES.map((shape) => grown(shape, offset)),
        { ...HOME, dx: 5 },
        form,
      ),
    );
    expect(found.placement!.scale).toBeCloseTo(1, 2);
    expect(Math.abs(found.placement!.offsetMm - offset)).toBeLessThan(0.02);
    expect(found.scaleCause).toBeNull();
    expect([found.missing.items.length, found.extra.items.length]).toEqual([0, 0]);
  });

  it.each([25.4, 96 / 72, 90 / 96])('scaled by %d is found so', (scale) => {
    const found = matched(SHAPES, gcode(SHAPES, { ...HOME, scale }, form));
    expect(found.placement!.scale / scale).toBeCloseTo(1, 3);
    expect(found.scaleCause).not.toBeNull();
  });

  it.each(SHAPES.map((_, i) => i))('without shape %d, lacks just that one', (left) => {
    const rest = SHAPES.filter((_, i) => i !== left);
    const found = matched(SHAPES, gcode(rest, { ...HOME, dx: 3 }, form));
    expect(found.missing.items.map((one) => one.outline)).toEqual([left]);
    expect(found.missing.items[0]!.lengthMm).toBeCloseTo(found.missing.items[0]!.outlineLengthMm, 1);
    expect(found.extra.items).toEqual([]);
  });

  it('with a circle more, has just that extra', () => {
    const more: Shape = { kind: 'circle', x: 20, y: 30, r: 2.5, hole: true };
    const found = matched(SHAPES, gcode([...SHAPES, more], { ...HOME, dx: 3 }, form));
    expect(found.missing.items).toEqual([]);
    expect(found.extra.items.reduce((sum, one) => sum + one.lengthMm, 0)).toBeCloseTo(2 * Math.PI * 2.5, 0);
  });
});
