/** One pass of a recipe. */
export interface CutPass {
  /** At the work. */
  powerW: number;
  speedMmPerS: number;
  /** Waist above (+) or below (−) the sheet's top face. */
  focusMm: number;
}

/** Passes of one power and speed. */
export interface EvenRecipe extends CutPass {
  /** How many. */
  passes: number;
  /** Change of focus from one pass to the next; left out: none. */
  focusStepMm?: number;
}

/** Passes of one power and speed, the focus moved by a step from one to the next. */
export function evenPasses(recipe: EvenRecipe): CutPass[] {
  const { passes, powerW, speedMmPerS, focusMm, focusStepMm = 0 } = recipe;
  return Array.from({ length: passes }, (_, i) => ({ powerW, speedMmPerS, focusMm: focusMm + i * focusStepMm }));
}

/** Time of a recipe per mm of outline, s/mm, without corners. */
export function timePerMm(passes: readonly Pick<CutPass, 'speedMmPerS'>[]): number {
  let sum = 0;
  for (let i = 0; i < passes.length; i++) sum += 1 / passes[i]!.speedMmPerS;
  return sum;
}

/** That of so many passes at one speed, to the last digit. */
export function evenTimePerMm(passes: number, speedMmPerS: number): number {
  let sum = 0;
  for (let i = 0; i < passes; i++) sum += 1 / speedMmPerS;
  return sum;
}

/** Step between the speeds that a person would type: half a mm/s in the working range, finer below, coarser above. */
function speedStep(speedMmPerS: number): number {
  if (speedMmPerS < 2) return 0.1;
  if (speedMmPerS < 20) return 0.5;
  return speedMmPerS < 100 ? 1 : 10;
}

/** The fastest of them, mm/s. */
const FASTEST_TYPED_MM_PER_S = 10_000;
/** All of them, rising; made when they are first asked for. */
let typed: number[] | null = null;

function allTypedSpeeds(): number[] {
  const speeds: number[] = [];
  for (let speed = 0; speed < FASTEST_TYPED_MM_PER_S; ) {
    speed = roundToStep(speed + speedStep(speed), 0.1);
    speeds.push(speed);
  }
  return speeds;
}

/** Speeds that a person would type, rising, from the first at or above the lowest to the last at or below the highest. */
export function typedSpeeds(lowestMmPerS: number, highestMmPerS: number): number[] {
  typed ??= allTypedSpeeds();
  const from = typed.findIndex((speed) => speed >= lowestMmPerS - 1e-9);
  const beyond = typed.findIndex((speed) => speed > highestMmPerS + 1e-9);
  return from < 0 ? [] : typed.slice(from, beyond < 0 ? typed.length : Math.max(from, beyond));
}

/** A number at the nearest multiple of a step, free of the tail that binary fractions leave. */
export function roundToStep(value: number, step: number): number {
  return Number((Math.round(value / step) * step).toFixed(6));
}

/** Why a pass cannot be computed, in words for a person; null when it can. A pass without power cuts nothing and is none. */
export function passProblem(pass: CutPass): string | null {
  if (!(Number.isFinite(pass.speedMmPerS) && pass.speedMmPerS > 0)) {
    return `the speed must be above 0 mm/s, not ${pass.speedMmPerS}`;
  }
  if (!(Number.isFinite(pass.powerW) && pass.powerW >= 0)) return `the power cannot be ${pass.powerW} W`;
  if (!Number.isFinite(pass.focusMm)) return `the focus cannot be ${pass.focusMm} mm`;
  return null;
}

/** What one march may take: no cut is made so, and a slip of the pen must not hang a run. */
export const MOST_MARCHED_PASSES = 500;
const MOST_FOCUSES = 40;

/** Why a recipe cannot be computed, in words for a person; null when it can. */
export function passesProblem(passes: readonly CutPass[]): string | null {
  if (passes.length === 0) return 'there is no pass';
  if (passes.length > MOST_MARCHED_PASSES)
    return `more than ${MOST_MARCHED_PASSES} passes over one cut are not computed`;
  if (new Set(passes.map((pass) => pass.focusMm)).size > MOST_FOCUSES) {
    return `passes at more than ${MOST_FOCUSES} different focus positions are not computed`;
  }
  for (const pass of passes) {
    const problem = passProblem(pass);
    if (problem !== null) return problem;
  }
  return passes.some((pass) => pass.powerW > 0) ? null : 'no pass has any power';
}
