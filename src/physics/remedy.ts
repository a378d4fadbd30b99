import type { Beam } from './beam.ts';
import { type CutPass, marchedDepthMm } from './march.ts';
import { type CutInput, cutProblem, probabilityFrom, throughProbability } from './predict.ts';
import { evenPasses, roundTo, timePerMm, typedSpeeds } from './recipe.ts';

/** A cut that falls short, and what the machine could do instead. */
export interface RemedyProblem {
  /** As planned. */
  cut: CutInput;
  /** P(through) that a remedy must reach: the limit the cut is judged by. */
  limit: number;
  /** Settings a person could choose and the watts they give here, rising, up to the recommended ceiling. */
  powerChoices: readonly { fraction: number; powerW: number }[];
  /** Below it the material chars, melts or flares; null where there is no floor. */
  cleanSpeedMmPerS: number | null;
  /** More passes than this say that the sheet is too thick for the machine: 3 for CO₂, 10 for a diode (common practice, no source). */
  maxPasses: number;
  /** The machine's other lenses. */
  otherLenses: readonly { id: string; beam: Beam }[];
  /** Time of the cut as planned, s; weighs the time of setting up against that of cutting. */
  cutTimeS?: number;
}

interface RemedyCommon {
  throughProbability: number;
  /** Cutting time over that of the plan. */
  relativeTime: number;
  /** The whole recipe after the change (of one layer, where layers are stacked). */
  passes: CutPass[];
}

/** One change that gets the cut through; the numbers are such as a person would type. */
export type Remedy =
  | ({ kind: 'slower'; speedMmPerS: number } & RemedyCommon)
  | ({ kind: 'more-power'; fraction: number; powerW: number } & RemedyCommon)
  | ({ kind: 'slower-and-more-power'; speedMmPerS: number; fraction: number; powerW: number } & RemedyCommon)
  | ({ kind: 'other-focus'; focusMm: number } & RemedyCommon)
  | ({
      kind: 'more-passes';
      count: number;
      focusMm: number;
      focusStepMm: number;
      speedMmPerS: number;
      powerW: number;
    } & RemedyCommon)
  | ({ kind: 'other-lens'; lensId: string; focusMm: number; speedMmPerS: number; powerW: number } & RemedyCommon)
  | ({ kind: 'thinner-stacked'; layers: number; layerMm: number; speedMmPerS: number; powerW: number } & RemedyCommon)
  | { kind: 'out-of-reach'; throughProbability: number };

/** Slowest speed that is proposed where the material has no floor, mm/s. */
const SLOWEST_MM_PER_S = 0.5;
/** Typed steps of focus, mm. */
const FOCUS_STEP_MM = 0.5;
/** Never reached by a cut that falls short with nothing off (tested over random cuts and doubts). */
const MOST_WHEN_SHORT = 0.75;
const MOST_FOCUS_STEPS = 24;
const MOST_LAYERS = 6;
/** A layer is stated to this, upwards, mm. */
const LAYER_STEP_MM = 0.1;
/** Setting up, s, and the order of effort (common practice, no source). */
const SET_UP_S: Record<Remedy['kind'], number> = {
  'more-power': 0,
  slower: 0,
  'slower-and-more-power': 0,
  'more-passes': 0,
  'other-focus': 30,
  'other-lens': 300,
  'thinner-stacked': 900,
  'out-of-reach': Number.POSITIVE_INFINITY,
};
const USUAL_CUT_TIME_S = 60;

/**
 * The changes that get a cut to the limit it is judged by, cheapest first: by the time they cost, setting up included,
 * then by effort. Another lens is proposed only where it cuts faster than every change without it; thinner sheet in layers is proposed only where nothing else helps, and `out-of-reach` where that does
 * not either. Empty when the cut reaches the limit as planned, or when its input has a problem other than no power.
 */
