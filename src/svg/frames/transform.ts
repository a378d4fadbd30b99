import { NumberScanner } from '../shapes/path-data.ts';
import { type LengthContext, parseLength, toPx } from './length.ts';
import type { Matrix } from './matrix.ts';
import { IDENTITY, isFiniteMatrix, multiply, rotation, scaling, translation } from './matrix.ts';

function skew(x: number, y: number): Matrix {
  return [1, Math.tan((y * Math.PI) / 180), Math.tan((x * Math.PI) / 180), 1, 0, 0];
}

/** One function of the `transform` attribute; null for a wrong name or number of values. */
function attributeFunction(name: string, v: number[]): Matrix | null {
  const n = v.length;
  switch (name) {
    case 'matrix':
      return n === 6 ? [v[0]!, v[1]!, v[2]!, v[3]!, v[4]!, v[5]!] : null;
    case 'translate':
      return n === 1 || n === 2 ? translation(v[0]!, v[1] ?? 0) : null;
    case 'scale':
      return n === 1 || n === 2 ? scaling(v[0]!, v[1] ?? v[0]!) : null;
    case 'rotate': {
      if (n === 1) return rotation(v[0]!);
      if (n !== 3) return null;
      return multiply(multiply(translation(v[1]!, v[2]!), rotation(v[0]!)), translation(-v[1]!, -v[2]!));
    }
    case 'skewX':
      return n === 1 ? skew(v[0]!, 0) : null;
    case 'skewY':
      return n === 1 ? skew(0, v[0]!) : null;
    default:
      return null;
  }
}

/** A `transform` attribute (SVG 2 §8.5); null when it is malformed, which leaves the element untransformed. */
export function parseTransformAttribute(text: string): Matrix | null {
  const scanner = new NumberScanner(text);
  let matrix: Matrix = IDENTITY;
  const name = /[A-Za-z]+/y;
  scanner.skipSpace();
  while (!scanner.atEnd) {
    name.lastIndex = scanner.at;
    const found = name.exec(text);
    if (!found) return null;
    scanner.at = name.lastIndex;
    const values = readArguments(scanner);
    const own = values && attributeFunction(found[0], values);
    if (!own) return null;
    matrix = multiply(matrix, own);
    if (scanner.skipComma() && scanner.atEnd) return null;
  }
  return isFiniteMatrix(matrix) ? matrix : null;
}

/** The numbers in brackets behind the name of a transform; null when they are malformed, or more than any transform takes. */
function readArguments(scanner: NumberScanner): number[] | null {
  scanner.skipSpace();
  if (scanner.text[scanner.at] !== '(') return null;
  scanner.at++;
  scanner.skipSpace();
  const values: number[] = [];
  while (scanner.text[scanner.at] !== ')') {
    const value = scanner.number();
    if (Number.isNaN(value) || values.length === 6) return null;
    values.push(value);
    if (scanner.skipComma() && !scanner.startsNumber()) return null;
  }
  scanner.at++;
  return values;
}

/** The box that percentages and keywords of CSS transforms refer to. */
export interface ReferenceBox {
  x: number;
  y: number;
  width: number;
  height: number;
}

const ANGLES: Readonly<Record<string, number>> = { deg: 1, grad: 0.9, rad: 180 / Math.PI, turn: 360 };

/** A CSS `transform` value of flat functions; null when it holds anything else. */
export function parseTransformProperty(text: string, box: ReferenceBox, context: LengthContext): Matrix | null {
  if (text.trim().toLowerCase() === 'none') return IDENTITY;
  let matrix: Matrix = IDENTITY;
  const pattern = /\s*([a-z]+)\(([^()]*)\)\s*/iy;
  let at = 0;
  while (at < text.length) {
    pattern.lastIndex = at;
    const found = pattern.exec(text);
    if (!found) return null;
    at = pattern.lastIndex;
    const own = propertyFunction(
      found[1]!.toLowerCase(),
      found[2]!.split(',').map((v) => v.trim()),
      box,
      context,
    );
    if (!own) return null;
    matrix = multiply(matrix, own);
  }
  return isFiniteMatrix(matrix) ? matrix : null;
}

/** Lengths of a transform in px; NaN for what is none. */
type Px = (text: string, axis: 'x' | 'y') => number;

