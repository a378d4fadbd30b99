import type { Box } from '../geometry/outlines/outline.ts';
import type { Artwork, DrawnElement, LeftOut, Outline } from '../model/artwork.ts';
import type { ClipWork } from './clipping/clip.ts';
import type { Region } from './clipping/clip-region.ts';
import { type Axis, type LengthContext, parseLength, toPx } from './frames/length.ts';
import { IDENTITY, isFiniteMatrix, type Matrix, multiply, translation } from './frames/matrix.ts';
import type { Page } from './frames/page.ts';
import { parseOrigin, parseTransformAttribute, parseTransformProperty, type ReferenceBox } from './frames/transform.ts';
import type { PixelSize } from './image-size.ts';
import { type ProblemLog, quote } from './problem-log.ts';
import type { RepeatedElements } from './repeated.ts';
import type { Shape } from './shapes/shapes.ts';
import type { Cascade, DeclaredStyle } from './style/cascade.ts';
import { PROPERTIES } from './style/properties.ts';
import type { SvgDocument } from './xml/document.ts';
import type { SvgNode } from './xml/svg-node.ts';

/** A drawn element, and what of it checks from outside compare: its own user space. */
export interface SvgElement extends DrawnElement {
  /** User space to mm. */
  matrix: Matrix;
  /** Box and length in user space, as getBBox and getTotalLength have them; the box is null where it has none. */
  userBox: Box | null;
  userLength: number;
}

/** What the reader makes of an SVG file. */
export interface SvgArtwork extends Artwork {
  elements: SvgElement[];
}

/** Everything that one reading of one file shares. */
export interface SvgReading {
  document: SvgDocument;
  cascade: Cascade;
  log: ProblemLog;
  page: Page;
  toleranceMm: number;
  /** Outline points that may still be made. */
  pointsLeft: number;
  pointsLimit: number;
  rootFontSize: number;
  /** Regions of clipPaths and masks by what they came from; null where they are not known. */
  regions: Map<string, Region | null>;
  /** Read once for elements that `use` repeats. */
  shapes: Map<SvgNode, Shape>;
  pixels: Map<SvgNode, PixelSize | null>;
  transforms: Map<string, Matrix | null>;
  repeated: RepeatedElements;
  /** What clipping may still cost; `gaveUp` once something was not clipped for its cost. */
  clipWork: ClipWork;
  elements: SvgElement[];
  outlines: Outline[];
  leftOut: LeftOut[];
  /** Elements that `use` elements brought in. */
  used: number;
  /** Most of them. */
  usedLimit: number;
  /** Elements of which an animation changes something. */
  animated: ReadonlySet<SvgNode>;
  /** False once something was left out that could have been outlines. */
  whole: boolean;
}

/** Counts an element that a `use` brings in; false, and said, when there are too many. */
export function countUsed(reading: SvgReading, node: SvgNode): boolean {
  if (++reading.used <= reading.usedLimit) return true;
  reading.log.add('too-many-elements', () => reading.document.placeOf(node), { limit: reading.usedLimit });
  reading.whole = false;
  return false;
}

/** What lengths of an element refer to. */
export function lengthContext(
  reading: SvgReading,
  viewport: { width: number; height: number },
  fontSize: number,
): LengthContext {
  const { page, rootFontSize } = reading;
  const { width, height } = viewport;
  return { width, height, fontSize, rootFontSize, pageWidth: page.widthPx, pageHeight: page.heightPx };
}

/** A geometry property (from the cascade) or a plain attribute in px; null when absent, `auto` or unreadable. */
export function readLength(
  reading: SvgReading,
  node: SvgNode,
  declared: DeclaredStyle,
  name: string,
  axis: Axis,
  context: LengthContext,
): number | null {
  if (PROPERTIES.has(name)) {
    const length = parseLength(declared.get(name)?.value ?? '');
    return length ? toPx(length, axis, context) : null;
  }
  const text = node.attributes[name];
  if (text === undefined) return null;
  const length = parseLength(text);
  const px = length ? toPx(length, axis, context) : null;
  if (px === null) {
    const place = () => reading.document.placeOfAttribute(node, name);
    reading.log.add('bad-value', place, { attribute: name, text: quote(text) });
  }
  return px;
}

const MOST_TRANSFORMS = 10_000;

function attributeTransform(reading: SvgReading, text: string): Matrix | null {
  let matrix = reading.transforms.get(text);
  if (matrix === undefined) {
    matrix = parseTransformAttribute(text);
    if (reading.transforms.size < MOST_TRANSFORMS) reading.transforms.set(text, matrix);
  }
  return matrix;
}

/**
 * An element's own transform: the CSS property where one is declared, else the attribute, about `transform-origin`.
 * `boundingBox` is asked for only where `transform-box` wants it.
 */
export function ownTransform(
  reading: SvgReading,
  node: SvgNode,
  declared: DeclaredStyle,
  context: LengthContext,
  boundingBox: () => ReferenceBox | null,
): Matrix {
  const transform = declared.get('transform');
  if (!transform) return IDENTITY;
  const wanted = declared.get('transform-box')?.value.toLowerCase();
  const ofShape =
    wanted === 'fill-box' || wanted === 'content-box' || wanted === 'stroke-box' || wanted === 'border-box';
  const viewBox = { x: 0, y: 0, width: context.width, height: context.height };
  const box = (ofShape ? boundingBox() : null) ?? viewBox;
  const parsed = transform.css
    ? parseTransformProperty(transform.value, box, context)
    : attributeTransform(reading, transform.value);
  const place = () => reading.document.placeOfAttribute(node, transform.css ? 'style' : 'transform');
  if (!parsed) {
    reading.log.add('bad-transform', place, { text: quote(transform.value) });
    return IDENTITY;
  }
  const originText = declared.get('transform-origin');
  if (!originText) return parsed;
  const origin = parseOrigin(originText.value, box, context);
  if (!origin) {
    reading.log.add('bad-value', place, { attribute: 'transform-origin', text: quote(originText.value) });
    return parsed;
  }
  const moved = multiply(multiply(translation(origin.x, origin.y), parsed), translation(-origin.x, -origin.y));
  return isFiniteMatrix(moved) ? moved : IDENTITY;
}
