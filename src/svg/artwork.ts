import type { Box, Polyline } from '../geometry/outlines/outline.ts';
import type { Place, Problem } from '../source/place.ts';

/** What the reader of artwork needs to know. Plain data: `src/facts` maps the machine's profile onto it. */
export interface ArtworkOptions {
  /** For artwork without a physical size. */
  pxPerInch: number;
  /** Greatest distance between a curve and its flattened form, mm (default 0.01). */
  toleranceMm?: number;
  /** Most outline points kept before the reader stops with a problem. */
  maxPoints?: number;
}

/** Affine matrix a b c d e f as in SVG: x' = a x + c y + e, y' = b x + d y + f. */
export type Matrix = readonly [number, number, number, number, number, number];

/** One drawn contour (a subpath) in mm on the page: origin top left, Y down, as SVG has it. */
export interface Outline extends Polyline {
  /** Number of the drawn element in document order (expanded): contours of one element share it. */
  element: number;
  /** Exact length in mm, from the curves. */
  lengthMm: number;
  box: Box;
}

/** One drawn element after `use`, `symbol`, `switch` and the cascade have been worked out. */
export interface DrawnElement {
  /** Tag name as written. */
  tag: string;
  id: string | null;
  /** Classes on the element itself. */
  classes: string[];
  /** Ids/labels of the enclosing groups that serve as layers, innermost first: id, and any `label` attribute in any namespace on a g. */
  layers: string[];
  /** Resolved stroke as lower-case `#rrggbb`; null when there is none; `paint-server` for gradients and patterns. */
  stroke: string | null;
  fill: string | null;
  /** Stroke width in mm. */
  strokeWidthMm: number;
  place: Place;
  /** User space to mm. */
  matrix: Matrix;
  /** Exact box in mm of the geometry (no stroke). */
  box: Box | null;
  /** Box and length in the element's own user space, as getBBox and getTotalLength have them; null where it has none. */
  userBox: Box | null;
  userLength: number | null;
  /** Closed contours only; signed area is not kept. */
  contours: number;
}

export type ArtworkProblemCode =
  | 'not-xml' // {reason}
  | 'not-svg' // {root}
  | 'empty'
  | 'compressed' // svgz: refused
  | 'entity' // {name}: document type declarations and entities are not followed
  | 'too-deep' // {limit}
  | 'too-many-elements' // {limit}: use expansions
  | 'too-many-points' // {limit}
  | 'circular-use' // {href}
  | 'missing-reference' // {href}
  | 'external-reference' // {href, tag}
  | 'bad-path' // {text, at}: drawn up to the error
  | 'bad-value' // {attribute, text}
  | 'bad-transform' // {text}
  | 'number-out-of-range' // {attribute, text}
  | 'no-physical-size' // {pxPerInch, widthMm, heightMm}
  | 'zero-size'
  | 'live-text' // {text}
  | 'image-linked' // {href}
  | 'image-embedded' // {type, widthPx, heightPx, widthMm, heightMm, ppi}
  | 'active-content' // {what}
  | 'foreign-object'
  | 'paint-server-stroke' // {paint}
  | 'hidden' // {why: 'display' | 'visibility' | 'opacity' | 'clip' | 'mask' | 'no-paint', tag}
  | 'not-drawable' // {tag}
  | 'dashed-stroke' // {tag}: kept as one solid line
  | 'bad-style'; // {text}: CSS that cannot be taken

export interface Artwork {
  /** Page in mm; null when the file gives no usable size. */
  widthMm: number;
  heightMm: number;
  /** How the size came about: `physical` from units in the file, `assumed` from px per inch. */
  size: 'physical' | 'assumed';
  elements: DrawnElement[];
  outlines: Outline[];
  lengthMm: number;
  boundsMm: Box | null;
  problems: Problem<ArtworkProblemCode>[];
  /** False when the file could not be read far enough to trust the outlines. */
  analysed: boolean;
  /** Why style sheets or clip paths may not hold for all elements, though the file was read; null when they do. */
  endedEarly: string | null;
}
