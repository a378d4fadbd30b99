import { colord, extend } from 'colord';
import hwb from 'colord/plugins/hwb';
import lab from 'colord/plugins/lab';
import lch from 'colord/plugins/lch';
import names from 'colord/plugins/names';
import oklab from 'colord/plugins/oklab';

extend([names, hwb, lab, lch, oklab]);

export interface Colour {
  /** Lower-case `#rrggbb`. */
  hex: string;
  alpha: number;
}

/**
 * System colours as a light scheme shows them (CSS Color 4 §6.2 names them; it leaves the values to the system, these are
 * common practice).
 */
const SYSTEM: Readonly<Record<string, string>> = {
  canvastext: '#000000',
  buttontext: '#000000',
  fieldtext: '#000000',
  marktext: '#000000',
  windowtext: '#000000',
  canvas: '#ffffff',
  field: '#ffffff',
  window: '#ffffff',
  buttonface: '#efefef',
  linktext: '#0000ee',
  visitedtext: '#551a8b',
  activetext: '#ff0000',
  graytext: '#808080',
  highlighttext: '#000000',
  mark: '#ffff00',
};

const known = new Map<string, Colour | null>();
const MOST_KNOWN = 10_000;

/** A CSS colour; null when it is none that can be read. `currentcolor` is the caller's. */
export function parseColour(text: string): Colour | null {
  const key = text.length > 200 ? '' : text.trim().toLowerCase();
  let colour = known.get(key);
  if (colour === undefined) {
    colour = compute(key);
    if (known.size < MOST_KNOWN) known.set(key, colour);
  }
  return colour;
}

function compute(text: string): Colour | null {
  const system = SYSTEM[text];
  if (system) return { hex: system, alpha: 1 };
  if (text.startsWith('color(')) return predefined(text);
  if (text.startsWith('oklch(')) return polar(text);
  // `none` is a zero in a colour that is not mixed (CSS Color 4 §4.4).
  const plain = text.includes('(') ? text.replace(/\bnone\b/g, '0') : text;
  const parsed = colord(plain);
  if (!parsed.isValid()) return null;
  const { r, g, b, a } = parsed.toRgb();
  return { hex: toHex([r / 255, g / 255, b / 255]), alpha: a };
}

function toHex(rgb: number[]): string {
  return (
    '#' +
    rgb
      .map((v) =>
        Math.round(Math.min(1, Math.max(0, v)) * 255)
          .toString(16)
          .padStart(2, '0'),
      )
      .join('')
  );
}

/** The numbers inside a colour function: percentages as shares, `none` as 0; null when one is no number. */
function components(inside: string): { values: number[]; alpha: number } | null {
  const [main = '', opacity] = inside.split('/');
  const read = (word: string): number =>
    word === 'none' ? 0 : word.endsWith('%') ? Number(word.slice(0, -1)) / 100 : Number(word);
  const values = main.trim().split(/\s+/).map(read);
  const alpha = opacity === undefined ? 1 : read(opacity.trim());
  return [...values, alpha].every(Number.isFinite) ? { values, alpha: Math.min(1, Math.max(0, alpha)) } : null;
}

/** `color(srgb …)` and `color(srgb-linear …)`; wider spaces would need a map into sRGB and are not read. */
function predefined(text: string): Colour | null {
  const found = /^color\(\s*(srgb|srgb-linear)\s([^)]*)\)$/.exec(text);
  const read = found ? components(found[2]!) : null;
  if (!found || read?.values.length !== 3) return null;
  // Transfer function of IEC 61966-2-1 (sRGB).
  const encode = (v: number): number => (v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1 / 2.4) - 0.055);
  return { hex: toHex(found[1] === 'srgb' ? read.values : read.values.map(encode)), alpha: read.alpha };
}

/** `oklch()` by way of `oklab()`: lightness, chroma (100 % is 0.4), hue in degrees. */
function polar(text: string): Colour | null {
  const found = /^oklch\(\s*([^\s/]+)\s+([^\s/]+)\s+([^\s/)]+?)(?:deg)?\s*(?:\/([^)]+))?\)$/.exec(text);
  if (!found) return null;
  const read = components(`${found[1]} ${found[2]} ${found[3]} / ${found[4] ?? '1'}`);
  if (!read) return null;
  const [lightness, chroma, hue] = read.values;
  const c = found[2]!.endsWith('%') ? chroma! * 0.4 : chroma!;
  const radians = (hue! * Math.PI) / 180;
  const parsed = colord(`oklab(${lightness} ${c * Math.cos(radians)} ${c * Math.sin(radians)})`);
  if (!parsed.isValid()) return null;
  const { r, g, b } = parsed.toRgb();
  return { hex: toHex([r / 255, g / 255, b / 255]), alpha: read.alpha };
}
