import type { CouponPlan, Tongue } from './coupon-plan.ts';
import { textStrokes, textWidthMm } from './lettering.ts';
import { type Piece, type PieceGroup, roundedRectangle } from './piece.ts';
import { type PieceLabel, pieceLabel } from './piece-label.ts';

/** A tongue's outline, mm; the radius is what lets the head keep its speed around the ends. */
export interface TongueSize {
  widthMm: number;
  heightMm: number;
  radiusMm: number;
}

/** Tried from the smallest: thin sheet is cut fast, and a fast head needs room. */
export const TONGUE_SIZES: readonly TongueSize[] = [
  { widthMm: 8, heightMm: 16, radiusMm: 2.5 },
  { widthMm: 14, heightMm: 22, radiusMm: 6 },
  { widthMm: 24, heightMm: 34, radiusMm: 11 },
  { widthMm: 44, heightMm: 54, radiusMm: 21 },
];

const MARGIN_MM = 6;
/** What stays between two tongues. */
const WEB_MM = 4;
const DIGIT_MM = 4;
const DIGIT_GAP_MM = 2;
const ROW_GAP_MM = 5;
/** A wider piece is laid out in rows. */
const WIDEST_MM = 200;

/** Fastest speed at which the head follows the round corners: v² = a r, circular motion. */
export function fastestWithin(size: TongueSize, accelerationMmPerS2: number): number {
  return Math.sqrt(accelerationMmPerS2 * size.radiusMm);
}

export interface CouponSize {
  widthMm: number;
  heightMm: number;
  columns: number;
}

/** @param label what is scored along its lower edge. */
export function couponSize(
  count: number,
  size: TongueSize,
  travelXMm: number,
  label: readonly string[],
): CouponSize & { label: PieceLabel } {
  const pitch = size.widthMm + WEB_MM;
  const room = Math.min(WIDEST_MM, travelXMm) - 2 * MARGIN_MM + WEB_MM;
  const columns = Math.max(1, Math.min(count, Math.floor(room / pitch)));
  const rows = Math.ceil(count / columns);
  const widthMm = 2 * MARGIN_MM + columns * pitch - WEB_MM;
  const scored = pieceLabel(label, MARGIN_MM, MARGIN_MM, widthMm - 2 * MARGIN_MM);
  return {
    columns,
    widthMm,
    heightMm:
      2 * MARGIN_MM + scored.heightMm + rows * (size.heightMm + DIGIT_MM + DIGIT_GAP_MM) + (rows - 1) * ROW_GAP_MM,
    label: scored,
  };
}

/** The id of a tongue in the artwork, and its name in the toolpath. */
const tongueId = (number: number): string => `tongue-${String(number).padStart(2, '0')}`;
const tongueName = (number: number): string => `tongue ${String(number).padStart(2, '0')}`;
const MARKS = 'marks';

/** The comb: a row of tongues, each an outline of its own, its number scored beneath it in what stays behind, and below all what it is. */
export function couponPiece(
  about: Pick<Piece, 'title' | 'cautions'> & { label: readonly string[] },
  plan: CouponPlan,
  size: TongueSize,
  travelXMm: number,
): Piece {
  const { title, cautions } = about;
  const { columns, widthMm, heightMm, label } = couponSize(plan.tongues.length, size, travelXMm, about.label);
  const place = (tongue: Tongue) => {
    const index = tongue.number - 1;
    const row = Math.floor(index / columns);
    const rowMm = size.heightMm + DIGIT_MM + DIGIT_GAP_MM + ROW_GAP_MM;
    return {
      x: MARGIN_MM + (index % columns) * (size.widthMm + WEB_MM),
      y: heightMm - MARGIN_MM - size.heightMm - row * rowMm,
    };
  };
  const marks: PieceGroup = {
    id: MARKS,
    name: MARKS,
    ...plan.mark,
    passes: 1,
    focusMm: 0,
    focusStepMm: 0,
    strokes: [
      ...label.strokes,
      ...plan.tongues.flatMap((tongue) => {
        const { x, y } = place(tongue);
        const numeral = String(tongue.number);
        const left = x + (size.widthMm - textWidthMm(numeral, DIGIT_MM)) / 2;
        return textStrokes(numeral, left, y - DIGIT_GAP_MM - DIGIT_MM, DIGIT_MM);
      }),
    ],
  };
  const tongues = plan.tongues.map((tongue): PieceGroup => {
    const { x, y } = place(tongue);
    return {
      id: tongueId(tongue.number),
      name: tongueName(tongue.number),
      setting: tongue.setting,
      speedMmPerS: tongue.speedMmPerS,
      passes: plan.passes,
      focusMm: plan.focusMm,
      focusStepMm: plan.focusStepMm,
      strokes: [roundedRectangle(x, y, size.widthMm, size.heightMm, size.radiusMm)],
    };
  });
  return { title, cautions, widthMm, heightMm, groups: [marks, ...tongues] };
}
