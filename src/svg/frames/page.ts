import type { Place } from '../../source/place.ts';
import { type ProblemLog, quote } from '../problem-log.ts';
import type { SvgDocument } from '../xml/document.ts';
import type { SvgNode } from '../xml/svg-node.ts';
import { isPhysical, type Length, type LengthContext, parseLength, toPx } from './length.ts';
import type { Matrix } from './matrix.ts';
import { IDENTITY } from './matrix.ts';
import { MEET_IN_THE_MIDDLE, parseAspectRatio, parseViewBox, type ViewBox, viewBoxTransform } from './viewport.ts';

/** What CSS takes for a replaced element without any size (CSS 2 §10.3.2). */
const DEFAULT_WIDTH_PX = 300;
const DEFAULT_HEIGHT_PX = 150;

/** The page that the outermost `svg` describes. */
export interface Page {
  widthPx: number;
  heightPx: number;
  size: 'physical' | 'assumed';
  /** mm in one px of the page. */
  mmPerPx: number;
}

const NO_CONTEXT: LengthContext = {
  width: 0,
  height: 0,
  fontSize: 16,
  rootFontSize: 16,
  pageWidth: 0,
  pageHeight: 0,
};

function sizeOf(value: string | undefined): Length | null {
  const length = value === undefined ? null : parseLength(value);
  return length && length.value >= 0 ? length : null;
}

/**
 * The page's size. Millimetres are certain only when a width or a height has a physical unit: px and plain numbers are
 * written at 72, 90 or 96 to the inch, so that they count with the given px per inch and are reported.
 */
export function pageOf(document: SvgDocument, root: SvgNode, pxPerInch: number, log: ProblemLog): Page {
  const width = sizeOf(root.attributes['width']);
  const height = sizeOf(root.attributes['height']);
  const box = viewBoxOf(document, root, log);
  const physical = (width && isPhysical(width.unit)) || (height && isPhysical(height.unit));
  const known = (length: Length | null): number | null =>
    length && length.unit !== '%' ? toPx(length, 'x', NO_CONTEXT) : null;
  let widthPx = known(width);
  let heightPx = known(height);
  if (box && box.width > 0 && box.height > 0) {
    if (widthPx === null && heightPx === null) {
      widthPx = box.width;
      heightPx = box.height;
    }
    widthPx ??= (heightPx! * box.width) / box.height;
    heightPx ??= (widthPx * box.height) / box.width;
  }
  widthPx ??= DEFAULT_WIDTH_PX;
  heightPx ??= DEFAULT_HEIGHT_PX;
  const mmPerPx = 25.4 / (physical ? 96 : pxPerInch);
  const place = (): Place => document.placeOf(root);
  if (!physical) {
    const round = (px: number): number => Math.round(px * mmPerPx * 1000) / 1000;
    log.add('no-physical-size', place, { pxPerInch, widthMm: round(widthPx), heightMm: round(heightPx) });
  }
  for (const side of ['width', 'height'] as const) {
    const text = root.attributes[side];
    if (text !== undefined && text.trim() !== 'auto' && !sizeOf(text)) {
      log.add('bad-value', () => document.placeOfAttribute(root, side), { attribute: side, text: quote(text) });
    }
  }
  return { widthPx, heightPx, size: physical ? 'physical' : 'assumed', mmPerPx };
}

/** The `viewBox` of an element, with a problem when it cannot be read. */
function viewBoxOf(document: SvgDocument, node: SvgNode, log: ProblemLog): ViewBox | null {
  const text = node.attributes['viewBox'];
  if (text === undefined || text.trim() === 'none') return null;
  const box = parseViewBox(text);
  if (!box) {
    log.add('bad-value', () => document.placeOfAttribute(node, 'viewBox'), { attribute: 'viewBox', text: quote(text) });
  }
  return box;
}

/** An established viewport: the transform into its coordinates, and the size that percentages inside refer to. */
export interface Viewport {
  matrix: Matrix;
  width: number;
  height: number;
}

/**
 * The coordinates inside an `svg` or `symbol` laid out at x, y with a width and height; null when nothing is drawn in it
 * because a size is zero.
 */
export function viewportOf(
  document: SvgDocument,
  node: SvgNode,
  at: { x: number; y: number; width: number; height: number },
  log: ProblemLog,
): Viewport | null {
  const { x, y, width, height } = at;
  const box = viewBoxOf(document, node, log);
  if (width <= 0 || height <= 0 || (box && (box.width === 0 || box.height === 0))) {
    log.add('zero-size', () => document.placeOf(node));
    return null;
  }
  if (!box) return { matrix: x === 0 && y === 0 ? IDENTITY : [1, 0, 0, 1, x, y], width, height };
  const text = node.attributes['preserveAspectRatio'];
  const ratio = text === undefined ? MEET_IN_THE_MIDDLE : parseAspectRatio(text);
  if (!ratio) {
    const place = (): Place => document.placeOfAttribute(node, 'preserveAspectRatio');
    log.add('bad-value', place, { attribute: 'preserveAspectRatio', text: quote(text ?? '') });
  }
  return {
    matrix: viewBoxTransform(box, ratio ?? MEET_IN_THE_MIDDLE, x, y, width, height),
    width: box.width,
    height: box.height,
  };
}
