import { cutOf, setUp } from '../../src/facts/bench/set-up.ts';
import { FOCUS_SPREAD_MM, groundsOf } from '../../src/facts/coupons/grounds.ts';
import { repeatabilityOf } from '../../src/facts/coupons/repeatability.ts';
import { beamOf } from '../../src/facts/cuts/optics.ts';
import type { BenchCoupon, Machine, Material } from '../../src/job/model.ts';
import type { Beam } from '../../src/physics/beam/focused-beam.ts';
import { RATED_SPREAD } from '../../src/physics/beam/power-at-work.ts';
import { SCATTER_FACTORS, SCATTER_WEIGHTS } from '../../src/physics/calibration/prior.ts';
import { shareAt } from '../../src/physics/doubt/samples.ts';
import { marchedDepthMm } from '../../src/physics/march/march.ts';
import type { Stock } from '../../src/physics/march/stock.ts';
import { speedForProbability } from '../../src/physics/search/reach-curve.ts';
import { SHED } from '../bench/on-bench.ts';
import type { Dice } from '../physics/synthetic-shop.ts';
import { at } from '../rules/build-job.ts';

/** A shop's machine as its profile states it: nobody measured the power, the spot or the focus. */
const PROFILE: Machine = {
  ...SHED,
  source: { ...SHED.source, measuredW: null, measuredOn: null, curve: null, hoursH: null, atCorners: null },
};
const LENS = PROFILE.lenses[0]!;
const POWER_W = 45;

/** 1σ of the spot from what the profile's figures give (common practice, no source: M² and the beam's diameter are rarely known to a tenth). */
const SPOT_SPREAD = 0.15;
/** 1σ of a sheet's thickness from what the calliper says: ± 0.1 mm, nine times in ten. */
const CALLIPER_MM = 0.1 / 1.645;

export const TONGUES = 8;

/** Speeds at which a sheet parts with chances of 95, 50 and 5 %. */
export interface Band {
  low: number;
  median: number;
  high: number;
}

/** How differently a shop does the same thing twice, over what the prediction takes: 1 as it does. */
export interface World {
  unruly: number;
}

interface Sheet {
  /** Energy over the shop's own: this sheet, this day. */
  factor: number;
  focusMm: number;
  /** Truly thicker than the calliper said. */
  thickerMm: number;
}

/**
 * A shop whose material, spot, power, focus and divergence share differ from what its files say as widely as the catalogue and the profile
 * hold possible. The test alone knows them; the prediction sees what parted.
 */
export class SimulatedShop {
  readonly #dice: Dice;
  readonly #material: Material;
  /** As the files say. */
  readonly #stock: Stock;
  readonly #beam: Beam;
  readonly #removalJPerMm3: number;
  readonly #divergenceShare: number;
  readonly #powerW: number;
  readonly #focusMm: number;
  readonly #scatter: number;
  readonly #world: World;
  #machine: Machine = PROFILE;
  #pieces = 0;

  constructor(material: Material, dice: Dice, world: World) {
    const { stock, removalSpread, divergence } = groundsOf(PROFILE, LENS, material)!;
    const beam = beamOf(PROFILE, LENS).beam!;
    this.#dice = dice;
    this.#material = material;
    this.#stock = stock;
    this.#world = world;
    this.#beam = { ...beam, spotMm: beam.spotMm * Math.exp(SPOT_SPREAD * dice.normal()) };
    // The spread that the fit found from shop to shop has the spot in it; a wider spot asks for as much more energy.
    const ofMaterial = Math.sqrt(removalSpread ** 2 - SPOT_SPREAD ** 2);
    this.#removalJPerMm3 = stock.removalJPerMm3 * Math.exp(ofMaterial * dice.normal());
    this.#divergenceShare = shareAt(stock.divergenceShare, divergence, dice.normal());
    this.#powerW = POWER_W * Math.exp(RATED_SPREAD * dice.normal());
    this.#focusMm = FOCUS_SPREAD_MM * dice.normal();
    this.#scatter = repeatabilityOf(material).tongues * dice.pick(SCATTER_FACTORS, SCATTER_WEIGHTS) * world.unruly;
  }

