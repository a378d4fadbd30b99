import { done, fullPower, materialProblem, type Outcome, refused } from '../../facts/bench/set-up.ts';
import { limitOf } from '../../facts/cuts/limits.ts';
import { stockOf } from '../../facts/cuts/prediction.ts';
import { removalUnder } from '../../facts/cuts/removal.ts';
import type { CouponResults } from '../../job/material/coupon-results.ts';
import type { Coupon, Lens, Machine, Material } from '../../job/model.ts';
import { type Calibration, calibrate, MOST_COUPONS } from '../../physics/calibration/calibration.ts';
import { type NextCoupon, nextCoupon } from '../../physics/calibration/next-coupon.ts';
import { couponsOf, keptRows, type NamedRow, rowOf } from './coupon-rows.ts';
import { type FocusOffset, focusOffset } from './focus-offset.ts';

export interface CalibrateRequest {
  results: CouponResults;
  machine: Machine;
  lens: Lens;
  /** The material as it is in force. */
  material: Material;
  /** What the catalogue says of it: the prior. Null where only the shop knows the material. */
  catalogue: Material | null;
  /** Looks up the machines of coupons that were kept earlier. */
  machineOf: (id: string) => Machine | null;
}

/** What the results tell of the material. */
export interface Calibrated {
  material: Material;
  /** Null where only a ramp was read. */
  fit: {
    calibration: Calibration;
    /** Parallel to the calibration's rows. */
    rows: NamedRow[];
    /** What the fit began with. */
    prior: { jPerMm3: number; spread: number };
    next: (NextCoupon & { setting: number; powerW: number }) | null;
    /** Probability that recipes on this material are now held to. */
    limit: number;
  } | null;
  focus: FocusOffset | null;
  /** New coupons, to be kept with those that the file has. */
  coupons: Coupon[];
  /** Tongues that the file has already, date and outcome alike; they count once. */
  keptAlready: number;
  /** Kept coupons that could not be used, and why. */
  unused: string[];
  /** Coupons beyond what is weighed at once; the oldest are left aside. */
  tooOld: number;
}

/** Fits a material to what was cut. Kept coupons count again where the catalogue gives the prior; else they are in it already. */
export function calibrateFrom(request: CalibrateRequest): Outcome<Calibrated> {
  const { results, machine, lens, material, catalogue } = request;
  const unfit = materialProblem(machine, material);
  if (unfit !== null) return refused(unfit);
  const focus = results.ramp === null ? null : focusOffset(results.ramp);
  const converted = couponsOf(results, machine, lens);
  if (converted.value === null) return converted;
  const known = new Set(material.coupons.map(keyOf));
  const fresh = converted.value.map((coupon, i) => ({ coupon, tongue: results.tongues[i]!.tongue }));
  const added = fresh.filter(({ coupon }) => !known.has(keyOf(coupon)));
  const coupons = added.map(({ coupon }) => coupon);
  const keptAlready = fresh.length - added.length;
  if (fresh.length === 0) return done({ material, fit: null, focus, coupons, keptAlready, unused: [], tooOld: 0 });
  const offsetMm = focus?.offsetMm ?? material.focusCalibration?.offsetMm ?? 0;
  const prior = catalogue ?? material;
  const stock = stockOf(prior, machine.source.kind);
  const removal = removalUnder(prior, machine.source.kind);
  if (stock === null || removal === null || prior.removal === null)
    return refused(`${material.name} has no removal energy to begin with`);
  const kept = catalogue === null ? { rows: [], unknown: [] } : keptRows(material, request.machineOf, offsetMm);
  const every = [...kept.rows];
  for (const { coupon, tongue } of catalogue === null ? fresh : added) {
    const row = rowOf(coupon, machine, lens, offsetMm);
    if (row.value === null) return row;
    every.push({ name: `tongue ${tongue}`, coupon, row: row.value });
  }
  // The newest stand last: they tell most of the machine and the material as they are.
  const rows = every.slice(-MOST_COUPONS);
  if (rows.length === 0) return refused(kept.unknown[0] ?? 'no coupon can be used');
  const { calibration, problem } = calibrate(
    {
      stock,
      removalSpread: removal.spread,
      divergence: { low: prior.divergence.low, high: prior.divergence.high },
    },
    rows.map(({ row }) => row),
  );
  if (calibration === null) return refused(problem);
  const counted = { ...material, removal: { ...prior.removal, coupons: calibration.coupons } };
  return done({
    material,
    fit: {
      calibration,
      rows,
      prior: removal,
      next: nextOf(request, calibration, rows.at(-1)!),
      limit: limitOf(counted),
    },
    focus,
    coupons,
    keptAlready,
    unused: kept.unknown,
    tooOld: every.length - rows.length,
  });
}

/** What tells one coupon from another. */
function keyOf(coupon: Coupon): string {
  const { machine, lens, thicknessMm, powerW, speedMmPerS, passes, focusMm, focusStepMm, through, depthMm, date } =
    coupon;
  return JSON.stringify([
    machine,
    lens,
    thicknessMm,
    powerW,
    speedMmPerS,
    passes,
    focusMm,
    focusStepMm,
    through,
    depthMm,
    date,
  ]);
}

/** Slowest and fastest speed that is proposed where nothing else bounds it, mm/s. */
const SLOWEST_MM_PER_S = 1;
const FASTEST_MM_PER_S = 100;

function nextOf(request: CalibrateRequest, calibration: Calibration, last: NamedRow) {
  const { machine, material, results } = request;
  const power = fullPower(machine, null, results.at);
  if (power.value === null) return null;
  const slowestMmPerS = material.cleanSpeedMmPerS[machine.source.kind] ?? SLOWEST_MM_PER_S;
  const next = nextCoupon(calibration, {
    beam: last.row.beam,
    powerW: power.value.powerW,
    focusMm: last.row.passes[0]!.focusMm,
    passes: last.row.passes.length,
    thicknessesMm: [results.thickness.mm],
    slowestMmPerS,
    fastestMmPerS: Math.max(slowestMmPerS, Math.min(machine.motion.speedMmPerS, FASTEST_MM_PER_S)),
  });
  return next === null ? null : { ...next, setting: power.value.setting, powerW: power.value.powerW };
}