export function findRemedies(problem: RemedyProblem): Remedy[] {
  const planned = problem.cut.passes;
  const startable = {
    ...problem.cut,
    passes: planned.map((pass) => ({ ...pass, powerW: Math.max(pass.powerW, 1e-9) })),
  };
  if (planned.length === 0 || cutProblem(startable) !== null) return [];
  if (probabilityFrom(problem.limit, problem.cut) !== null) return [];
  const bench = new Bench(problem);
  const found = [bench.morePower(), bench.slower(), bench.otherFocus(), bench.morePasses()].filter(
    (each) => each !== null,
  );
  if (!found.some((each) => each.kind === 'slower' || each.kind === 'more-power')) {
    const both = bench.slowerAndMorePower();
    if (both !== null) found.push(both);
  }
  // Another lens must save cutting time to be worth the change.
  const fastest = Math.min(
    ...found.map((each) => ('relativeTime' in each ? each.relativeTime : Number.POSITIVE_INFINITY)),
  );
  for (const lens of problem.otherLenses) {
    const remedy = bench.otherLens(lens);
    if (remedy !== null && 'relativeTime' in remedy && remedy.relativeTime < fastest) found.push(remedy);
  }
  if (found.length === 0) {
    const stacked = bench.thinnerStacked();
    return [stacked ?? { kind: 'out-of-reach', throughProbability: bench.bestProbability() }];
  }
  const cutTimeS = problem.cutTimeS ?? USUAL_CUT_TIME_S;
  const costS = (each: Remedy) => ('relativeTime' in each ? each.relativeTime * cutTimeS : 0) + SET_UP_S[each.kind];
  const effort = Object.keys(SET_UP_S);
  return found.sort((a, b) => costS(a) - costS(b) || effort.indexOf(a.kind) - effort.indexOf(b.kind));
}

/** Tries changes on one cut. */
class Bench {
  readonly #problem: RemedyProblem;
  readonly #floor: number;
  /** The plan with every speed raised to the floor: what each change starts from. */
  readonly #start: readonly CutPass[];
  readonly #highest: { fraction: number; powerW: number } | null;

  constructor(problem: RemedyProblem) {
    this.#problem = problem;
    this.#floor = problem.cleanSpeedMmPerS ?? SLOWEST_MM_PER_S;
    this.#start = problem.cut.passes.map((pass) => ({ ...pass, speedMmPerS: Math.max(pass.speedMmPerS, this.#floor) }));
    const highest = problem.powerChoices[problem.powerChoices.length - 1] ?? null;
    const strongest = Math.max(...this.#start.map((pass) => pass.powerW));
    this.#highest = highest !== null && highest.powerW > strongest ? highest : null;
  }

  /** P(through) of a recipe that reaches the limit; null when it does not. */
  #reaching(
    passes: readonly CutPass[],
    beam = this.#problem.cut.beam,
    thicknessMm = this.#problem.cut.thicknessMm,
  ): number | null {
    if (!passes.some((pass) => pass.powerW > 0)) return null;
    const { limit, cut } = this.#problem;
    // About half of what may be off makes a cut shallower than with nothing off: one march tells where the limit is out of reach.
    if (limit > MOST_WHEN_SHORT && marchedDepthMm(beam, cut.stock, passes, thicknessMm) < thicknessMm) return null;
    return probabilityFrom(limit, { ...cut, beam, passes, thicknessMm });
  }

  #common(passes: readonly CutPass[], probability: number, layers = 1): RemedyCommon {
    const relativeTime = (layers * timePerMm(passes)) / timePerMm(this.#problem.cut.passes);
    return { throughProbability: probability, relativeTime, passes: [...passes] };
  }

