import type { Source } from '../../source/source.ts';
import type { Loaded } from '../files/problem.ts';
import type { PlaceOf, PowerSetting, Thickness } from '../model.ts';
import { load, type Report } from '../yaml/check.ts';
import { type CouponResultsText, couponResultsSchema } from './coupon-results-schema.ts';

const LIMIT_BYTES = 1024 * 1024;

/** One tongue as it was cut and seen. */
export interface TongueResult {
  /** Its number; the row's own where none is stated. */
  tongue: number;
  /** Its row in the file, counted from 0: for places. */
  row: number;
  power: PowerSetting;
  speedMmPerS: number;
  passes: number;
  focusMm: number;
  focusStepMm: number;
  thicknessMm: number;
  /** Null when a depth was measured instead. */
  through: boolean | null;
  depthMm: number | null;
}

/** A focus ramp as read: where along it the line was at its narrowest, mm from the notched end. */
export interface RampReading {
  nearMm: number;
  farMm: number;
  lengthMm: number;
  fromMm: number;
  toMm: number;
}

export interface CouponResults {
  file: string;
  machine: string;
  lens: string | null;
  material: string;
  thickness: Thickness;
  /** Where on the bed; null: not stated. */
  at: { xMm: number; yMm: number } | null;
  date: string | null;
  tongues: TongueResult[];
  /** Numbers of tongues that were left empty and do not count. */
  empty: number[];
  ramp: RampReading | null;
  placeOf: PlaceOf;
}

/** Reads a filled-in results sheet. Problems carry their place; the value is null when there are any, and when nothing is filled in. */
export function readCouponResults(source: Source): Loaded<CouponResults> {
  return load(source, couponResultsSchema, LIMIT_BYTES, (said, placeOf, report) => {
    const rows = said.coupons ?? [];
    checkTongues(said, report);
    const ramp = rampReading(said, report);
    const tongues = rows.flatMap((one, row) => (isEmpty(one) ? [] : [tongueResult(one, row, said.thickness.mm)]));
    if (tongues.length === 0 && ramp === null) {
      const at = rows.length > 0 ? ['coupons', 0] : said.ramp ? ['ramp'] : [];
      report(at, 'nothing is filled in: write yes or no behind through (or a depth), or where the ramp is sharpest');
    }
    return {
      file: source.name,
      machine: said.machine,
      lens: said.lens ?? null,
      material: said.material,
      thickness: said.thickness,
      at: said.at ? { xMm: said.at.x, yMm: said.at.y } : null,
      date: said.date ?? null,
      tongues,
      empty: rows.flatMap((one, row) => (isEmpty(one) ? [one.tongue ?? row + 1] : [])),
      ramp,
      placeOf,
    };
  });
}

type TongueText = NonNullable<CouponResultsText['coupons']>[number];

function isEmpty(said: TongueText): boolean {
  return (said.through ?? null) === null && said.depth === undefined;
}

function checkTongues(said: CouponResultsText, report: Report): void {
  const seen = new Set<number>();
  for (const [row, one] of (said.coupons ?? []).entries()) {
    const number = one.tongue ?? row + 1;
    if (one.tongue !== undefined && seen.has(number)) {
      report(['coupons', row, 'tongue'], `coupon ${row + 1}: a tongue ${number} stands above`);
    }
    seen.add(number);
    if (one.depth === undefined) continue;
    const thicknessMm = one.thickness ?? said.thickness.mm;
    if (one.through === true || one.through === 'yes') {
      report(['coupons', row, 'depth'], `coupon ${row + 1}: it parted and has a depth: leave one of the two out`);
    } else if (one.depth > thicknessMm) {
      report(['coupons', row, 'depth'], `coupon ${row + 1}: the depth is more than the thickness`);
    }
  }
}

function tongueResult(said: TongueText, row: number, thicknessMm: number): TongueResult {
  return {
    tongue: said.tongue ?? row + 1,
    row,
    power: said.power,
    speedMmPerS: said.speed,
    passes: said.passes ?? 1,
    focusMm: said.focus ?? 0,
    focusStepMm: said['focus-step'] ?? 0,
    thicknessMm: said.thickness ?? thicknessMm,
    through: said.depth !== undefined ? null : said.through === true || said.through === 'yes',
    depthMm: said.depth ?? null,
  };
}

function rampReading(said: CouponResultsText, report: Report): RampReading | null {
  const ramp = said.ramp;
  const fromMm = ramp?.sharpest?.from ?? null;
  const toMm = ramp?.sharpest?.to ?? null;
  if (!ramp || (fromMm === null && toMm === null)) return null;
  if (fromMm === null || toMm === null) {
    report(['ramp', 'sharpest'], 'ramp: fill in both from and to');
    return null;
  }
  if (fromMm > toMm) report(['ramp', 'sharpest', 'from'], 'ramp: from is more than to');
  if (toMm > ramp.length) report(['ramp', 'sharpest', 'to'], 'ramp: to lies beyond the end of the ramp');
  if (ramp.near === ramp.far) report(['ramp', 'far'], 'ramp: near and far are the same: that is no ramp');
  return { nearMm: ramp.near, farMm: ramp.far, lengthMm: ramp.length, fromMm, toMm };
}
