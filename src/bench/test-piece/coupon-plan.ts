import { cutOf, done, fullPower, type OnBench, type Outcome, refused, setUp } from '../../facts/bench/set-up.ts';
import { wattsAt } from '../../facts/cuts/power.ts';
import { MOST_PASSES } from '../../facts/cuts/prediction.ts';
import type { Setup } from '../../facts/cuts/setup.ts';
import { SOURCE_NAMES } from '../../job/machine/source-names.ts';
import { normalCdf } from '../../physics/doubt/normal.ts';
import { throughProbability } from '../../physics/doubt/predict.ts';
import { marchedDepthMm } from '../../physics/march/march.ts';
import { speedForProbability } from '../../physics/search/reach-curve.ts';
import { formatCount, formatMm, formatPercent, formatSpeed, roundTo } from '../../units/format.ts';
import { MARK_STROKE_MM } from './lettering.ts';

/** One tongue: a small closed cut with one recipe. */
export interface Tongue {
  number: number;
  setting: number;
  powerW: number;
  speedMmPerS: number;
  throughProbability: number;
}

export interface CouponPlan {
  setup: Setup;
  /** From the surest to part to the least sure. */
  tongues: Tongue[];
  passes: number;
  focusMm: number;
  focusStepMm: number;
  /** How the numerals and marks are scored: share of full power and speed. */
  mark: { setting: number; speedMmPerS: number };
}

export interface CouponOptions {
  tongues: number;
  /** Null: as many as it takes. */
  passes: number | null;
  focusMm: number;
  focusStepMm: number;
  /** Where on the bed the piece will lie. */
  at: { xMm: number; yMm: number };
  /** Fastest speed that the head reaches inside a tongue. */
  fastestMmPerS: number;
}

export const FEWEST_TONGUES = 4;
export const MOST_TONGUES = 60;
/** The tongues reach from this normal score of P(through) to its opposite: a little beyond the 95 and the 5 %. */
const WIDEST_SCORE = 1.8;
/** A set-up is fit to be tested where the slowest clean speed parts the sheet at least this surely: then both sides are met. */
const FIT_PROBABILITY = 0.8;
/** Shares of the highest setting over which the tongues are spread, so that more than one power is tried. */
const POWER_SHARES = [1, 0.85, 0.7];
/** Lowest setting, where a profile states no firing floor (common practice, no source). */
const LOWEST_SETTING = 0.1;
/** The marks are scored to a tenth of the sheet, and no deeper than this, mm. */
const MARK_DEPTH_MM = 0.4;
/** Slowest speed where a material has no clean-speed floor, mm/s. */
const SLOWEST_MM_PER_S = 1;

/** Lays tongues along the predicted boundary between parting and not parting, where the doubt is largest. */
export function planCoupon(bench: OnBench, options: CouponOptions): Outcome<CouponPlan> {
  const { machine, material } = bench;
  const built = setUp(bench);
  if (built.value === null) return built;
  const setup = built.value;
  const highest = fullPower(machine, null, options.at);
  if (highest.value === null) return highest;
  const floorMmPerS = material.cleanSpeedMmPerS[machine.source.kind] ?? SLOWEST_MM_PER_S;
  const chances = new Chances(setup, options);
  const passes = passesFor(chances, options, highest.value.setting, floorMmPerS, MOST_PASSES[machine.source.kind]);
  if (passes === null) {
    const most = options.passes ?? MOST_PASSES[machine.source.kind];
    return refused(
      `${formatMm(bench.thickness.mm)} ${material.name} is out of reach of the ${SOURCE_NAMES[machine.source.kind]} source with the ${bench.lens.id} lens: at ${formatSpeed(floorMmPerS)} and ${formatPercent(highest.value.setting)} it will hardly part in ${formatCount(most, 'pass', 'passes')}, and every tongue would stay. Test thinner sheet, another lens or more passes`,
    );
  }
  const settings = settingsFor(chances, passes, highest.value.setting, floorMmPerS, options.fastestMmPerS);
  if (settings.length === 0) {
    return refused(
      `${formatMm(bench.thickness.mm)} ${material.name} is too thin to be tested so: even at ${formatPercent(chances.lowestSetting)} it parts at any speed that the head reaches within a tongue (${formatSpeed(options.fastestMmPerS)}). Stack sheets, or test a thicker one`,
    );
  }
  const tongues = tonguesAlong(chances, settings, passes, floorMmPerS, options);
  return done({
    setup,
    tongues,
    passes,
    focusMm: options.focusMm,
    focusStepMm: options.focusStepMm,
    mark: markRecipe(setup, chances, bench.thickness.mm, options),
  });
}

/** P(through) of recipes on one set-up at one place. */
class Chances {
  readonly setup: Setup;
  readonly lowestSetting: number;
  readonly #options: CouponOptions;

