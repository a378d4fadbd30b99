/** A curve with its slope. */
export interface SmoothCurve {
  at(x: number): number;
  slopeAt(x: number): number;
}

/**
 * A cubic between evenly spaced points whose slope has no jumps (Catmull & Rom); straight on beyond the ends.
 * @param xs rising, evenly spaced, two or more.
 */
export function curveThrough(xs: readonly number[], ys: readonly number[]): SmoothCurve {
  const last = xs.length - 1;
  const step = xs[1]! - xs[0]!;
  const slopes = ys.map((_, i) => {
    const from = Math.max(0, i - 1);
    const to = Math.min(last, i + 1);
    return (ys[to]! - ys[from]!) / (xs[to]! - xs[from]!);
  });
  const cell = (x: number) => Math.min(Math.max(Math.floor((x - xs[0]!) / step), 0), last - 1);
  return {
    at(x) {
      if (x <= xs[0]!) return ys[0]! + slopes[0]! * (x - xs[0]!);
      if (x >= xs[last]!) return ys[last]! + slopes[last]! * (x - xs[last]!);
      const i = cell(x);
      const t = (x - xs[i]!) / step;
      const [a, b, c] = [ys[i]!, ys[i + 1]!, slopes[i]! * step];
      const d = slopes[i + 1]! * step;
      return a + t * (c + t * (3 * (b - a) - 2 * c - d + t * (c + d - 2 * (b - a))));
    },
    slopeAt(x) {
      if (x <= xs[0]!) return slopes[0]!;
      if (x >= xs[last]!) return slopes[last]!;
      const i = cell(x);
      const t = (x - xs[i]!) / step;
      const [a, b, c] = [ys[i]!, ys[i + 1]!, slopes[i]! * step];
      const d = slopes[i + 1]! * step;
      return (c + t * (2 * (3 * (b - a) - 2 * c - d) + 3 * t * (c + d - 2 * (b - a)))) / step;
    },
  };
}
