import type { CutInput } from '../../physics/doubt/predict.ts';
import { rememberedProbability, rememberedProbabilityFrom } from '../../physics/doubt/remembered.ts';
import { marchedDepthMm } from '../../physics/march/march.ts';
import { roundToStep, typedSpeeds } from '../../physics/march/passes.ts';
import { cutOf } from '../bench/set-up.ts';
import type { Grounds } from '../coupons/grounds.ts';
import type { PlaceOnBed } from '../cuts/one-cut.ts';
import { MOST_PASSES } from '../cuts/prediction.ts';
import { choicesOf, type SettingChoice, settingChoices } from '../cuts/setting-choices.ts';
import type { Setup } from '../cuts/setup.ts';
import type { Bound, Recipe, StatedSettings } from './recipe-fact.ts';

/** Slowest speed that is tried where the material has no floor, mm/s. */
export const SLOWEST_MM_PER_S = 0.5;
/** Typed steps of focus, mm, and most positions between face and underside. */
const FOCUS_STEP_MM = 0.5;
const MOST_FOCUS_STEPS = 24;
/** Positions of the focus that look best with nothing off are held against the doubt. */
const CLOSER_LOOKS = 3;

/** What a search for recipes keeps within, besides what machine and material ask for. */
export interface SearchRange {
  /** Place on the bed, for the watts that can be counted on. */
  readonly at: PlaceOnBed;
  /** No faster than this: what the machine does, or what the outlines let it reach. */
  readonly fastestMmPerS: number;
  /** Whether the focus may be lowered from one pass to the next. */
  readonly focusMoves: boolean;
  readonly stated: StatedSettings;
}

/** Tries recipes under the set-up's lens; null where the machine gives no power at the setting asked for. */
export function searchUnder(setup: Setup, range: SearchRange): LensSearch | null {
  const { at, stated } = range;
  const { machine } = setup;
  const settings = stated.setting === null ? settingChoices(machine, at) : choicesOf(machine, [stated.setting], at);
  const strongest = settings.at(-1);
  return strongest ? new LensSearch(setup, range, settings, strongest) : null;
}

/** Where the waist lies in the first pass, and how far it moves from one to the next, mm. */
interface Focus {
  focusMm: number;
  focusStepMm: number;
}

/** Tries recipes under one lens. */
export class LensSearch {
  readonly #setup: Setup;
  readonly #stated: StatedSettings;
  readonly #focusMoves: boolean;
  readonly #settings: readonly SettingChoice[];
  readonly #strongest: SettingChoice;
  /** Rising. */
  readonly #speeds: readonly number[];
  readonly #slowestMmPerS: number;

  constructor(
    setup: Setup,
    { stated, focusMoves, fastestMmPerS }: SearchRange,
    settings: readonly SettingChoice[],
    strongest: SettingChoice,
  ) {
    const { cleanSpeedMmPerS } = setup.material;
    const floor = cleanSpeedMmPerS[setup.machine.source.kind] ?? SLOWEST_MM_PER_S;
    this.#setup = setup;
    this.#stated = stated;
    this.#focusMoves = focusMoves;
    this.#settings = settings;
    this.#strongest = strongest;
    this.#slowestMmPerS = stated.speedMmPerS ?? Math.min(floor, fastestMmPerS);
    const typed = stated.speedMmPerS === null ? typedSpeeds(this.#slowestMmPerS, fastestMmPerS) : [];
    this.#speeds = typed.length > 0 ? typed : [this.#slowestMmPerS];
  }

  get #mostPasses(): number {
    return this.#stated.passes ?? MOST_PASSES[this.#setup.machine.source.kind];
  }

  /** What a recipe under this lens is judged by. */
  get grounds(): Grounds {
    return this.#setup.grounds;
  }

