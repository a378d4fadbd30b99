import { appendArc, Curves } from './curves.ts';

/** Numbers beyond this are no drawing: 10^9 units are some hundred kilometres. */
export const GREATEST_NUMBER = 1e9;

export interface PathData {
  curves: Curves;
  /** Offset in the text of what could not be read; the path is drawn up to there (SVG 2 §9.5.4). Null when all was read. */
  errorAt: number | null;
  /** True when the error is a number of impossible size. */
  outOfRange: boolean;
}

/** Reads the numbers, flags and commands of path data and of `points`. */
export class NumberScanner {
  readonly text: string;
  at = 0;
  outOfRange = false;

  constructor(text: string) {
    this.text = text;
  }

  skipSpace(): void {
    for (;;) {
      const c = this.text.charCodeAt(this.at);
      if (c !== 32 && c !== 10 && c !== 9 && c !== 13 && c !== 12) return;
      this.at++;
    }
  }

  /** Space with at most one comma in it; true when there was a comma. */
  skipComma(): boolean {
    this.skipSpace();
    if (this.text.charCodeAt(this.at) !== 44) return false;
    this.at++;
    this.skipSpace();
    return true;
  }

  get atEnd(): boolean {
    return this.at >= this.text.length;
  }

  startsNumber(): boolean {
    const c = this.text.charCodeAt(this.at);
    return (c >= 48 && c <= 57) || c === 46 || c === 43 || c === 45;
  }

  /** NaN when there is no number here; the position is then unchanged. */
  number(): number {
    const { text } = this;
    const start = this.at;
    let i = start;
    let c = text.charCodeAt(i);
    if (c === 43 || c === 45) c = text.charCodeAt(++i);
    let digits = 0;
    let mantissa = 0;
    let decimals = 0;
    while (c >= 48 && c <= 57) {
      mantissa = mantissa * 10 + (c - 48);
      digits++;
      c = text.charCodeAt(++i);
    }
    // A point belongs to the number only with a digit behind it (SVG 2 §9.3.9).
    if (c === 46 && isDigit(text.charCodeAt(i + 1))) {
      c = text.charCodeAt(++i);
      while (c >= 48 && c <= 57) {
        mantissa = mantissa * 10 + (c - 48);
        digits++;
        decimals++;
        c = text.charCodeAt(++i);
      }
    }
    if (digits === 0) return Number.NaN;
    const mantissaEnd = i;
    if (c === 101 || c === 69) i = exponentEnd(text, i);
    // With up to 15 digits the quotient of two exact doubles is the nearest double; otherwise the engine's own parser.
    const exact = i === mantissaEnd && digits <= 15;
    const size = exact ? mantissa / 10 ** decimals : Math.abs(Number(text.slice(start, i)));
    if (!(size <= GREATEST_NUMBER)) {
      this.outOfRange = true;
      return Number.NaN;
    }
    this.at = i;
    return text.charCodeAt(start) === 45 ? -size : size;
  }

  /** An arc's flag: one character, so that flags may run together. NaN when there is none. */
  flag(): number {
    const c = this.text.charCodeAt(this.at);
    if (c !== 48 && c !== 49) return Number.NaN;
    this.at++;
    return c - 48;
  }
}

/** Where the exponent ends whose E stands at `e`; `e` itself when no digit follows, so that the letter is no part of the number. */
function exponentEnd(text: string, e: number): number {
  const sign = text.charCodeAt(e + 1);
  let i = sign === 43 || sign === 45 ? e + 2 : e + 1;
  if (!isDigit(text.charCodeAt(i))) return e;
  while (isDigit(text.charCodeAt(i))) i++;
  return i;
}

function isDigit(c: number): boolean {
  return c >= 48 && c <= 57;
}

const PARAMETERS: Record<string, number> = { M: 2, L: 2, H: 1, V: 1, C: 6, S: 4, Q: 4, T: 2, A: 7, Z: 0 };

