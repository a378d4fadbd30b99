import { parseLength, toPx } from '../frames/length.ts';
import { parseColour } from './colour.ts';

/**
 * The properties that decide where and whether something is drawn. Nearly all of them are presentation attributes
 * too (SVG 2 §6.6), so one table serves the attributes and the style sheets.
 */
const LENGTHS = ['x', 'y', 'width', 'height', 'cx', 'cy', 'r', 'rx', 'ry', 'stroke-width'];
const PAINTS = ['fill', 'stroke'];
const OPACITIES = ['opacity', 'fill-opacity', 'stroke-opacity'];
const WORDS = ['display', 'visibility', 'overflow', 'fill-rule', 'clip-rule', 'font-size', 'stroke-dasharray'];
const REFERENCES = ['clip-path', 'mask', 'marker-start', 'marker-mid', 'marker-end'];
const TRANSFORMS = ['transform', 'transform-origin', 'transform-box'];

export const PROPERTIES: ReadonlySet<string> = new Set([
  ...LENGTHS,
  ...PAINTS,
  ...OPACITIES,
  ...WORDS,
  ...REFERENCES,
  ...TRANSFORMS,
  'color',
  'd',
  'animation-name',
]);

/** Properties that are no presentation attributes. */
const CSS_ONLY: ReadonlySet<string> = new Set(['animation-name']);

/** Whether an attribute stands for a property of the same name. */
export const isPresentationAttribute = (name: string): boolean => PROPERTIES.has(name) && !CSS_ONLY.has(name);

/** Motion of an element that CSS has beside `transform`; said to be unread rather than passed over. */
export const UNREAD_PROPERTIES: ReadonlySet<string> = new Set(['translate', 'rotate', 'scale', 'zoom', 'offset-path']);

/** Keywords that every property takes (CSS Cascade 5 §7.3). */
const WIDE_KEYWORDS: ReadonlySet<string> = new Set(['inherit', 'initial', 'unset', 'revert', 'revert-layer']);

const lengths = new Set(LENGTHS);
const paints = new Set(PAINTS);
const opacities = new Set(OPACITIES);
const anyContext = { width: 1, height: 1, fontSize: 1, rootFontSize: 1, pageWidth: 1, pageHeight: 1 };

/** A paint: `none`, a colour, or a reference with an optional fallback. */
export type Paint =
  | { kind: 'none' }
  | { kind: 'colour'; hex: string; alpha: number }
  | { kind: 'current' }
  | { kind: 'context' }
  | { kind: 'server'; href: string; fallback: Paint | null };

/** A `fill` or `stroke` value; null when it is none. */
export function parsePaint(text: string): Paint | null {
  const word = text.trim();
  const lower = word.toLowerCase();
  if (lower === 'none') return { kind: 'none' };
  if (lower === 'currentcolor') return { kind: 'current' };
  if (lower === 'context-fill' || lower === 'context-stroke') return { kind: 'context' };
  if (lower.startsWith('url(')) {
    const url = parseUrl(word);
    if (!url) return null;
    const rest = word.slice(url.end).trim();
    const fallback = rest === '' ? null : parsePaint(rest);
    return rest !== '' && !fallback ? null : { kind: 'server', href: url.href, fallback };
  }
  const colour = parseColour(word);
  return colour ? { kind: 'colour', ...colour } : null;
}

/** The reference at the start of a text such as `url("#a") red`, and where it ends. */
export function parseUrl(text: string): { href: string; end: number } | null {
  const found = /^url\(\s*(?:(?:"([^"]*)"|'([^']*)'|([^"'()\s]+))\s*)?\)/i.exec(text);
  return found ? { href: (found[1] ?? found[2] ?? found[3] ?? '').trim(), end: found[0].length } : null;
}

/** A number or percentage between 0 and 1; null when it is neither. */
export function parseOpacity(text: string): number | null {
  const length = parseLength(text);
  if (!length || (length.unit !== '' && length.unit !== '%')) return null;
  return Math.min(1, Math.max(0, length.unit === '%' ? length.value / 100 : length.value));
}

/** Longest value that is looked at, as inherited values are read again on every element below. */
const LONGEST_VALUE = 10_000;

const accepted = new Map<string, boolean>();
const MOST_REMEMBERED = 20_000;

/** Whether a property takes a value; one that it does not take leaves the cascade as if it were not written. */
export function accepts(property: string, value: string, css: boolean): boolean {
  if (value.length > 200) return check(property, value, css);
  const key = `${property}${css ? '=' : ':'}${value}`;
  let answer = accepted.get(key);
  if (answer === undefined) {
    answer = check(property, value, css);
    if (accepted.size < MOST_REMEMBERED) accepted.set(key, answer);
  }
  return answer;
}

function check(property: string, value: string, css: boolean): boolean {
  if (value.length > LONGEST_VALUE && property !== 'transform' && property !== 'd') return false;
  const word = value.trim().toLowerCase();
  if (WIDE_KEYWORDS.has(word)) return true;
  if (lengths.has(property)) {
    if (word === 'auto') return property !== 'stroke-width' && property !== 'r';
    const length = parseLength(word);
    if (!length || toPx(length, 'x', anyContext) === null) return false;
    // In a style sheet only a zero goes without a unit, but browsers let stroke-width go without, as SVG 1.1 did.
    if (css && length.unit === '' && length.value !== 0 && property !== 'stroke-width') return false;
    return property !== 'stroke-width' || length.value >= 0;
  }
  if (paints.has(property)) return parsePaint(value) !== null;
  if (opacities.has(property)) return parseOpacity(word) !== null;
  if (property === 'color') return word === 'currentcolor' || parseColour(word) !== null;
  return word !== '';
}
