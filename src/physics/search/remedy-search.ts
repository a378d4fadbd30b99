import { normalQuantile } from '../doubt/normal.ts';
import type { CutInput } from '../doubt/predict.ts';
import { rememberedProbabilityFrom } from '../doubt/remembered.ts';
import { depthUpToMm, marchedDepthMm } from '../march/march.ts';
import { type CutPass, evenPasses, evenTimePerMm, roundToStep, timePerMm, typedSpeeds } from '../march/passes.ts';
import { lastThat } from './last-that.ts';
import type { Remedy, RemedyCommon, RemedyProblem } from './remedy.ts';

/** Slowest speed that is proposed where the material has no floor, mm/s. */
const SLOWEST_MM_PER_S = 0.5;
/** Typed steps of focus, mm. */
const FOCUS_STEP_MM = 0.5;
/** Never reached by a cut that falls short with nothing off (tested over random cuts and doubts). */
const MOST_WHEN_SHORT = 0.75;
const MOST_FOCUS_STEPS = 24;
/** No score is taken further out, where a limit of 1 has none. */
const MOST_LIKELY = 0.999;
/** Powers that differ by no more are the same one: plans have them to a hundredth of a watt. */
export const SAME_W = 0.01;

/** A cut under one lens, and the limit that it is judged by there. */
interface Judged {
  cut: CutInput;
  limit: number;
}

/**
 * Where in a list, ordered from the surest to the least sure, the first probably falls short of the limit: by one march each, with an energy
 * that is exceeded as seldom as the limit allows.
 */
function firstLikelyShort<T>(candidates: readonly T[], passesOf: (one: T) => readonly CutPass[], judged: Judged) {
  const { beam, stock, doubt, thicknessMm } = judged.cut;
  const score = normalQuantile(Math.min(MOST_LIKELY, judged.limit));
  const removalJPerMm3 = stock.removalJPerMm3 * Math.exp(Math.hypot(doubt.removal, doubt.power) * score);
  const hard = { ...stock, removalJPerMm3 };
  let low = -1;
  let high = candidates.length;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (depthUpToMm(beam, hard, passesOf(candidates[middle]!), thicknessMm) >= thicknessMm) low = middle;
    else high = middle;
  }
  return high;
}

/** Tries changes on one cut. */
export class RemedySearch {
  readonly #problem: RemedyProblem;
  readonly #floor: number;
  /** The plan with every speed raised to the floor and no power above the ceiling: what each change starts from. */
  readonly #start: readonly CutPass[];
  readonly #highest: { fraction: number; powerW: number } | null;

