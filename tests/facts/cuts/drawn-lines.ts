import type { Artwork } from '../../../src/model/artwork.ts';
import { artwork, at } from '../../rules/build-facts.ts';

type Outline = Artwork['outlines'][number];

/** A straight line, not closed. */
export const line = (x0: number, y0: number, x1: number, y1: number): Outline => ({
  xy: Float64Array.of(x0, y0, x1, y1),
  closed: false,
  element: 0,
  lengthMm: Math.hypot(x1 - x0, y1 - y0),
  box: { minX: Math.min(x0, x1), minY: Math.min(y0, y1), maxX: Math.max(x0, x1), maxY: Math.max(y0, y1) },
});
/** Drawn with one element, or two, in the lines 4 and 8 of the file. */
const elements: Artwork['elements'] = [4, 8].map((line) => {
  const { file: _, ...place } = at('', line, 3);
  return { ...artwork().elements[0]!, place };
});
export const drawn = (...outlines: Outline[]): Artwork => artwork({ elements, outlines });