/** Path data as curves, by SVG 2 §9.3. Time and memory grow with the text's length only. */
export function parsePathData(text: string): PathData {
  const scanner = new NumberScanner(text);
  const drawing = new Drawing();
  scanner.skipSpace();
  if (text.startsWith('none', scanner.at) && text.trim() === 'none') scanner.at = text.length;
  const p: number[] = [0, 0, 0, 0, 0, 0, 0];
  let first = true;
  while (!scanner.atEnd) {
    const letter = text[scanner.at]!;
    const command = letter.toUpperCase();
    const count = PARAMETERS[command];
    if (count === undefined || (first && command !== 'M')) return stopped(scanner, drawing);
    scanner.at++;
    scanner.skipSpace();
    const relative = letter !== command;
    let kind = command;
    let comma = false;
    do {
      if (!readParameters(scanner, kind, count, p)) return stopped(scanner, drawing);
      drawing.add(kind, relative, p);
      first = false;
      if (kind === 'M') kind = 'L';
      comma = count > 0 && scanner.skipComma();
    } while (count > 0 && (comma || scanner.startsNumber()));
    scanner.skipSpace();
  }
  return { curves: drawing.curves, errorAt: null, outOfRange: false };
}

/** Reads the parameters of one segment into `p`; false when one is missing. */
function readParameters(scanner: NumberScanner, kind: string, count: number, p: number[]): boolean {
  for (let i = 0; i < count; i++) {
    if (i > 0) scanner.skipComma();
    const value = kind === 'A' && (i === 3 || i === 4) ? scanner.flag() : scanner.number();
    if (Number.isNaN(value)) return false;
    p[i] = value;
  }
  return true;
}

function stopped(scanner: NumberScanner, drawing: Drawing): PathData {
  return { curves: drawing.curves, errorAt: scanner.at, outOfRange: scanner.outOfRange };
}

/** Keeps what the relative and the smooth commands refer to. */
class Drawing {
  readonly curves = new Curves();
  /** Last control point of a cubic or quadratic, for S and T. */
  #cubicX = 0;
  #cubicY = 0;
  #quadX = 0;
  #quadY = 0;
  #last = '';

  add(kind: string, relative: boolean, p: number[]): void {
    const { curves } = this;
    const x0 = curves.x;
    const y0 = curves.y;
    const dx = relative ? x0 : 0;
    const dy = relative ? y0 : 0;
    switch (kind) {
      case 'M':
        curves.move(p[0]! + dx, p[1]! + dy);
        break;
      case 'L':
        curves.line(p[0]! + dx, p[1]! + dy);
        break;
      case 'H':
        curves.line(p[0]! + dx, y0);
        break;
      case 'V':
        curves.line(x0, p[0]! + dy);
        break;
      case 'C':
        this.#cubic(p[0]! + dx, p[1]! + dy, p[2]! + dx, p[3]! + dy, p[4]! + dx, p[5]! + dy);
        break;
      case 'S': {
        const smooth = this.#last === 'C' || this.#last === 'S';
        const cx = smooth ? 2 * x0 - this.#cubicX : x0;
        const cy = smooth ? 2 * y0 - this.#cubicY : y0;
        this.#cubic(cx, cy, p[0]! + dx, p[1]! + dy, p[2]! + dx, p[3]! + dy);
        break;
      }
      case 'Q':
        this.#quadratic(p[0]! + dx, p[1]! + dy, p[2]! + dx, p[3]! + dy);
        break;
      case 'T': {
        const smooth = this.#last === 'Q' || this.#last === 'T';
        this.#quadratic(smooth ? 2 * x0 - this.#quadX : x0, smooth ? 2 * y0 - this.#quadY : y0, p[0]! + dx, p[1]! + dy);
        break;
      }
      case 'A':
        appendArc(curves, p[0]!, p[1]!, p[2]!, p[3] === 1, p[4] === 1, p[5]! + dx, p[6]! + dy);
        break;
      default:
        curves.close();
    }
    this.#last = kind;
  }

  #cubic(c1x: number, c1y: number, c2x: number, c2y: number, x: number, y: number): void {
    this.#cubicX = c2x;
    this.#cubicY = c2y;
    this.curves.cubic(c1x, c1y, c2x, c2y, x, y);
  }

  #quadratic(cx: number, cy: number, x: number, y: number): void {
    this.#quadX = cx;
    this.#quadY = cy;
    this.curves.quadratic(cx, cy, x, y);
  }
}
