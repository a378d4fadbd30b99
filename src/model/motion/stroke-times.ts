import { timeAtS } from '../../geometry/motion/motion.ts';
import { lengthOfStrokeMm, type Strokes } from '../strokes.ts';

/**
 * Books the time of one settled segment on its strokes: the mean speed each reaches, the slowest, and the seconds on its label. Numbers
 * and no record: this is called for every segment of a program.
 * @param count how many strokes the segment has, from `first` on
 */
export function bookStrokes(
  strokes: Strokes,
  timeByLabelS: number[],
  first: number,
  count: number,
  lengthMm: number,
  accelerationMmPerS2: number,
  entryMmPerS: number,
  peakMmPerS: number,
  exitMmPerS: number,
  timeS: number,
): void {
  const last = first + count - 1;
  const a = accelerationMmPerS2;
  let at = 0;
  let atS = 0;
  let speed = entryMmPerS;
  for (let i = first; i <= last; i++) {
    const to = i === last ? lengthMm : at + lengthOfStrokeMm(strokes, i);
    const toS = i === last ? timeS : timeAtS(to, lengthMm, a, entryMmPerS, peakMmPerS, exitMmPerS);
    const rising = Math.sqrt(entryMmPerS * entryMmPerS + 2 * a * to);
    const falling = Math.sqrt(exitMmPerS * exitMmPerS + 2 * a * Math.max(0, lengthMm - to));
    const leave = i === last ? exitMmPerS : Math.min(peakMmPerS, rising, falling);
    strokes.reachedMmPerS[i] = toS > atS ? (to - at) / (toS - atS) : peakMmPerS;
    strokes.slowestMmPerS[i] = Math.min(speed, leave);
    const label = strokes.label[i]!;
    timeByLabelS[label] = (timeByLabelS[label] ?? 0) + (toS - atS);
    at = to;
    atS = toS;
    speed = leave;
  }
}
