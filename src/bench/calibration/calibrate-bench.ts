import { cutOf, done, fullPower, materialProblem, type Outcome, refused, setUp } from '../../facts/bench/set-up.ts';
import { couponKey, couponsOf, names, rampOf } from '../../facts/coupons/coupons-here.ts';
import { type CouponFit, type Grounds, groundsOf } from '../../facts/coupons/grounds.ts';
import { limitOf } from '../../facts/cuts/limits.ts';
import { beamOf, widestAcross } from '../../facts/cuts/optics.ts';
import { removalBefore } from '../../facts/cuts/removal.ts';
import type { CouponResults } from '../../job/material/coupon-results.ts';
import type { Bench, BenchCoupon, Coupon, FocusRamp, Lens, Machine, Material } from '../../job/model.ts';
import { type NextCoupon, nextCoupon } from '../../physics/calibration/next-coupon.ts';
import { speedForProbability } from '../../physics/search/reach-curve.ts';
import { type FocusOffset, focusOffset } from './focus-offset.ts';
import { type TongueCoupon, tongueCoupons } from './tongue-coupons.ts';

export interface CalibrateRequest {
  results: CouponResults;
  /** With its bench as it is kept so far. */
  machine: Machine;
  lens: Lens;
  /** The material as it is in force. */
  material: Material;
  /** Looks up the materials of coupons that the bench keeps. */
  materialOf: (name: string) => Material | null;
}

/** Speed at which a sheet just parts, with its 5 to 95 % band, mm/s. */
export interface PartingSpeed {
  setting: number;
  thicknessMm: number;
  medianMmPerS: number;
  lowMmPerS: number;
  highMmPerS: number;
}

/** What the coupons of one material and lens say, old and new together. */
export interface MaterialFit {
  fit: CouponFit;
  /** Names of the coupons for people, parallel to the fit's. */
  names: string[];
  /** The sheet of the last coupon at full power; null where that cannot be said. */
  parting: PartingSpeed | null;
  next: (NextCoupon & { setting: number; powerW: number }) | null;
  /** The probability that recipes on this material are now held to. */
  limit: number;
}

/** A material whose coupons a new ramp makes be weighed anew. */
export interface Refit {
  material: string;
  coupons: number;
  before: PartingSpeed | null;
  after: PartingSpeed | null;
}

/** What the results tell of the machine and the material. */
export interface Calibrated {
  machine: Machine;
  lens: Lens;
  material: Material;
  /** Null where no tongue was read. */
  fit: MaterialFit | null;
  focus: FocusOffset | null;
  /** Materials with coupons of this lens that the new ramp changes what is said of. */
  refits: Refit[];
  /** What is to be added to the bench's file. */
  ramp: FocusRamp | null;
  coupons: BenchCoupon[];
  /** How many of these were found in the material's own file. */
  moved: number;
  /** Tongues that were kept already, date and outcome alike; they count once. */
  keptAlready: number;
  /** Coupons of this material and lens beyond what is weighed at once; the oldest are left aside. */
  tooOld: number;
}

/** Adds what was cut to a machine's bench, and fits the material to all that is kept there. */
export function calibrateFrom(request: CalibrateRequest): Outcome<Calibrated> {
  const { results, machine, lens, material } = request;
  const unfit = materialProblem(machine, material);
  if (unfit !== null) return refused(unfit);
  const read = tongueCoupons(results, machine, lens, material);
  if (read.value === null) return read;
  const focus = results.ramp === null ? null : focusOffset(results.ramp);
  const ramp = focus && { lens: lens.id, ...focus, date: results.date };
  const kept = new Set(couponsOf(machine, material).map(couponKey));
  const added = read.value.filter(({ coupon }) => !kept.has(couponKey(coupon)));
  // A value that was fitted to the rows of its own file has them in it: they stay with it.
  const moved = removalBefore(material, machine, true)?.restsOnCoupons ? [] : ofTheFile(machine, material);
  const coupons = [...moved, ...added.map(({ coupon }) => coupon)];
  const after = { ...machine, bench: grown(machine, ramp, coupons) };
  const grounds = groundsOf(after, lens, material);
  if (read.value.length > 0 && !grounds?.fit) return refused('no coupon can be used');
  return done({
    machine: after,
    lens,
    material,
    fit: read.value.length > 0 && grounds ? materialFit(request, after, grounds, read.value) : null,
    focus,
    refits: ramp === null ? [] : refits(request, after),
    ramp,
    coupons,
    moved: moved.length,
    keptAlready: read.value.length - added.length,
    tooOld: grounds?.fit ? grounds.coupons.length - grounds.fit.coupons.length : 0,
  });
}

