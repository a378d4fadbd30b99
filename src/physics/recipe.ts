import type { CutPass } from './march.ts';

/** Passes of one power and speed, the focus moved by a step from one to the next. */
export function evenPasses(
  count: number,
  powerW: number,
  speedMmPerS: number,
  focusMm: number,
  focusStepMm: number,
): CutPass[] {
  return Array.from({ length: count }, (_, i) => ({ powerW, speedMmPerS, focusMm: focusMm + i * focusStepMm }));
}

/** Time of a recipe per mm of outline, s/mm, without corners. */
export function timePerMm(passes: readonly CutPass[]): number {
  return passes.reduce((sum, pass) => sum + 1 / pass.speedMmPerS, 0);
}

/** Step between the speeds that a person would type: half a mm/s in the working range, finer below, coarser above. */
function speedStep(speedMmPerS: number): number {
  if (speedMmPerS < 2) return 0.1;
  if (speedMmPerS < 20) return 0.5;
  return speedMmPerS < 100 ? 1 : 10;
}

/** Speeds that a person would type, rising, from the first at or above the lowest to the last at or below the highest. */
export function typedSpeeds(lowestMmPerS: number, highestMmPerS: number): number[] {
  const speeds: number[] = [];
  let speed = 0;
  for (const limit of [2, 20, 100, 10_000]) {
    const step = speedStep(speed);
    while (speed < limit) {
      speed = roundTo(speed + step, 0.1);
      if (speed > highestMmPerS + 1e-9) return speeds;
      if (speed >= lowestMmPerS - 1e-9) speeds.push(speed);
    }
  }
  return speeds;
}

/** A number at the nearest multiple of a step, free of the tail that binary fractions leave. */
export function roundTo(value: number, step: number): number {
  return Number((Math.round(value / step) * step).toFixed(6));
}
