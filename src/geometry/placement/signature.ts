import { boxOfPolyline, polylineLengthMm, signedAreaMm2 } from '../outlines/contours.ts';
import type { Polyline } from '../outlines/outline.ts';
import type { Orientation } from './transform.ts';

/** What can be compared of two outlines wherever they lie: their size, and the middle of their line. */
export interface Signature {
  lengthMm: number;
  areaMm2: number;
  widthMm: number;
  heightMm: number;
  /** Mean place along the line: it stays put when the outline is split, offset or flattened otherwise. */
  x: number;
  y: number;
}

/** Signatures of the longest outlines, at most `most`. */
export function longestSignatures(lines: readonly Polyline[], most: number): Signature[] {
  const lengths = lines.map((line) => {
    const length = polylineLengthMm(line);
    return Number.isFinite(length) ? length : 0;
  });
  const order = Array.from(lines.keys()).filter((i) => lengths[i]! > 0);
  order.sort((a, b) => lengths[b]! - lengths[a]! || a - b);
  return order.slice(0, most).map((i) => signatureOf(lines[i]!, lengths[i]!));
}

function signatureOf(line: Polyline, lengthMm: number): Signature {
  const box = boxOfPolyline(line) ?? { minX: 0, minY: 0, maxX: 0, maxY: 0 };
  const points = line.xy.length >> 1;
  let x = 0;
  let y = 0;
  for (let i = line.closed ? 0 : 1; i < points; i++) {
    const before = i === 0 ? points - 1 : i - 1;
    const [ax, ay] = [line.xy[2 * before]!, line.xy[2 * before + 1]!];
    const [bx, by] = [line.xy[2 * i]!, line.xy[2 * i + 1]!];
    const share = Math.hypot(bx - ax, by - ay) / lengthMm;
    x += ((ax + bx) / 2) * share;
    y += ((ay + by) / 2) * share;
  }
  return {
    lengthMm,
    areaMm2: line.closed ? Math.abs(signedAreaMm2(line)) : 0,
    widthMm: box.maxX - box.minX,
    heightMm: box.maxY - box.minY,
    x,
    y,
  };
}

/** Ratios of size between outlines of about the same shape, the most supported first, at most `most`. */
export function likelyScales(a: readonly Signature[], b: readonly Signature[], most: number): number[] {
  const bins = new Map<number, { weight: number; sum: number }>();
  for (const p of a) {
    for (const q of b) {
      if (!sameShape(p, q)) continue;
      const log = Math.log(q.lengthMm / p.lengthMm);
      const key = Math.round(log / 0.02);
      const bin = bins.get(key) ?? { weight: 0, sum: 0 };
      bin.weight += p.lengthMm;
      bin.sum += p.lengthMm * log;
      bins.set(key, bin);
    }
  }
  return [...bins.values()]
    .sort((p, q) => q.weight - p.weight)
    .slice(0, most)
    .map((bin) => Math.exp(bin.sum / bin.weight));
}

/** A kerf offset changes small outlines most, so the shape is compared loosely: coverage decides later. */
function sameShape(p: Signature, q: Signature): boolean {
  const slack = 0.12;
  const roundness = (s: Signature): number => (s.areaMm2 * 4 * Math.PI) / s.lengthMm ** 2;
  const slimness = (s: Signature): number =>
    Math.min(s.widthMm, s.heightMm) / Math.max(s.widthMm, s.heightMm, Number.MIN_VALUE);
  return Math.abs(roundness(p) - roundness(q)) < slack && Math.abs(slimness(p) - slimness(q)) < slack;
}

/** A movement that brings outlines of A onto outlines of B of the same size. */
export interface Vote {
  dx: number;
  dy: number;
  weight: number;
}

/**
 * Votes for the movement that, after A has been turned and scaled, brings its outlines onto those of B: each pair of
 * outlines of one size casts one. Returns the four movements with most votes. `offsetMm` is the greatest kerf offset,
 * `grainMm` how near to each other votes must be to count together.
 */
export function likelyMoves(
  a: readonly Signature[],
  b: readonly Signature[],
  { turn, scale, offsetMm, grainMm }: { turn: Orientation; scale: number; offsetMm: number; grainMm: number },
): Vote[] {
  const bins = new Map<string, { weight: number; x: number; y: number }>();
  for (const p of a) {
    const upright = turn.a === 0;
    const width = scale * (upright ? p.heightMm : p.widthMm);
    const height = scale * (upright ? p.widthMm : p.heightMm);
    const x = scale * (turn.a * p.x + turn.c * p.y);
    const y = scale * (turn.b * p.x + turn.d * p.y);
    for (const q of b) {
      const play = 2 * offsetMm + 0.02 * Math.max(width, height);
      if (Math.abs(width - q.widthMm) > play || Math.abs(height - q.heightMm) > play) continue;
      if (Math.abs(scale * p.lengthMm - q.lengthMm) > 8 * offsetMm + 0.03 * q.lengthMm) continue;
      const key = `${Math.round((q.x - x) / grainMm)} ${Math.round((q.y - y) / grainMm)}`;
      const bin = bins.get(key) ?? { weight: 0, x: 0, y: 0 };
      bin.weight += q.lengthMm;
      bin.x += q.lengthMm * (q.x - x);
      bin.y += q.lengthMm * (q.y - y);
      bins.set(key, bin);
    }
  }
  return [...bins.values()]
    .sort((p, q) => q.weight - p.weight)
    .slice(0, 4)
    .map((bin) => ({ dx: bin.x / bin.weight, dy: bin.y / bin.weight, weight: bin.weight }));
}
