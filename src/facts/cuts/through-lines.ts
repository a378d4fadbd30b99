import type { Artwork, Outline } from '../../model/artwork.ts';
import type { Location } from '../../source/place.ts';

/** The lines that part the sheet, with their numbers among the artwork's outlines. */
export interface View {
  artwork: Artwork;
  numbers: number[];
  lines: Outline[];
  locationOf: (outline: number) => Location;
}
