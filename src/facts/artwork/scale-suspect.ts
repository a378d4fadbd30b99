import type { Sidecar } from '../../job/model.ts';
import type { Artwork } from '../../model/artwork.ts';
import type { MatchFact } from '../match/match-fact.ts';
import type { ScaleSuspect } from './geometry-fact.ts';

/** Drawing programs have counted 72 and 90 px to the inch; CSS counts 96. The factor puts right what was read at 96. */
const SLIPS: readonly { factor: number; cause: string }[] = [
  { factor: 96 / 72, cause: 'drawn at 72 px per inch and read at 96' },
  { factor: 96 / 90, cause: 'drawn at 90 px per inch and read at 96' },
  { factor: 72 / 96, cause: 'drawn at 96 px per inch and written out as if at 72' },
  { factor: 90 / 96, cause: 'drawn at 96 px per inch and written out as if at 90' },
  { factor: 25.4, cause: 'drawn in inches and read as millimetres' },
];

/** People draw whole millimetres: sizes this near to one are meant to be one, mm. */
const WHOLE_MM = 0.02;
const SAME_SIZE = 0.003;
/** Below this a whole number of millimetres says nothing. */
const TELLING_MM = 20;

/** Whether the drawing was scaled by a slip of px per inch, from the toolpath, the sheet or whole millimetres. */
export function scaleSuspect(artwork: Artwork, sidecar: Sidecar | null, match: MatchFact | null): ScaleSuspect | null {
  const scale = match?.placement?.scale;
  if (scale !== undefined) {
    const slip = SLIPS.find(({ factor }) => Math.abs(scale / factor - 1) <= SAME_SIZE);
    return slip ? { ...slip, evidence: `the toolpath is ${scale.toFixed(3)} times the size of the drawing` } : null;
  }
  if (artwork.size !== 'assumed') return null;
  const sheet = sidecar?.sheet;
  if (sheet) {
    const slip = SLIPS.find(
      ({ factor }) => near(artwork.widthMm * factor, sheet.widthMm) && near(artwork.heightMm * factor, sheet.heightMm),
    );
    if (slip) {
      return { ...slip, evidence: `the page would then be the sheet’s ${sheet.widthMm} × ${sheet.heightMm} mm` };
    }
  }
  const bounds = artwork.boundsMm;
  if (!bounds) return null;
  const sizes = [bounds.maxX - bounds.minX, bounds.maxY - bounds.minY].filter((size) => size >= TELLING_MM);
  // Two sizes that are the same say no more than one, and one alone is too often whole by chance.
  if (sizes.length < 2 || near(sizes[0]!, sizes[1]!) || sizes.every((size) => whole(size))) return null;
  const slip = SLIPS.find(({ factor }) => sizes.every((size) => whole(size * factor)));
  if (!slip) return null;
  const would = sizes.map((size) => Math.round(size * slip.factor)).join(' × ');
  return { ...slip, evidence: `its lines would then measure ${would} mm, whole millimetres` };
}

function near(value: number, wanted: number): boolean {
  return wanted > 0 && Math.abs(value / wanted - 1) <= SAME_SIZE;
}

function whole(sizeMm: number): boolean {
  return Math.abs(sizeMm - Math.round(sizeMm)) <= WHOLE_MM;
}
