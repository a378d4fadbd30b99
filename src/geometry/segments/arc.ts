/** A circular arc (or a helix) in one plane, from its start point. */
export interface Arc {
  /** Centre in the arc's plane. */
  centreA: number;
  centreB: number;
  radius: number;
  /** Signed, anticlockwise positive seen from the plane's third axis; a full circle is ±2π. */
  sweepRad: number;
}

/** The box of an arc in its plane: its ends and those of its four outermost points that it passes. */
export function arcExtent(
  a0: number,
  b0: number,
  a1: number,
  b1: number,
  arc: Arc,
): [minA: number, minB: number, maxA: number, maxB: number] {
  let minA = Math.min(a0, a1);
  let minB = Math.min(b0, b1);
  let maxA = Math.max(a0, a1);
  let maxB = Math.max(b0, b1);
  const start = Math.atan2(b0 - arc.centreB, a0 - arc.centreA);
  for (let quarter = 0; quarter < 4; quarter++) {
    const angle = (quarter * Math.PI) / 2;
    const ahead = arc.sweepRad > 0 ? angle - start : start - angle;
    const turned = ((ahead % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI);
    if (turned > Math.abs(arc.sweepRad)) continue;
    const a = arc.centreA + arc.radius * Math.cos(angle);
    const b = arc.centreB + arc.radius * Math.sin(angle);
    minA = Math.min(minA, a);
    maxA = Math.max(maxA, a);
    minB = Math.min(minB, b);
    maxB = Math.max(maxB, b);
  }
  return [minA, minB, maxA, maxB];
}

/** The direction in which an arc is run at a place on it; `share` is how long it is: of a helix, the part of each step that lies in the plane. */
export function arcDirection(
  { centreA, centreB, sweepRad }: Arc,
  a: number,
  b: number,
  share: number,
): [alongA: number, alongB: number] {
  const turn = Math.sign(sweepRad);
  const radius = Math.hypot(a - centreA, b - centreB) || 1;
  return [(-turn * (b - centreB) * share) / radius, (turn * (a - centreA) * share) / radius];
}
