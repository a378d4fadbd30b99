import { fontSizePx, type LengthContext, parseLength, percentBasis, toPx } from '../frames/length.ts';
import type { DeclaredStyle } from './cascade.ts';
import { type Colour, parseColour } from './colour.ts';
import { type Paint, parseOpacity, parsePaint } from './properties.ts';

/** Values after inheritance; only what decides where and whether something is drawn. */
export interface ComputedStyle {
  color: Colour;
  fill: Paint;
  stroke: Paint;
  /** px, or a percentage of the viewport's diagonal. */
  strokeWidth: { value: number; percent: boolean };
  fillOpacity: number;
  strokeOpacity: number;
  visible: boolean;
  fontSize: number;
  fillRule: 'nonzero' | 'evenodd';
  clipRule: 'nonzero' | 'evenodd';
  markerStart: string;
  markerMid: string;
  markerEnd: string;
  /** The stroke is broken into dashes. */
  dashed: boolean;
}

/** Initial values by SVG 2 and CSS; 16 px is what browsers take for `medium`. */
export const INITIAL_STYLE: ComputedStyle = {
  color: { hex: '#000000', alpha: 1 },
  fill: { kind: 'colour', hex: '#000000', alpha: 1 },
  stroke: { kind: 'none' },
  strokeWidth: { value: 1, percent: false },
  fillOpacity: 1,
  strokeOpacity: 1,
  visible: true,
  fontSize: 16,
  fillRule: 'nonzero',
  clipRule: 'nonzero',
  markerStart: 'none',
  markerMid: 'none',
  markerEnd: 'none',
  dashed: false,
};

type Reader = (value: string, style: ComputedStyle, parent: ComputedStyle, context: LengthContext) => void;

const READERS: Readonly<Record<string, { key: keyof ComputedStyle; read: Reader }>> = {
  'font-size': {
    key: 'fontSize',
    read: (value, style, parent, context) => {
      style.fontSize = fontSizePx(value, parent.fontSize, context) ?? parent.fontSize;
    },
  },
  color: {
    key: 'color',
    read: (value, style, parent) => {
      style.color = parseColour(value) ?? parent.color;
    },
  },
  fill: {
    key: 'fill',
    read: (value, style, parent) => {
      style.fill = parsePaint(value) ?? parent.fill;
    },
  },
  stroke: {
    key: 'stroke',
    read: (value, style, parent) => {
      style.stroke = parsePaint(value) ?? parent.stroke;
    },
  },
  'stroke-width': {
    key: 'strokeWidth',
    read: (value, style, parent, context) => {
      const length = parseLength(value);
      if (!length) return;
      const percent = length.unit === '%';
      const px = percent ? length.value : toPx(length, 'both', { ...context, fontSize: style.fontSize });
      style.strokeWidth = px === null ? parent.strokeWidth : { value: px, percent };
    },
  },
  'fill-opacity': {
    key: 'fillOpacity',
    read: (value, style, parent) => {
      style.fillOpacity = parseOpacity(value) ?? parent.fillOpacity;
    },
  },
  'stroke-opacity': {
    key: 'strokeOpacity',
    read: (value, style, parent) => {
      style.strokeOpacity = parseOpacity(value) ?? parent.strokeOpacity;
    },
  },
  visibility: {
    key: 'visible',
    read: (value, style) => {
      style.visible = value.toLowerCase() === 'visible';
    },
  },
  'fill-rule': {
    key: 'fillRule',
    read: (value, style) => {
      style.fillRule = value.toLowerCase() === 'evenodd' ? 'evenodd' : 'nonzero';
    },
  },
  'clip-rule': {
    key: 'clipRule',
    read: (value, style) => {
      style.clipRule = value.toLowerCase() === 'evenodd' ? 'evenodd' : 'nonzero';
    },
  },
  'stroke-dasharray': {
    key: 'dashed',
    // A list of lengths; none, or zeros throughout, is a solid line (SVG 2 §13.5.6).
    read: (value, style) => {
      style.dashed = /[1-9]/.test(value);
    },
  },
  'marker-start': {
    key: 'markerStart',
    read: (value, style) => {
      style.markerStart = value;
    },
  },
  'marker-mid': {
    key: 'markerMid',
    read: (value, style) => {
      style.markerMid = value;
    },
  },
  'marker-end': {
    key: 'markerEnd',
    read: (value, style) => {
      style.markerEnd = value;
    },
  },
};

/** The style of an element from what is declared on it and its parent's style. Shares the parent's when nothing changes. */
export function computeStyle(declared: DeclaredStyle, parent: ComputedStyle, context: LengthContext): ComputedStyle {
  let style: ComputedStyle | null = null;
  // The font size comes first: other lengths may be given in it.
  for (const property in READERS) {
    const found = declared.get(property);
    if (!found) continue;
    const { key, read } = READERS[property]!;
    const word = found.value.toLowerCase();
    if (word === 'inherit' || word === 'unset' || word === 'revert' || word === 'revert-layer') continue;
    style ??= { ...parent };
    if (word === 'initial') Object.assign(style, { [key]: INITIAL_STYLE[key] });
    else read(found.value, style, parent, context);
  }
  return style ?? parent;
}

/** Width of the stroke in user units. */
export function strokeWidthPx(style: ComputedStyle, viewport: { width: number; height: number }): number {
  const { value, percent } = style.strokeWidth;
  return percent ? (value / 100) * percentBasis('both', viewport) : value;
}