/** Coupons of this machine that the material's own file lists and the bench does not: they belong to the bench. */
function ofTheFile({ id, bench }: Machine, material: Material): BenchCoupon[] {
  const there = new Set(bench?.coupons.map(couponKey));
  return material.coupons.flatMap((coupon) => {
    const { machine, lens } = coupon;
    if (machine !== id || lens === null || there.has(couponKey(coupon))) return [];
    return [{ ...coupon, machine, lens, material: material.id }];
  });
}

function grown({ id, bench, placeOf }: Machine, ramp: FocusRamp | null, coupons: readonly BenchCoupon[]): Bench {
  return {
    id,
    file: bench?.file ?? '',
    ramps: [...(bench?.ramps ?? []), ...(ramp === null ? [] : [ramp])],
    coupons: [...(bench?.coupons ?? []), ...coupons],
    placeOf: bench?.placeOf ?? placeOf,
  };
}

function materialFit(
  request: CalibrateRequest,
  machine: Machine,
  grounds: Grounds,
  tongues: readonly TongueCoupon[],
): MaterialFit {
  const fit = grounds.fit!;
  const byKey = new Map(tongues.map(({ tongue, coupon }) => [couponKey(coupon), `tongue ${tongue}`]));
  let earlier = 0;
  return {
    fit,
    names: fit.coupons.map((coupon) => byKey.get(couponKey(coupon)) ?? keptName(++earlier, coupon)),
    parting: partingSpeed(machine, request.lens, request.material, fit.coupons.at(-1)!),
    next: nextOf(request, machine, fit),
    limit: limitOf(grounds),
  };
}

function keptName(number: number, { date }: Coupon): string {
  return date === null ? `kept ${number}` : `kept ${number} (${date})`;
}

/** Other coupons of the lens, material by material, as a new ramp changes what they say. */
function refits({ machine, lens, materialOf }: CalibrateRequest, after: Machine): Refit[] {
  const found: Refit[] = [];
  let left = machine.bench?.coupons.filter((coupon) => coupon.lens === lens.id) ?? [];
  while (left.length > 0) {
    const material = materialOf(left[0]!.material);
    const isOfIt = material === null ? (one: BenchCoupon) => one.material === left[0]!.material : names(material);
    const own = left.filter(isOfIt);
    const of = (one: Machine) => material && partingSpeed(one, lens, material, own.at(-1)!);
    if (material !== null)
      found.push({ material: material.name, coupons: own.length, before: of(machine), after: of(after) });
    left = left.filter((coupon) => !isOfIt(coupon));
  }
  return found;
}

/** The sheet that a coupon was cut from, at the machine's highest recommended power and with the coupon's passes and focus. */
function partingSpeed(machine: Machine, lens: Lens, material: Material, coupon: Coupon): PartingSpeed | null {
  const { thicknessMm, passes, focusMm, focusStepMm } = coupon;
  const setup = setUp({ machine, lens, material, thickness: { mm: thicknessMm, plusMinusMm: null, nominal: false } });
  const power = fullPower(machine);
  if (setup.value === null || power.value === null) return null;
  const cut = cutOf(setup.value, { ...power.value, speedMmPerS: 1, passes, focusMm, focusStepMm });
  const [lowMmPerS, medianMmPerS, highMmPerS] = [0.95, 0.5, 0.05].map((chance) => speedForProbability(cut, chance));
  if (lowMmPerS == null || medianMmPerS == null || highMmPerS == null) return null;
  return { setting: power.value.setting, thicknessMm, medianMmPerS, lowMmPerS, highMmPerS };
}

/** Slowest and fastest speed that is proposed where nothing else bounds it, mm/s. */
const SLOWEST_MM_PER_S = 1;
const FASTEST_MM_PER_S = 100;

function nextOf(
  { lens, material, results }: CalibrateRequest,
  machine: Machine,
  { calibration, coupons }: CouponFit,
): MaterialFit['next'] {
  const { beam } = beamOf(machine, lens);
  const power = fullPower(machine, null, results.at);
  if (power.value === null || beam === null) return null;
  const last = coupons.at(-1)!;
  const slowestMmPerS = material.cleanSpeedMmPerS[machine.source.kind] ?? SLOWEST_MM_PER_S;
  const next = nextCoupon(calibration, {
    beam: widestAcross(beam),
    powerW: power.value.powerW,
    focusMm: last.focusMm + (rampOf(machine, lens)?.offsetMm ?? 0),
    passes: last.passes,
    thicknessesMm: [results.thickness.mm],
    slowestMmPerS,
    fastestMmPerS: Math.max(slowestMmPerS, Math.min(machine.motion.speedMmPerS, FASTEST_MM_PER_S)),
  });
  return next === null ? null : { ...next, setting: power.value.setting, powerW: power.value.powerW };
}
