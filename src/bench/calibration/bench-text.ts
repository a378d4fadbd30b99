import { type Document, isMap, isSeq, parseDocument } from 'yaml';
import type { BenchCoupon, FocusRamp } from '../../job/model.ts';
import { writtenMm, writtenSpeed, writtenWatts } from '../../units/written.ts';
import { yamlText } from '../commented-yaml.ts';
import type { Calibrated } from './calibrate-bench.ts';

/**
 * A machine's bench file with what was measured added to it: everything else, comments too, stays as it is.
 * @param text the file in force, which has been read without a problem; null where there is none yet.
 */
export function benchText(text: string | null, { machine, ramp, coupons }: Calibrated): string {
  const document = parseDocument(text ?? emptyBench(machine.id));
  if (ramp !== null) add(document, 'ramps', rampRow(ramp));
  for (const coupon of coupons) add(document, 'coupons', couponRow(coupon));
  return document.toString({ lineWidth: 0 });
}

function emptyBench(machine: string): string {
  return yamlText([
    `What was measured on ${machine} and its lenses: kerflint calibrate adds to it. It counts from the shop's folder alone.`,
    ['kerflint', 1],
    ['machine', machine],
  ]);
}

function rampRow(ramp: FocusRamp): Record<string, string> {
  return {
    lens: ramp.lens,
    offset: writtenMm(ramp.offsetMm),
    spread: writtenMm(ramp.spreadMm),
    ...(ramp.date === null ? {} : { date: ramp.date }),
  };
}

function couponRow(coupon: BenchCoupon): Record<string, string | number | boolean> {
  return {
    material: coupon.material,
    lens: coupon.lens,
    thickness: writtenMm(coupon.thicknessMm),
    power: writtenWatts(coupon.powerW),
    speed: writtenSpeed(coupon.speedMmPerS),
    ...(coupon.passes === 1 ? {} : { passes: coupon.passes }),
    ...(coupon.focusMm === 0 ? {} : { focus: writtenMm(coupon.focusMm) }),
    ...(coupon.focusStepMm === 0 ? {} : { 'focus-step': writtenMm(coupon.focusStepMm) }),
    ...(coupon.through === null ? { depth: writtenMm(coupon.depthMm ?? 0) } : { through: coupon.through }),
    ...(coupon.date === null ? {} : { date: coupon.date }),
  };
}

function add(document: Document, key: 'ramps' | 'coupons', values: object): void {
  const row = document.createNode(values);
  if (isMap(row)) row.flow = true;
  const list = document.get(key);
  if (!isSeq(list)) {
    document.set(key, document.createNode([row]));
    return;
  }
  // An empty list is written in brackets; rows read better one below the other.
  list.flow = false;
  list.add(row);
}