  /** The last of the candidates, ordered from the surest to the least sure, that still reaches the limit. */
  #last<T>(
    candidates: readonly T[],
    passesOf: (candidate: T) => readonly CutPass[],
    beam?: Beam,
    thicknessMm?: number,
  ) {
    let low = -1;
    let high = candidates.length;
    let best: { candidate: T; passes: readonly CutPass[]; probability: number } | null = null;
    while (high - low > 1) {
      // The surest goes first: where it fails, all do.
      const middle = low < 0 ? 0 : (low + high) >> 1;
      const candidate = candidates[middle]!;
      const passes = passesOf(candidate);
      const probability = this.#reaching(passes, beam, thicknessMm);
      if (probability !== null) {
        low = middle;
        best = { candidate, passes, probability };
      } else if (low < 0) return null;
      else high = middle;
    }
    return best;
  }

  /** Speeds from the floor up to the slowest of the start, slowest (surest) first. */
  #speeds(): number[] {
    return typedSpeeds(this.#floor, Math.min(...this.#start.map((pass) => pass.speedMmPerS)));
  }

  morePower(): Remedy | null {
    const strongest = Math.max(...this.#start.map((pass) => pass.powerW));
    const choices = this.#problem.powerChoices.filter((choice) => choice.powerW > strongest).reverse();
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
      i === 0 ? 0 : -roundTo(i * step, FOCUS_STEP_MM),
    );
  }

  otherFocus(): Remedy | null {
    const first = this.#start[0]!;
    let best: { focusMm: number; passes: CutPass[]; probability: number } | null = null;
    for (const focusMm of this.#focuses()) {
      if (focusMm === first.focusMm) continue;
      const passes = this.#start.map((pass) => ({ ...pass, focusMm: focusMm + pass.focusMm - first.focusMm }));
      const probability = this.#reaching(passes);
      if (probability !== null && (best === null || probability > best.probability))
        best = { focusMm, passes, probability };
    }
    if (best === null) return null;
    return { kind: 'other-focus', focusMm: best.focusMm, ...this.#common(best.passes, best.probability) };
  }

  /** More passes at the planned settings, the focus moved only if that is what it takes; else at the highest power, slower. */
  morePasses(): Remedy | null {
    const { thicknessMm } = this.#problem.cut;
    const first = this.#start[0]!;
    const { focusMm } = first;
    const speedMmPerS = Math.min(...this.#start.map((pass) => pass.speedMmPerS));
    const strongest = Math.max(...this.#start.map((pass) => pass.powerW));
    for (const powerW of this.#highest === null ? [strongest] : [strongest, this.#highest.powerW]) {
      for (let count = this.#start.length + 1; count <= this.#problem.maxPasses; count++) {
        for (const share of [0, 0.5, 1]) {
          const focusStepMm = 0 - roundTo((share * thicknessMm) / count, FOCUS_STEP_MM);
          const passesAt = (speed: number) => evenPasses(count, powerW, speed, focusMm, focusStepMm);
          const speeds = powerW === strongest ? [speedMmPerS] : this.#speeds();
          const best = this.#last(speeds, passesAt);
          if (best === null) continue;
          const common = this.#common(best.passes, best.probability);
          return { kind: 'more-passes', count, focusMm, focusStepMm, speedMmPerS: best.candidate, powerW, ...common };
        }
      }
    }
    return null;
  }

  otherLens(lens: { id: string; beam: Beam }): Remedy | null {
    const strongest = Math.max(...this.#start.map((pass) => pass.powerW));
    const speeds = [...this.#speeds(), ...this.#start.map((pass) => pass.speedMmPerS)].sort((a, b) => a - b);
    const focuses = [0, 0 - roundTo(this.#problem.cut.thicknessMm / 3, FOCUS_STEP_MM)];
    const stepMm = (this.#start[1]?.focusMm ?? this.#start[0]!.focusMm) - this.#start[0]!.focusMm;
    for (const powerW of this.#highest === null ? [strongest] : [strongest, this.#highest.powerW]) {
      const tried = focuses.map((focusMm) => {
        const passesAt = (speed: number) => evenPasses(this.#start.length, powerW, speed, focusMm, stepMm);
        return { focusMm, best: this.#last(speeds, passesAt, lens.beam) };
      });
      const fastest = tried
        .filter((each) => each.best !== null)
        .sort((a, b) => b.best!.candidate - a.best!.candidate)[0];
      if (fastest?.best === undefined || fastest.best === null) continue;
      const { candidate: speedMmPerS, passes, probability } = fastest.best;
      const common = this.#common(passes, probability);
      return { kind: 'other-lens', lensId: lens.id, focusMm: fastest.focusMm, speedMmPerS, powerW, ...common };
    }
    return null;
  }

  thinnerStacked(): Remedy | null {
    const powerW = this.#highest?.powerW ?? Math.max(...this.#start.map((pass) => pass.powerW));
    for (let layers = 2; layers <= MOST_LAYERS; layers++) {
      const layerMm = roundTo(
        Math.ceil(this.#problem.cut.thicknessMm / layers / LAYER_STEP_MM - 1e-9) * LAYER_STEP_MM,
        LAYER_STEP_MM,
      );
      const passesAt = (speed: number) => evenPasses(1, powerW, speed, 0, 0);
      const best = this.#last(this.#speeds(), passesAt, undefined, layerMm);
      if (best === null) continue;
      const common = this.#common(best.passes, best.probability, layers);
      return { kind: 'thinner-stacked', layers, layerMm, speedMmPerS: best.candidate, powerW, ...common };
    }
    return null;
  }

  /** P(through) with all that the machine has, for telling how far out of reach the cut is. */
  bestProbability(): number {
    const powerW = this.#highest?.powerW ?? Math.max(...this.#start.map((pass) => pass.powerW));
    const passes = evenPasses(this.#problem.maxPasses, powerW, this.#floor, 0, 0);
    return powerW > 0 ? throughProbability({ ...this.#problem.cut, passes }) : 0;
  }
}
