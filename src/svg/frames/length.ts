/** What relative lengths refer to. All in px (user units) of the element's own coordinate system. */
export interface LengthContext {
  /** The nearest viewport. */
  width: number;
  height: number;
  fontSize: number;
  rootFontSize: number;
  /** The page, for vw and vh. */
  pageWidth: number;
  pageHeight: number;
}

export type Axis = 'x' | 'y' | 'both';

export interface Length {
  value: number;
  /** Lower case; empty for a plain number. */
  unit: string;
}

const PATTERN = /^([+-]?(?:\d+(?:\.\d+)?|\.\d+)(?:e[+-]?\d+)?)(%|[a-z]*)$/i;

/** CSS px in one absolute unit. Source: CSS Values and Units 4 §6.2. */
const PX_PER_UNIT: Readonly<Record<string, number>> = {
  '': 1,
  px: 1,
  in: 96,
  cm: 96 / 2.54,
  mm: 96 / 25.4,
  q: 96 / 101.6,
  pt: 96 / 72,
  pc: 16,
};

/** Whether a length's unit ties it to the physical world (px does so in CSS, but not in what drawing programs write). */
export function isPhysical(unit: string): boolean {
  return unit !== '' && unit !== 'px' && unit in PX_PER_UNIT;
}

/** A number with its unit, or null. Units are not checked here. */
export function parseLength(text: string): Length | null {
  const found = PATTERN.exec(text.trim());
  if (!found) return null;
  const value = Number(found[1]);
  return Number.isFinite(value) ? { value, unit: found[2]!.toLowerCase() } : null;
}

/** The basis of a percentage along an axis; for both, SVG's √((w² + h²)/2). */
export function percentBasis(axis: Axis, context: { width: number; height: number }): number {
  if (axis === 'x') return context.width;
  if (axis === 'y') return context.height;
  return Math.hypot(context.width, context.height) / Math.SQRT2;
}

/**
 * A length in px, or null for a unit that CSS does not have. x-heights, widths, capitals and line heights are
 * those of a typical font (0.5, 0.5, 0.7 and 1.2 em; common practice, no source): no font is looked up.
 */
export function toPx(length: Length, axis: Axis, context: LengthContext): number | null {
  const { value, unit } = length;
  const absolute = PX_PER_UNIT[unit];
  if (absolute !== undefined) return value * absolute;
  switch (unit) {
    case '%':
      return (value / 100) * percentBasis(axis, context);
    case 'em':
    case 'ic':
      return value * context.fontSize;
    case 'ex':
    case 'ch':
      return value * context.fontSize * 0.5;
    case 'cap':
      return value * context.fontSize * 0.7;
    case 'lh':
      return value * context.fontSize * 1.2;
    case 'rem':
      return value * context.rootFontSize;
    case 'rlh':
      return value * context.rootFontSize * 1.2;
    case 'vw':
    case 'vi':
      return (value / 100) * context.pageWidth;
    case 'vh':
    case 'vb':
      return (value / 100) * context.pageHeight;
    case 'vmin':
      return (value / 100) * Math.min(context.pageWidth, context.pageHeight);
    case 'vmax':
      return (value / 100) * Math.max(context.pageWidth, context.pageHeight);
    default:
      return null;
  }
}

const ABSOLUTE_SIZES: Readonly<Record<string, number>> = {
  'xx-small': 9 / 16,
  'x-small': 10 / 16,
  small: 13 / 16,
  medium: 1,
  large: 18 / 16,
  'x-large': 24 / 16,
  'xx-large': 2,
};

/** A `font-size` in px; null when it cannot be read. */
export function fontSizePx(text: string, parent: number, context: LengthContext): number | null {
  const word = text.trim().toLowerCase();
  const named = ABSOLUTE_SIZES[word];
  if (named !== undefined) return named * 16;
  if (word === 'smaller') return parent / 1.2;
  if (word === 'larger') return parent * 1.2;
  const length = parseLength(word);
  if (!length || length.value < 0) return null;
  if (length.unit === '%') return (length.value / 100) * parent;
  return toPx(length, 'x', { ...context, fontSize: parent });
}
