import type { Arc } from '../../geometry/segments/arc.ts';

/** Difference of start and end radius that is accepted besides the stated tolerance, as a share of the radius (as later controllers do). */
const RADIUS_SHARE = 0.001;

/** An arc, and the mismatch of its radii where there is one. */
export interface CentreArc {
  arc: Arc;
  mismatch: { startRadiusMm: number; endRadiusMm: number; toleranceMm: number } | null;
}

export type RadiusArc = { ok: true; arc: Arc } | { ok: false; chordMm: number };

function sweepBetween(startAngle: number, endAngle: number, clockwise: boolean): number {
  let sweep = endAngle - startAngle;
  if (clockwise) {
    while (sweep >= -1e-12) sweep -= 2 * Math.PI;
  } else {
    while (sweep <= 1e-12) sweep += 2 * Math.PI;
  }
  return sweep;
}

/**
 * Arc by its centre. Start and end on the same point make a full circle. The radii to start and end may differ by
 * `toleranceMm` or 0.1 % of the radius, whichever is more; beyond that the arc is answered together with the mismatch.
 */
export function arcByCentre(
  a0: number,
  b0: number,
  a1: number,
  b1: number,
  centreA: number,
  centreB: number,
  clockwise: boolean,
  toleranceMm: number,
): CentreArc {
  const startRadiusMm = Math.hypot(a0 - centreA, b0 - centreB);
  const endRadiusMm = Math.hypot(a1 - centreA, b1 - centreB);
  const startAngle = Math.atan2(b0 - centreB, a0 - centreA);
  const full = a0 === a1 && b0 === b1;
  const turn = clockwise ? -2 * Math.PI : 2 * Math.PI;
  const sweepRad = full ? turn : sweepBetween(startAngle, Math.atan2(b1 - centreB, a1 - centreA), clockwise);
  const arc: Arc = { centreA, centreB, radius: startRadiusMm, sweepRad };
  const accepted = Math.max(toleranceMm, RADIUS_SHARE * startRadiusMm);
  if (Math.abs(startRadiusMm - endRadiusMm) > accepted + 1e-9) {
    return { arc, mismatch: { startRadiusMm, endRadiusMm, toleranceMm: accepted } };
  }
  return { arc, mismatch: null };
}

/**
 * Arc by its radius: a positive one turns by up to 180°, a negative one by more. A chord longer than the diameter by no
 * more than `toleranceMm` is taken for a half circle.
 */
export function arcByRadius(
  a0: number,
  b0: number,
  a1: number,
  b1: number,
  radius: number,
  clockwise: boolean,
  toleranceMm: number,
): RadiusArc {
  const da = a1 - a0;
  const db = b1 - b0;
  const chord = Math.hypot(da, db);
  const r = Math.abs(radius);
  if (chord === 0 || r === 0 || chord > 2 * r + Math.max(toleranceMm, RADIUS_SHARE * r))
    return { ok: false, chordMm: chord };
  const height = Math.sqrt(Math.max(0, r * r - (chord / 2) ** 2));
  // The centre lies to the left of the chord for a short anticlockwise arc and for a long clockwise one.
  const left = clockwise === radius < 0 ? 1 : -1;
  const centreA = (a0 + a1) / 2 - (left * height * db) / chord;
  const centreB = (b0 + b1) / 2 + (left * height * da) / chord;
  const half = Math.asin(Math.min(1, chord / 2 / r)) * 2;
  const angle = radius < 0 ? 2 * Math.PI - half : half;
  return { ok: true, arc: { centreA, centreB, radius: r, sweepRad: clockwise ? -angle : angle } };
}