/** The functions of CSS transforms that stay in the plane (CSS Transforms 1 §13), with the least and the most arguments of each. */
const FUNCTIONS: Readonly<Record<string, { least: number; most: number; of: (args: string[], px: Px) => Matrix }>> = {
  matrix: { least: 6, most: 6, of: (args) => args.map(numberOf) as unknown as Matrix },
  translate: { least: 1, most: 2, of: ([x = '', y = '0'], px) => translation(px(x, 'x'), px(y, 'y')) },
  translatex: { least: 1, most: 1, of: ([x = ''], px) => translation(px(x, 'x'), 0) },
  translatey: { least: 1, most: 1, of: ([y = ''], px) => translation(0, px(y, 'y')) },
  scale: { least: 1, most: 2, of: ([x = '', y = x]) => scaling(numberOf(x), numberOf(y)) },
  scalex: { least: 1, most: 1, of: ([x = '']) => scaling(numberOf(x), 1) },
  scaley: { least: 1, most: 1, of: ([y = '']) => scaling(1, numberOf(y)) },
  rotate: { least: 1, most: 1, of: ([angle = '']) => rotation(degreesOf(angle)) },
  rotatez: { least: 1, most: 1, of: ([angle = '']) => rotation(degreesOf(angle)) },
  skew: { least: 1, most: 2, of: ([x = '', y = '0']) => skew(degreesOf(x), degreesOf(y)) },
  skewx: { least: 1, most: 1, of: ([x = '']) => skew(degreesOf(x), 0) },
  skewy: { least: 1, most: 1, of: ([y = '']) => skew(0, degreesOf(y)) },
};

function propertyFunction(name: string, args: string[], box: ReferenceBox, context: LengthContext): Matrix | null {
  const entry = Object.hasOwn(FUNCTIONS, name) ? FUNCTIONS[name]! : null;
  if (!entry || args.length < entry.least || args.length > entry.most) return null;
  const viewport = { ...context, width: box.width, height: box.height };
  const matrix = entry.of(args, (text, axis) => {
    const length = parseLength(text);
    if (!length || (length.unit === '' && length.value !== 0)) return Number.NaN;
    return toPx(length, axis, viewport) ?? Number.NaN;
  });
  return isFiniteMatrix(matrix) ? matrix : null;
}

function numberOf(text: string): number {
  const length = parseLength(text);
  if (length?.unit === '%') return length.value / 100;
  return length?.unit === '' ? length.value : Number.NaN;
}

/** Only a zero goes without a unit. */
function degreesOf(text: string): number {
  const length = parseLength(text);
  if (!length) return Number.NaN;
  if (length.unit === '') return length.value === 0 ? 0 : Number.NaN;
  return length.value * (ANGLES[length.unit] ?? Number.NaN);
}

const SIDES: Readonly<Record<string, { axis: 'x' | 'y' | null; share: number }>> = {
  left: { axis: 'x', share: 0 },
  right: { axis: 'x', share: 1 },
  top: { axis: 'y', share: 0 },
  bottom: { axis: 'y', share: 1 },
  center: { axis: null, share: 0.5 },
};

/** A `transform-origin` in user units (CSS Transforms 1 §4); null when malformed. A third value, for depth, is dropped. */
export function parseOrigin(text: string, box: ReferenceBox, context: LengthContext): { x: number; y: number } | null {
  const words = text.trim().toLowerCase().split(/\s+/).slice(0, 3);
  if (words.length === 3) words.pop();
  const sides = words.map((word) => SIDES[word]);
  // A lone `top`, or `top left`, names the axes in the other order.
  if (sides[0]?.axis === 'y' || sides[1]?.axis === 'x') words.reverse();
  if (words.length === 1) {
    if (sides[0]?.axis === 'y') words.unshift('center');
    else words.push('center');
  }
  const along = (word: string, axis: 'x' | 'y'): number => {
    const start = axis === 'x' ? box.x : box.y;
    const size = axis === 'x' ? box.width : box.height;
    const side = SIDES[word];
    if (side) return side.axis === null || side.axis === axis ? start + side.share * size : Number.NaN;
    const length = parseLength(word);
    if (!length) return Number.NaN;
    const px = toPx(length, axis, { ...context, width: box.width, height: box.height });
    return px === null ? Number.NaN : start + px;
  };
  const x = along(words[0]!, 'x');
  const y = along(words[1]!, 'y');
  return Number.isFinite(x) && Number.isFinite(y) ? { x, y } : null;
}
