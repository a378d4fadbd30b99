import { NumberScanner } from '../shapes/path-data.ts';
import type { Matrix } from './matrix.ts';

export interface ViewBox {
  x: number;
  y: number;
  width: number;
  height: number;
}

/** A `viewBox`; null when it is malformed or negative. A zero width or height is kept: nothing is drawn then. */
export function parseViewBox(text: string): ViewBox | null {
  const scanner = new NumberScanner(text);
  const numbers: number[] = [];
  scanner.skipSpace();
  while (!scanner.atEnd && numbers.length < 5) {
    const value = scanner.number();
    if (Number.isNaN(value)) return null;
    numbers.push(value);
    scanner.skipComma();
  }
  const [x, y, width, height] = numbers;
  if (numbers.length !== 4 || width! < 0 || height! < 0) return null;
  return { x: x!, y: y!, width: width!, height: height! };
}

export interface AspectRatio {
  /** 0, 0.5 or 1: where the box sits in what is left over. */
  alignX: number;
  alignY: number;
  fit: 'meet' | 'slice' | 'none';
}

const ALIGNED: Readonly<Record<string, number>> = { Min: 0, Mid: 0.5, Max: 1 };

/** A `preserveAspectRatio`; null when malformed. */
export function parseAspectRatio(text: string): AspectRatio | null {
  const words = text.trim().split(/[ \t\r\n\f]+/);
  if (words[0] === 'defer') words.shift();
  const [align = '', fit = 'meet'] = words;
  if (words.length > 2 || (fit !== 'meet' && fit !== 'slice')) return null;
  if (align === 'none') return { alignX: 0, alignY: 0, fit: 'none' };
  const found = /^x(Min|Mid|Max)Y(Min|Mid|Max)$/.exec(align);
  return found ? { alignX: ALIGNED[found[1]!]!, alignY: ALIGNED[found[2]!]!, fit } : null;
}

export const MEET_IN_THE_MIDDLE: AspectRatio = { alignX: 0.5, alignY: 0.5, fit: 'meet' };

/** The transform that lays a viewBox into a rectangle. Source: SVG 2 §8.2, "equivalent transform of an SVG viewport". */
export function viewBoxTransform(
  box: ViewBox,
  ratio: AspectRatio,
  x: number,
  y: number,
  width: number,
  height: number,
): Matrix {
  let scaleX = width / box.width;
  let scaleY = height / box.height;
  if (ratio.fit !== 'none') {
    scaleX = ratio.fit === 'meet' ? Math.min(scaleX, scaleY) : Math.max(scaleX, scaleY);
    scaleY = scaleX;
  }
  return [
    scaleX,
    0,
    0,
    scaleY,
    x - box.x * scaleX + (width - box.width * scaleX) * ratio.alignX,
    y - box.y * scaleY + (height - box.height * scaleY) * ratio.alignY,
  ];
}
