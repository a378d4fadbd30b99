import type { Box, Polyline } from '../geometry/outlines/outline.ts';
import type { Place, Problem } from '../source/place.ts';

/** One drawn contour (a subpath) in mm on the page: origin top left, Y down. */
export interface Outline extends Polyline {
  /** Number of the drawn element in document order (expanded): contours of one element share it. */
  element: number;
  /** Exact length in mm, from the curves. */
  lengthMm: number;
  box: Box;
}

/** What a sidecar's `strokes` selects something drawn by, with copies, inheritance and style worked out. */
export interface Handles {
  /** What the format calls it, such as rect. */
  tag: string;
  id: string | null;
  /** Classes of the element itself. */
  classes: string[];
  /** Names of the enclosing groups that serve as layers, innermost first. */
  layers: string[];
  /** Resolved stroke as lower-case `#rrggbb`; null when there is none; `paint-server` for what is no one colour. */
  stroke: string | null;
  fill: string | null;
}

/** One drawn element. */
export interface DrawnElement extends Handles {
  /** Stroke width in mm. */
  strokeWidthMm: number;
  place: Place;
  /** Exact box in mm of the geometry (no stroke). */
  box: Box | null;
  /** Closed contours only; signed area is not kept. */
  contours: number;
}

/**
 * What a reader can leave out of the outlines. `drawing`: a drawing that is embedded or linked as an image; `image`: one of pixels;
 * `document`: one of another format inside the drawing; `reference`: what lies outside the file; `animation`: what an element does
 * beside the state in which its outlines were taken; `hidden`: what cannot be seen and other programs may cut all the same.
 */
export const LEFT_OUT_KINDS = [
  'text',
  'marker',
  'pattern',
  'document',
  'drawing',
  'image',
  'reference',
  'animation',
  'hidden',
] as const;
export type LeftOutKind = (typeof LEFT_OUT_KINDS)[number];

/** Something in the drawing without outlines, or with fewer than another program may find, and what would select it. */
export interface LeftOut extends Handles {
  kind: LeftOutKind;
  place: Place;
}

/** The understood drawing: partial when there are problems. */
export interface Artwork {
  /** Id of the reader that made it: problems in codes of its own are worded by what that reader states of them. */
  reader: string;
  /** Page, mm; 0 when the file gives no usable size. */
  widthMm: number;
  heightMm: number;
  /** How the size came about: `physical` from units in the file, `assumed` from px per inch. */
  size: 'physical' | 'assumed';
  elements: DrawnElement[];
  outlines: Outline[];
  /** In document order. Each is told by a problem, too. */
  leftOut: LeftOut[];
  /** Without outlines: what the file holds, in the format's own names, the most frequent first. Empty where there are outlines. */
  contents: { name: string; count: number }[];
  lengthMm: number;
  boundsMm: Box | null;
  /** In codes that every reader of artwork may use (`ARTWORK_PROBLEMS`), and in the reader's own. */
  problems: Problem[];
  /** False when the file could not be read far enough to trust the outlines. */
  analysed: boolean;
  /** Why style sheets or clip paths may not hold for all elements, though the file was read; null when they do. */
  endedEarly: string | null;
}
