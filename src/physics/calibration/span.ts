/** Where the coupons lie; outside, a prediction is an extrapolation. */
export interface CouponSpan {
  thicknessMm: { min: number; max: number };
  powerW: { min: number; max: number };
}

/** The range of thicknesses (of depths, where they were measured) and powers of some coupons: at least one. */
export function spanOf(rows: readonly { thicknessMm: number; depthMm: number | null; powerW: number }[]): CouponSpan {
  const thicknesses = rows.map((row) => row.depthMm ?? row.thicknessMm);
  const powers = rows.map((row) => row.powerW).filter((powerW) => powerW > 0);
  return {
    thicknessMm: { min: Math.min(...thicknesses), max: Math.max(...thicknesses) },
    powerW: { min: Math.min(...powers), max: Math.max(...powers) },
  };
}

/**
 * Thicknesses up to this factor from the coupons' are spanned by the march, whose divergence share and focus are in the posterior; what it
 * gets wrong itself counts beyond (common practice, no source).
 */
const FREE_THICKNESS_FACTOR = 1.5;
/** 1σ that each doubling beyond the coupons adds (common practice, no source). */
const PER_DOUBLING_OF_THICKNESS = 0.15;
const PER_DOUBLING_OF_POWER = 0.1;

/** 1σ that the removal energy gains for a cut that lies off the coupons. */
export function beyondSpan(span: CouponSpan, cut: { thicknessMm: number; powerW: number }): number {
  const beyond = (value: number, range: { min: number; max: number }, free: number) =>
    Math.max(0, Math.log2(value / range.max / free), Math.log2(range.min / value / free)) || 0;
  return Math.hypot(
    PER_DOUBLING_OF_THICKNESS * beyond(cut.thicknessMm, span.thicknessMm, FREE_THICKNESS_FACTOR),
    PER_DOUBLING_OF_POWER * beyond(cut.powerW, span.powerW, 1),
  );
}