  /** Full power, slowest speed, most passes: only the focus is left to choose. */
  surest(): Recipe {
    const passes = this.#mostPasses;
    const at = { ...this.#strongest, speedMmPerS: this.#slowestMmPerS, passes };
    const depthOf = (focus: Focus) => this.#depthMm({ ...at, ...focus });
    const tried = leading(this.#focuses(passes), depthOf).map((focus) => {
      const probability = rememberedProbability(this.#cut({ ...at, ...focus }));
      return this.#recipe({ ...at, ...focus }, probability);
    });
    return tried.reduce((best, one) => (one.throughProbability > best.throughProbability ? one : best));
  }

  /** The fewest passes that reach a probability, and of those the fastest. */
  quickest(limit: number): Recipe | null {
    const first = this.#stated.passes ?? 1;
    for (let passes = first; passes <= this.#mostPasses; passes++) {
      const at = { ...this.#strongest, passes };
      const fastestDeepEnough = (focus: Focus) => {
        const deep = (speedMmPerS: number) =>
          this.#depthMm({ ...at, ...focus, speedMmPerS }) >= this.#setup.thicknessMm ? speedMmPerS : null;
        return lastThat(this.#speeds, deep) ?? 0;
      };
      // A recipe that falls short with nothing off does not reach the limit.
      const hopeful = leading(this.#focuses(passes), fastestDeepEnough).filter((focus) => fastestDeepEnough(focus) > 0);
      const found = hopeful.flatMap((focus) => this.#fastestAt(limit, passes, focus) ?? []);
      if (found.length > 0) return found.reduce((best, one) => (one.speedMmPerS > best.speedMmPerS ? one : best));
    }
    return null;
  }

  /** At full power; where that would go faster than the head can, at the least power that suffices. */
  #fastestAt(limit: number, passes: number, focus: Focus): Recipe | null {
    const reaching = (watts: SettingChoice, speedMmPerS: number): Recipe | null => {
      const recipe = { ...watts, ...focus, speedMmPerS, passes };
      const probability = rememberedProbabilityFrom(limit, this.#cut(recipe));
      return probability === null ? null : this.#recipe(recipe, probability);
    };
    const fastest = lastThat(this.#speeds, (speedMmPerS) => reaching(this.#strongest, speedMmPerS));
    if (fastest === null || fastest.speedMmPerS !== this.#speeds.at(-1)) return fastest;
    const fromStrongest = [...this.#settings].reverse();
    return lastThat(fromStrongest, (watts) => reaching(watts, fastest.speedMmPerS)) ?? fastest;
  }

  /** A maximum that the profile does not state is nobody's recommendation. */
  get #ceilingKind(): 'ceiling' | 'assumed-ceiling' {
    const isAssumed = this.#setup.machine.assumed.some(({ key }) => key === 'source.ceiling');
    return isAssumed ? 'assumed-ceiling' : 'ceiling';
  }

  bounds(lensNamed: boolean): Bound[] {
    const { setting, speedMmPerS, passes, focusMm } = this.#stated;
    const floor = this.#setup.material.cleanSpeedMmPerS[this.#setup.machine.source.kind];
    const speedKind = floor === null || this.#slowestMmPerS < floor ? 'slowest-speed' : 'clean-speed';
    return [
      { kind: setting === null ? this.#ceilingKind : 'planned-power', value: this.#strongest.setting },
      { kind: speedMmPerS === null ? speedKind : 'planned-speed', value: this.#slowestMmPerS },
      { kind: passes === null ? 'most-passes' : 'planned-passes', value: this.#mostPasses },
      ...(focusMm === null ? [] : [{ kind: 'planned-focus' as const, value: focusMm }]),
      ...(lensNamed ? [{ kind: 'named-lens' as const, value: null }] : []),
    ];
  }

  /** Positions from the face down to the underside; for several passes also such that follow the cut down, where the focus can. */
  #focuses(passes: number): Focus[] {
    const { focusMm: stated, focusStepMm } = this.#stated;
    if (stated !== null) return [{ focusMm: stated, focusStepMm }];
    const { thicknessMm } = this.#setup;
    const step = FOCUS_STEP_MM * Math.max(1, Math.ceil(thicknessMm / FOCUS_STEP_MM / MOST_FOCUS_STEPS));
    const starts = Array.from({ length: Math.floor(thicknessMm / step) + 1 }, (_, i) => 0 - i * step);
    const steps =
      passes === 1 || !this.#focusMoves
        ? [0]
        : [0, 0.5, 1].map((share) => 0 - typedFocus((share * thicknessMm) / passes));
    return [...new Set(steps)].flatMap((moved) =>
      starts
        .filter((focusMm) => focusMm + (passes - 1) * moved >= -thicknessMm - 1e-9)
        .map((focusMm) => ({ focusMm, focusStepMm: moved })),
    );
  }

  #cut(recipe: Parameters<typeof cutOf>[1]): CutInput {
    return cutOf(this.#setup, recipe);
  }

  /** With nothing off, in endless stock. */
  #depthMm(recipe: Parameters<typeof cutOf>[1]): number {
    const { beam, stock, passes } = this.#cut(recipe);
    return marchedDepthMm(beam, stock, passes);
  }

  #recipe({ setting, powerW, speedMmPerS, passes, focusMm, focusStepMm }: Tried, probability: number): Recipe {
    const { lens } = this.#setup;
    const throughProbability = roundToStep(probability, 1e-3);
    return { lens: lens.id, setting, powerW, speedMmPerS, passes, focusMm, focusStepMm, throughProbability };
  }
}

type Tried = Omit<Recipe, 'lens' | 'throughProbability'>;

const typedFocus = (mm: number): number => roundToStep(mm, FOCUS_STEP_MM);

/** The few with the highest scores, the best in front; of equals, those that come first. */
function leading<T>(candidates: readonly T[], scoreOf: (candidate: T) => number): T[] {
  return candidates
    .map((candidate) => ({ candidate, score: scoreOf(candidate) }))
    .sort((a, b) => b.score - a.score)
    .slice(0, CLOSER_LOOKS)
    .map(({ candidate }) => candidate);
}

/** What the last candidate gives that gives something, by halving; they are ordered from the surest to the least sure. */
function lastThat<T, R>(candidates: readonly T[], tried: (candidate: T) => R | null): R | null {
  let low = -1;
  let high = candidates.length;
  let best: R | null = null;
  while (high - low > 1) {
    // The surest goes first: where it fails, all do.
    const middle = low < 0 ? 0 : (low + high) >> 1;
    const result = tried(candidates[middle]!);
    if (result !== null) {
      low = middle;
      best = result;
    } else if (low < 0) return null;
    else high = middle;
  }
  return best;
}