  constructor(setup: Setup, options: CouponOptions) {
    this.setup = setup;
    this.#options = options;
    this.lowestSetting = roundTo(Math.max(setup.machine.source.floor ?? LOWEST_SETTING, 0.01) + 0.01, 2);
  }

  watts(setting: number): { powerW: number; spread: number } {
    return wattsAt(this.setup.machine, setting, this.#options.at) ?? { powerW: 0, spread: 0 };
  }

  cut(setting: number, speedMmPerS: number, passes: number) {
    const { focusMm, focusStepMm } = this.#options;
    return cutOf(this.setup, { ...this.watts(setting), speedMmPerS, passes, focusMm, focusStepMm });
  }

  at(setting: number, speedMmPerS: number, passes: number): number {
    const cut = this.cut(setting, speedMmPerS, passes);
    return cut.passes.some((pass) => pass.powerW > 0) ? throughProbability(cut) : 0;
  }

  speedFor(setting: number, probability: number, passes: number): number | null {
    return speedForProbability(this.cut(setting, 1, passes), probability);
  }
}

/** The fewest passes with which the slowest clean speed at the highest setting parts the sheet surely enough. */
function passesFor(
  chances: Chances,
  options: CouponOptions,
  setting: number,
  floorMmPerS: number,
  most: number,
): number | null {
  const suits = (passes: number) => chances.at(setting, floorMmPerS, passes) >= FIT_PROBABILITY;
  if (options.passes !== null) return suits(options.passes) ? options.passes : null;
  for (let passes = 1; passes <= most; passes++) if (suits(passes)) return passes;
  return null;
}

/** Settings at which the whole boundary lies between the clean-speed floor and what the head reaches. */
function settingsFor(chances: Chances, passes: number, highest: number, floor: number, fastest: number): number[] {
  const leastSure = normalCdf(-WIDEST_SCORE);
  let top = highest;
  for (let i = 0; i < 6; i++) {
    const speed = chances.speedFor(top, leastSure, passes);
    if (speed === null || speed <= fastest) break;
    top = Math.floor(top * (fastest / speed) * 100 - 0.5) / 100;
    if (top < chances.lowestSetting) return [];
  }
  const settings = POWER_SHARES.map((share) => roundTo(top * share, 2)).filter(
    (setting, i) =>
      i === 0 || (setting >= chances.lowestSetting && chances.at(setting, floor, passes) >= FIT_PROBABILITY),
  );
  return [...new Set(settings)];
}

/** Scores from sure to unsure in even steps; the settings take turns, so that no power is tested on one side only. */
function tonguesAlong(
  chances: Chances,
  settings: readonly number[],
  passes: number,
  floorMmPerS: number,
  options: CouponOptions,
): Tongue[] {
  const count = options.tongues;
  const tongues = Array.from({ length: count }, (_, i): Omit<Tongue, 'number'> => {
    const score = WIDEST_SCORE - (2 * WIDEST_SCORE * i) / (count - 1);
    const setting = settings[i % settings.length]!;
    const wanted = chances.speedFor(setting, normalCdf(score), passes) ?? floorMmPerS;
    const speedMmPerS = typed(Math.min(options.fastestMmPerS, Math.max(floorMmPerS, wanted)));
    const { powerW } = chances.watts(setting);
    return {
      setting,
      powerW: roundTo(powerW, 2),
      speedMmPerS,
      throughProbability: chances.at(setting, speedMmPerS, passes),
    };
  });
  return tongues
    .sort((a, b) => b.throughProbability - a.throughProbability)
    .map((tongue, i) => ({ number: i + 1, ...tongue, throughProbability: roundTo(tongue.throughProbability, 3) }));
}

function typed(speedMmPerS: number): number {
  return roundTo(speedMmPerS, speedMmPerS < 30 ? 1 : 0);
}

/** The weakest setting, and the speed at which it scores the sheet just visibly. */
function markRecipe(setup: Setup, chances: Chances, thicknessMm: number, options: CouponOptions): CouponPlan['mark'] {
  const setting = roundTo(chances.lowestSetting + 0.02, 2);
  const depthMm = Math.min(MARK_DEPTH_MM, thicknessMm / 10);
  const depthAt = (speedMmPerS: number) => {
    const cut = chances.cut(setting, speedMmPerS, 1);
    return marchedDepthMm(
      cut.beam,
      cut.stock,
      cut.passes.map((pass) => ({ ...pass, focusMm: 0 })),
    );
  };
  const { speedMmPerS: machineSpeed, accelerationMmPerS2 } = setup.machine.motion;
  const fastest = Math.min(machineSpeed, options.fastestMmPerS, Math.sqrt(accelerationMmPerS2 * MARK_STROKE_MM));
  let speedMmPerS = fastest;
  while (speedMmPerS > 5 && depthAt(speedMmPerS) < depthMm) speedMmPerS *= 0.8;
  return { setting, speedMmPerS: typed(speedMmPerS) };
}
