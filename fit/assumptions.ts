/**
 * What the fit takes as given. Levels, offsets and margins cannot all be told from so few rows, so these are fixed beforehand; what
 * other values would change stands in docs/evidence.md. Spreads are 1σ of natural logarithms. Common practice, no source, unless a
 * source is named.
 */

import { RATED_SPREAD } from '../src/physics/beam/power-at-work.ts';

/** Level of all that chars: taken from pine's, whose spot nobody stated (0.1 to 0.45 mm), so a factor of two either way. */
export const CHAR_LEVEL_SD = 0.7;
/** Level of one class beside it, or beside the published range of plastics that do not char. */
export const CLASS_SD = 0.2;
/** Level of acrylic: PMMA's energy per gram was measured, and holds from 20 to 2600 W/cm² ([COZZENS-1978]). */
export const ACRYLIC_SD = 0.08;
/** Exponent of the density beyond 1 of what chars, about a density in g/cm³. */
export const DENSITY_SD = 0.3;
export const REFERENCE_DENSITY = 0.5;
/** One source against another: its true power, and its spot, focus, air and optics. */
export const SHOP_SD = 0.25;
/** Twice that where the source's rating itself is inferred. */
export const GUESSED_RATING_SD = 0.5;
/** The part of it that is not a power known by rating only: that part is in the doubt of the power already. */
export const SHOP_REST_SD = Math.sqrt(SHOP_SD ** 2 - RATED_SPREAD ** 2);
/** One source's sheets of a material against another's, before the rows say more, and how many sheets that counts as. */
export const SHEET_SD = 0.15;
export const SHEET_WEIGHT = 4;
/**
 * One row against the next of the same sheet: settings in round numbers, sheet to sheet, day to day. C has twice what B has, and a
 * worn machine twice its own.
 */
export const ROW_SD = { A: 0.15, B: 0.2, C: 0.4 };
/** A measured boundary. */
export const LIMIT_SD = 0.05;
/** Energy of a daily setting over what would just part the sheet: median, and 1σ (twice as much in rows of quality C). */
export const MARGIN = 1.3;
export const MARGIN_SD = 0.2;
/** A spot that is stated only to lie between two bounds does so in nine of ten cases: the normal score of either bound. */
export const SPOT_SCORE = 1.645;
