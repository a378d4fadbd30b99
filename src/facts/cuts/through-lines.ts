import type { Location } from '../../source/place.ts';
import type { Artwork, Outline } from '../../svg/artwork.ts';

/** The lines that part the sheet, with their numbers among the artwork's outlines. */
export interface View {
  artwork: Artwork;
  numbers: number[];
  lines: Outline[];
  locationOf: (outline: number) => Location;
}
