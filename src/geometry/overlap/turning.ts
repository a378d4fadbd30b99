import type { Segments } from '../segments/segments.ts';

/** A turn sharper than this is a corner of the drawing and not the joint of two chords of one curve. */
const SHARPEST_JOINT = 50 * (Math.PI / 180);

/**
 * For each segment, how far (radians) its direction may differ from that of the curve it stands for: half the turn at
 * its sharper joint. Two flattenings of one arc differ by up to the sum of both allowances, while straight lines get
 * none, so that crossings at a narrow angle are told from coincidence. A joint is found where the neighbour in order
 * begins where the segment ends.
 */
export function directionAllowances(segments: Segments): Float32Array {
  const { count, x0, y0, x1, y1 } = segments;
  const allowance = new Float32Array(count);
  for (let i = 0; i + 1 < count; i++) {
    const gap = Math.abs(x1[i]! - x0[i + 1]!) + Math.abs(y1[i]! - y0[i + 1]!);
    if (gap > 1e-3) continue;
    const ax = x1[i]! - x0[i]!;
    const ay = y1[i]! - y0[i]!;
    const bx = x1[i + 1]! - x0[i + 1]!;
    const by = y1[i + 1]! - y0[i + 1]!;
    const turn = Math.abs(Math.atan2(ax * by - ay * bx, ax * bx + ay * by));
    if (turn > SHARPEST_JOINT) continue;
    allowance[i] = Math.max(allowance[i]!, turn / 2);
    allowance[i + 1] = Math.max(allowance[i + 1]!, turn / 2);
  }
  return allowance;
}