  /** What the product says of a thickness, with the shop's bench as it stands. */
  predicted(thicknessMm: number): Band {
    const at = (chance: number) => this.speedFor(thicknessMm, chance);
    return { low: at(0.95), median: at(0.5), high: at(0.05) };
  }

  /** The speed that the product gives a chance of parting. */
  speedFor(thicknessMm: number, chance: number): number {
    const thickness = { mm: thicknessMm, plusMinusMm: 0.1, nominal: false };
    const setup = setUp({ machine: this.#machine, lens: LENS, material: this.#material, thickness }).value!;
    const recipe = { powerW: POWER_W, spread: RATED_SPREAD, speedMmPerS: 10, passes: 1, focusMm: 0 };
    return speedForProbability(cutOf(setup, recipe), chance)!;
  }

  /** Cuts ladders of eight tongues about the boundary that is predicted, until one has met it, and enters all in the bench. */
  cutCoupon(thicknessMm: number): void {
    const slow = this.speedFor(thicknessMm, 0.964);
    const fast = this.speedFor(thicknessMm, 0.036);
    for (let shift = 1, tries = 0; tries < 8; tries++) {
      const sheet = this.#sheet();
      const date = `2026-01-${String(++this.#pieces).padStart(2, '0')}`;
      const coupons = Array.from({ length: TONGUES }, (_, i): BenchCoupon => {
        const speedMmPerS = shift * slow * (fast / slow) ** (i / (TONGUES - 1));
        const through = this.#parts(sheet, thicknessMm, speedMmPerS, this.#tongue());
        const where = { machine: PROFILE.id, lens: LENS.id, material: this.#material.id, date };
        const recipe = { powerW: POWER_W, speedMmPerS, passes: 1, focusMm: 0, focusStepMm: 0 };
        return { ...where, ...recipe, thicknessMm, through, depthMm: null };
      });
      this.#enter(coupons);
      const parted = coupons.filter(({ through }) => through).length;
      if (parted > 0 && parted < TONGUES) return;
      shift *= parted > 0 ? fast / slow : slow / fast;
    }
    throw new Error('no ladder met the boundary');
  }

  /** Another sheet on another day: the speed up to which it parts. */
  throughSpeed(thicknessMm: number): number {
    const sheet = this.#sheet();
    const tongue = this.#tongue();
    let low = 1e-3;
    let high = 1e5;
    for (let i = 0; i < 40; i++) {
      const middle = Math.sqrt(low * high);
      if (this.#parts(sheet, thicknessMm, middle, tongue)) low = middle;
      else high = middle;
    }
    return low;
  }

  #enter(coupons: readonly BenchCoupon[]): void {
    const kept = this.#machine.bench?.coupons ?? [];
    const file = `${PROFILE.id}.bench.yaml`;
    const bench = { id: PROFILE.id, file, ramps: [], coupons: [...kept, ...coupons], placeOf: () => at(file, 1) };
    this.#machine = { ...PROFILE, bench };
  }

  #sheet(): Sheet {
    const { pieces, focusMm } = repeatabilityOf(this.#material);
    const { unruly } = this.#world;
    return {
      factor: Math.exp(unruly * pieces * this.#dice.normal()),
      focusMm: this.#focusMm + unruly * focusMm * this.#dice.normal(),
      thickerMm: CALLIPER_MM * this.#dice.normal(),
    };
  }

  #tongue(): number {
    return Math.exp(this.#scatter * this.#dice.normal());
  }

  #parts(sheet: Sheet, thicknessMm: number, speedMmPerS: number, tongue: number): boolean {
    const stock = {
      ...this.#stock,
      removalJPerMm3: this.#removalJPerMm3 * sheet.factor * tongue,
      divergenceShare: this.#divergenceShare,
    };
    const pass = { powerW: this.#powerW, speedMmPerS, focusMm: sheet.focusMm };
    return marchedDepthMm(this.#beam, stock, [pass]) >= thicknessMm + sheet.thickerMm;
  }
}
