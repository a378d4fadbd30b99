/**
 * How long straight motion takes under a limit on acceleration, and how fast a corner may be taken. Constant acceleration
 * throughout (trapezoids of speed over time); lengths in mm, speeds in mm/s, accelerations in mm/s², angles in radians.
 */

/**
 * Time of a straight move from rest to rest, s: L/v + v/a where the head reaches its speed, else 2√(L/a). Textbook
 * kinematics. A length of 0 takes no time.
 */
export function segmentTimeS(lengthMm: number, speedMmPerS: number, accelerationMmPerS2: number): number {
  return profile(lengthMm, speedMmPerS, accelerationMmPerS2, 0, 0).timeS;
}

/** Highest speed of a straight move from rest to rest. */
export function peakSpeedMmPerS(lengthMm: number, speedMmPerS: number, accelerationMmPerS2: number): number {
  return profile(lengthMm, speedMmPerS, accelerationMmPerS2, 0, 0).peakMmPerS;
}

export interface SpeedProfile {
  peakMmPerS: number;
  timeS: number;
}

/** A straight move that enters and leaves at given speeds, neither above `speedMmPerS`. */
export function profile(
  lengthMm: number,
  speedMmPerS: number,
  accelerationMmPerS2: number,
  entryMmPerS: number,
  exitMmPerS: number,
): SpeedProfile {
  const a = accelerationMmPerS2;
  if (!(lengthMm > 0)) return { peakMmPerS: entryMmPerS, timeS: 0 };
  const reachable = Math.sqrt((2 * a * lengthMm + entryMmPerS * entryMmPerS + exitMmPerS * exitMmPerS) / 2);
  const peak = Math.min(speedMmPerS, reachable);
  const ramps = (2 * peak - entryMmPerS - exitMmPerS) / a;
  const rampLength = (2 * peak * peak - entryMmPerS * entryMmPerS - exitMmPerS * exitMmPerS) / (2 * a);
  return { peakMmPerS: peak, timeS: ramps + Math.max(0, lengthMm - rampLength) / peak };
}

/**
 * Time from the start of such a move until the head has gone `distanceMm` of it, s.
 */
export function timeAtS(
  distanceMm: number,
  lengthMm: number,
  accelerationMmPerS2: number,
  entryMmPerS: number,
  peakMmPerS: number,
  exitMmPerS: number,
): number {
  const a = accelerationMmPerS2;
  const up = (peakMmPerS * peakMmPerS - entryMmPerS * entryMmPerS) / (2 * a);
  const down = (peakMmPerS * peakMmPerS - exitMmPerS * exitMmPerS) / (2 * a);
  const s = Math.min(Math.max(distanceMm, 0), lengthMm);
  if (s <= up) return (Math.sqrt(entryMmPerS * entryMmPerS + 2 * a * s) - entryMmPerS) / a;
  const upTime = (peakMmPerS - entryMmPerS) / a;
  const cruiseEnd = Math.max(up, lengthMm - down);
  if (s <= cruiseEnd) return upTime + (s - up) / peakMmPerS;
  const left = Math.max(0, lengthMm - s);
  const speedHere = Math.sqrt(exitMmPerS * exitMmPerS + 2 * a * left);
  return upTime + (cruiseEnd - up) / peakMmPerS + (peakMmPerS - speedHere) / a;
}

/** Speed of the head when it has gone `distanceMm` of such a move. */
export function speedAtMmPerS(
  distanceMm: number,
  lengthMm: number,
  accelerationMmPerS2: number,
  entryMmPerS: number,
  peakMmPerS: number,
  exitMmPerS: number,
): number {
  const a = accelerationMmPerS2;
  const s = Math.min(Math.max(distanceMm, 0), lengthMm);
  const rising = Math.sqrt(entryMmPerS * entryMmPerS + 2 * a * s);
  const falling = Math.sqrt(exitMmPerS * exitMmPerS + 2 * a * (lengthMm - s));
  return Math.min(peakMmPerS, rising, falling);
}

/**
 * Mean speed over a stretch of `acrossMm` in whose middle the head is slowest: it comes down to `slowestMmPerS` and speeds up again.
 * Each half takes (√(v² + a·s) − v)/a.
 */
export function meanSpeedAcrossMmPerS(slowestMmPerS: number, acrossMm: number, accelerationMmPerS2: number): number {
  return (slowestMmPerS + Math.sqrt(slowestMmPerS * slowestMmPerS + accelerationMmPerS2 * acrossMm)) / 2;
}

/**
 * Speed at which a corner may be taken: that of a circle which touches both segments and passes the corner at the distance
 * `deviationMm` (junction deviation): R = δ s/(1 − s), s = sin(θ/2), v = √(aR). `angleRad` is the angle between the
 * segments: π goes straight on (no limit, Infinity), 0 turns back (0).
 */
export function cornerSpeedMmPerS(angleRad: number, deviationMm: number, accelerationMmPerS2: number): number {
  return cornerSpeedOfSine(Math.sin(angleRad / 2), deviationMm, accelerationMmPerS2);
}

/** The same from s = sin(θ/2), which the planner has without trigonometry: s² = (1 + d₁·d₂)/2 for unit directions d₁, d₂. */
export function cornerSpeedOfSine(s: number, deviationMm: number, accelerationMmPerS2: number): number {
  if (s >= 1 - 1e-9) return Number.POSITIVE_INFINITY;
  return Math.sqrt((accelerationMmPerS2 * deviationMm * s) / (1 - s));
}
