import { appendArc, Curves } from './curves.ts';
import { GREATEST_NUMBER, NumberScanner, parsePathData } from './path-data.ts';

/** Elements that draw an outline. */
export const SHAPES: ReadonlySet<string> = new Set([
  'path',
  'rect',
  'circle',
  'ellipse',
  'line',
  'polyline',
  'polygon',
]);

/** Where a shape's values come from. */
export interface ShapeValues {
  /** A geometry property or attribute in px; null when it is absent or `auto`. */
  length(name: string, axis: 'x' | 'y' | 'both'): number | null;
  /** An attribute as text. */
  text(name: string): string | null;
}

export interface Shape {
  curves: Curves;
  /** What stopped the reading of path data or points: attribute and offset in its value. */
  error: { attribute: string; at: number; outOfRange: boolean } | null;
  /** An attribute whose value makes the element undrawable (a negative size) or lies beyond all drawings. */
  bad: string | null;
}

/** The curves of a basic shape or path in user space, as SVG 2 §9 and §10 say. */
export function shapeOf(tag: string, values: ShapeValues): Shape {
  switch (tag) {
    case 'path':
      return fromPath(values.text('d') ?? '');
    case 'polyline':
    case 'polygon':
      return fromPoints(values.text('points') ?? '', tag === 'polygon');
    case 'line':
      return fromLine(values);
    case 'rect':
      return fromRectangle(values);
    default:
      return fromEllipse(tag, values);
  }
}

function shape(curves: Curves, bad: string | null = null): Shape {
  return { curves, error: null, bad };
}

function fromPath(text: string): Shape {
  const { curves, errorAt, outOfRange } = parsePathData(text);
  return { curves, error: errorAt === null ? null : { attribute: 'd', at: errorAt, outOfRange }, bad: null };
}

function fromPoints(text: string, closed: boolean): Shape {
  const curves = new Curves();
  const scanner = new NumberScanner(text);
  let error: Shape['error'] = null;
  let first = true;
  scanner.skipSpace();
  while (!scanner.atEnd) {
    const x = scanner.number();
    scanner.skipComma();
    const y = Number.isNaN(x) ? x : scanner.number();
    if (Number.isNaN(y)) {
      error = { attribute: 'points', at: scanner.at, outOfRange: scanner.outOfRange };
      break;
    }
    if (first) curves.move(x, y);
    else curves.line(x, y);
    first = false;
    scanner.skipComma();
  }
  if (closed && !curves.isEmpty) curves.close();
  return { curves, error, bad: null };
}

function fromLine(values: ShapeValues): Shape {
  const curves = new Curves();
  const [x1, y1, x2, y2] = (['x1', 'y1', 'x2', 'y2'] as const).map(
    (name) => values.length(name, name.startsWith('x') ? 'x' : 'y') ?? 0,
  );
  const bad = outOfRange({ x1: x1!, y1: y1!, x2: x2!, y2: y2! });
  if (bad) return shape(curves, bad);
  curves.move(x1!, y1!);
  curves.line(x2!, y2!);
  return shape(curves);
}

function outOfRange(numbers: Record<string, number>): string | null {
  return Object.keys(numbers).find((name) => !(Math.abs(numbers[name]!) <= GREATEST_NUMBER)) ?? null;
}

function fromRectangle(values: ShapeValues): Shape {
  const curves = new Curves();
  const x = values.length('x', 'x') ?? 0;
  const y = values.length('y', 'y') ?? 0;
  const width = values.length('width', 'x') ?? 0;
  const height = values.length('height', 'y') ?? 0;
  if (width < 0 || height < 0) return shape(curves, width < 0 ? 'width' : 'height');
  const bad = outOfRange({ x, y, width, height });
  if (bad || width === 0 || height === 0) return shape(curves, bad);
  // A negative radius counts as not given; one given radius serves for both (SVG 2 §10.2).
  const givenX = values.length('rx', 'x');
  const givenY = values.length('ry', 'y');
  const radiusX = givenX !== null && givenX >= 0 ? givenX : null;
  const radiusY = givenY !== null && givenY >= 0 ? givenY : null;
  const rx = Math.min(radiusX ?? radiusY ?? 0, width / 2);
  const ry = Math.min(radiusY ?? radiusX ?? 0, height / 2);
  if (rx === 0 || ry === 0) {
    curves.move(x, y);
    curves.line(x + width, y);
    curves.line(x + width, y + height);
    curves.line(x, y + height);
    curves.close();
    return shape(curves);
  }
  const right = x + width;
  const bottom = y + height;
  const corner = (toX: number, toY: number): void => appendArc(curves, rx, ry, 0, false, true, toX, toY);
  const side = (toX: number, toY: number): void => {
    if (toX !== curves.x || toY !== curves.y) curves.line(toX, toY);
  };
  curves.move(x + rx, y);
  side(right - rx, y);
  corner(right, y + ry);
  side(right, bottom - ry);
  corner(right - rx, bottom);
  side(x + rx, bottom);
  corner(x, bottom - ry);
  side(x, y + ry);
  corner(x + rx, y);
  curves.close();
  return shape(curves);
}

function fromEllipse(tag: string, values: ShapeValues): Shape {
  const curves = new Curves();
  const cx = values.length('cx', 'x') ?? 0;
  const cy = values.length('cy', 'y') ?? 0;
  const { rx, ry } = tag === 'circle' ? radiusOf(values) : radiiOf(values);
  const nameX = tag === 'circle' ? 'r' : 'rx';
  if (rx < 0 || ry < 0) return shape(curves, rx < 0 ? nameX : 'ry');
  const bad = outOfRange({ cx, cy, [nameX]: rx, ry });
  if (bad || rx === 0 || ry === 0) return shape(curves, bad);
  curves.move(cx + rx, cy);
  curves.arc({ cx, cy, ux: rx, uy: 0, vx: 0, vy: ry, t0: 0, dt: 2 * Math.PI, x: cx + rx, y: cy });
  curves.close();
  return shape(curves);
}

function radiusOf(values: ShapeValues): { rx: number; ry: number } {
  const r = values.length('r', 'both') ?? 0;
  return { rx: r, ry: r };
}

/** Of an ellipse: one given radius serves for both (SVG 2 §10.4). */
function radiiOf(values: ShapeValues): { rx: number; ry: number } {
  const givenX = values.length('rx', 'x');
  const givenY = values.length('ry', 'y');
  return {
    rx: (givenX !== null && givenX >= 0 ? givenX : givenY) ?? 0,
    ry: (givenY !== null && givenY >= 0 ? givenY : givenX) ?? 0,
  };
}