  constructor(problem: RemedyProblem) {
    this.#problem = problem;
    this.#floor = problem.cleanSpeedMmPerS ?? SLOWEST_MM_PER_S;
    const highest = problem.powerChoices[problem.powerChoices.length - 1] ?? null;
    const mostW = highest?.powerW ?? Number.POSITIVE_INFINITY;
    this.#start = problem.cut.passes.map((pass) => ({
      ...pass,
      powerW: Math.min(pass.powerW, mostW),
      speedMmPerS: Math.max(pass.speedMmPerS, this.#floor),
    }));
    const strongest = Math.max(...this.#start.map((pass) => pass.powerW));
    this.#highest = highest !== null && highest.powerW > strongest + SAME_W ? highest : null;
  }

  /** P(through) of a recipe that reaches the limit, and what is asked for beyond it; null when it does not. */
  #reaching(passes: readonly CutPass[], { cut, limit }: Judged, atLeast = limit): number | null {
    if (!passes.some((pass) => pass.powerW > 0)) return null;
    const { thicknessMm } = cut;
    // About half of what may be off makes a cut shallower than with nothing off: one march tells where the limit is out of reach.
    if (limit > MOST_WHEN_SHORT && marchedDepthMm(cut.beam, cut.stock, passes, thicknessMm) < thicknessMm) return null;
    return rememberedProbabilityFrom(atLeast, { ...cut, passes });
  }

  #common(passes: readonly CutPass[], probability: number): RemedyCommon {
    const relativeTime = timePerMm(passes) / timePerMm(this.#problem.cut.passes);
    return { throughProbability: probability, relativeTime, passes: [...passes] };
  }

  /** The last of the candidates, ordered from the surest to the least sure, that still reaches the limit. */
  #last<T>(candidates: readonly T[], passesOf: (candidate: T) => readonly CutPass[], judged: Judged = this.#problem) {
    const tried = (candidate: T) => {
      const passes = passesOf(candidate);
      const probability = this.#reaching(passes, judged);
      return probability === null ? null : { candidate, passes, probability };
    };
    return lastThat(candidates, tried, firstLikelyShort(candidates, passesOf, judged));
  }

  /** Speeds from the floor up to the slowest of the start, slowest (surest) first. */
  #speeds(): number[] {
    return typedSpeeds(this.#floor, Math.min(...this.#start.map((pass) => pass.speedMmPerS)));
  }

  morePower(): Remedy | null {
    const strongest = Math.max(...this.#start.map((pass) => pass.powerW));
    const choices = this.#problem.powerChoices.filter((choice) => choice.powerW > strongest + SAME_W).reverse();
    const best = this.#last(choices, ({ powerW }) => this.#start.map((pass) => ({ ...pass, powerW })));
    if (best === null) return null;
    return { kind: 'more-power', ...best.candidate, ...this.#common(best.passes, best.probability) };
  }

  slower(): Remedy | null {
    const best = this.#last(this.#speeds(), (speedMmPerS) => this.#start.map((pass) => ({ ...pass, speedMmPerS })));
    if (best === null) return null;
    return { kind: 'slower', speedMmPerS: best.candidate, ...this.#common(best.passes, best.probability) };
  }

  slowerAndMorePower(): Remedy | null {
    const highest = this.#highest;
    if (highest === null) return null;
    const { powerW } = highest;
    const best = this.#last(this.#speeds(), (speedMmPerS) =>
      this.#start.map((pass) => ({ ...pass, powerW, speedMmPerS })),
    );
    if (best === null) return null;
    const common = this.#common(best.passes, best.probability);
    return { kind: 'slower-and-more-power', speedMmPerS: best.candidate, ...highest, ...common };
  }

  /** Typed positions of the waist from the face down to the underside. */
  #focuses(): number[] {
    const { thicknessMm } = this.#problem.cut;
    const step = FOCUS_STEP_MM * Math.max(1, Math.ceil(thicknessMm / FOCUS_STEP_MM / MOST_FOCUS_STEPS));
    return Array.from({ length: Math.floor(thicknessMm / step) + 1 }, (_, i) =>
      i === 0 ? 0 : -roundToStep(i * step, FOCUS_STEP_MM),
    );
  }

  otherFocus(): Remedy | null {
    const first = this.#start[0]!;
    let best: { focusMm: number; passes: CutPass[]; probability: number } | null = null;
    for (const focusMm of this.#focuses()) {
      if (focusMm === first.focusMm) continue;
      const passes = this.#start.map((pass) => ({ ...pass, focusMm: focusMm + pass.focusMm - first.focusMm }));
      const probability = this.#reaching(passes, this.#problem, best?.probability);
      if (probability !== null && (best === null || probability > best.probability))
        best = { focusMm, passes, probability };
    }
    if (best === null) return null;
    return { kind: 'other-focus', focusMm: best.focusMm, ...this.#common(best.passes, best.probability) };
  }

  /** More passes at the planned settings, the focus moved only if that is what it takes; else slower, at the highest power. */
  morePasses(): Remedy | null {
    const { thicknessMm } = this.#problem.cut;
    const first = this.#start[0]!;
    const { focusMm } = first;
    const speedMmPerS = Math.min(...this.#start.map((pass) => pass.speedMmPerS));
    const strongest = Math.max(...this.#start.map((pass) => pass.powerW));
    const asPlanned = { powerW: strongest, speeds: [speedMmPerS] };
    const slower = { powerW: this.#highest?.powerW ?? strongest, speeds: this.#speeds() };
    for (const { powerW, speeds } of [asPlanned, slower]) {
      for (let count = this.#start.length + 1; count <= this.#problem.maxPasses; count++) {
        for (const share of this.#problem.focusMoves ? [0, 0.5, 1] : [0]) {
          const focusStepMm = 0 - roundToStep((share * thicknessMm) / count, FOCUS_STEP_MM);
          const passesAt = (speed: number) =>
            evenPasses({ passes: count, powerW, speedMmPerS: speed, focusMm, focusStepMm });
          const best = this.#last(speeds, passesAt);
          if (best === null) continue;
          const common = this.#common(best.passes, best.probability);
          return { kind: 'more-passes', count, focusMm, focusStepMm, speedMmPerS: best.candidate, powerW, ...common };
        }
      }
    }
    return null;
  }

  /**
   * The fastest recipe under another lens, at the planned power if that reaches the limit at any speed.
   * @param fasterThan relative time that it has to be under; null when it is not.
   */
  otherLens(lens: { id: string } & Judged, fasterThan: number): Remedy | null {
    const strongest = Math.max(...this.#start.map((pass) => pass.powerW));
    const asPlanned = this.#fastestUnder(lens, strongest, fasterThan);
    if (asPlanned !== null || this.#highest === null) return asPlanned;
    const stronger = this.#fastestUnder(lens, this.#highest.powerW, fasterThan);
    // What the planned power does slowly needs no more power, and no other lens.
    return stronger === null || this.#fastestUnder(lens, strongest, Number.POSITIVE_INFINITY) !== null
      ? null
      : stronger;
  }

  #fastestUnder(lens: { id: string } & Judged, powerW: number, fasterThan: number): Remedy | null {
    const speeds = [...this.#speeds(), ...this.#start.map((pass) => pass.speedMmPerS)].sort((a, b) => a - b);
    const focuses = [0, 0 - roundToStep(this.#problem.cut.thicknessMm / 3, FOCUS_STEP_MM)];
    const focusStepMm = (this.#start[1]?.focusMm ?? this.#start[0]!.focusMm) - this.#start[0]!.focusMm;
    const passesAt = (focusMm: number, speedMmPerS: number) =>
      evenPasses({ passes: this.#start.length, powerW, speedMmPerS, focusMm, focusStepMm });
    const plannedTime = timePerMm(this.#problem.cut.passes);
    let fastest: Remedy | null = null;
    // At each focus only what is faster than what is known already is worth a trial.
    let worth = speeds.filter((speed) => evenTimePerMm(this.#start.length, speed) / plannedTime < fasterThan);
    for (const focusMm of focuses) {
      const best = this.#last(worth, (speed) => passesAt(focusMm, speed), lens);
      if (best === null) continue;
      const { candidate: speedMmPerS, probability } = best;
      const common = this.#common(best.passes, probability);
      fastest = { kind: 'other-lens', lensId: lens.id, focusMm, speedMmPerS, powerW, ...common };
      worth = worth.filter((speed) => speed > speedMmPerS);
    }
    return fastest;
  }
}
