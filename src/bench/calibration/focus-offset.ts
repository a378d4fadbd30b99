import type { RampReading } from '../../job/material/coupon-results.ts';
import { roundTo } from '../../units/format.ts';

/** A focus that is off by a known offset, with its doubt. */
export interface FocusOffset {
  /** What the waist really stands above (+) or below (−) where it is set. */
  offsetMm: number;
  /** 1σ. */
  spreadMm: number;
}

/** The stretch in which no difference is seen is read as two standard deviations to either side. */
const STRETCH_SIGMAS = 4;
/** No eye and no ruler reads a ramp better than this, mm of focus (common practice, no source). */
const LEAST_SPREAD_MM = 0.1;

/** The focus offset that a ramp tells: where the line is narrowest the waist lies on the face, wherever it was meant to be. */
export function focusOffset(reading: RampReading): FocusOffset {
  const { nearMm, farMm, lengthMm } = reading;
  const waistAt = (mm: number) => nearMm + ((farMm - nearMm) * mm) / lengthMm;
  const from = waistAt(reading.fromMm);
  const to = waistAt(reading.toMm);
  return {
    offsetMm: roundTo(-(from + to) / 2, 2),
    spreadMm: roundTo(Math.max(LEAST_SPREAD_MM, Math.abs(to - from) / STRETCH_SIGMAS), 2),
  };
}
