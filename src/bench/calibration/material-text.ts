import { type Document, isMap, parseDocument } from 'yaml';
import type { Coupon } from '../../job/model.ts';
import { formatCount, trimmed } from '../../units/format.ts';
import { writtenMm, writtenPercent, writtenSpeed, writtenWatts } from '../../units/written.ts';
import type { Calibrated } from './calibrate-material.ts';

/**
 * The material's file with what was measured written into it: everything else, comments too, stays as it is.
 * @param text the file in force, which has been read without a problem.
 * @param from in words, what the coupons were cut on and when.
 */
export function calibratedMaterial(text: string, calibrated: Calibrated, from: string): string {
  const document = parseDocument(withoutEditorLine(text));
  const { fit, focus, coupons } = calibrated;
  if (fit !== null) {
    const { calibration, prior } = fit;
    document.set('removal-energy', {
      value: `${trimmed(calibration.removalJPerMm3, 3)} J/mm3`,
      spread: writtenPercent(calibration.spread),
      coupons: calibration.coupons,
      source: `measured here: ${from}; before: ${trimmed(prior.jPerMm3, 2)} J/mm3 ± ${writtenPercent(prior.spread)}`,
    });
    if (calibration.shareFitted) {
      document.set('divergence-share', {
        value: Number(trimmed(calibration.divergenceShare, 3)),
        low: Number(trimmed(calibration.divergence.low, 3)),
        high: Number(trimmed(calibration.divergence.high, 3)),
        source: `measured here: ${from}`,
      });
    }
  }
  if (focus !== null) {
    document.set('focus', {
      offset: writtenMm(focus.offsetMm),
      spread: writtenMm(focus.spreadMm),
      source: `measured here: a focus ramp, ${from}`,
    });
  }
  for (const coupon of coupons) addCoupon(document, coupon);
  return document.toString({ lineWidth: 0 });
}

/** The path to the schema would be another one in the shop's folder. */
function withoutEditorLine(text: string): string {
  return text.replace(/^\uFEFF?(?:# yaml-language-server:[^\r\n]*\r?\n)?/, '');
}

function addCoupon(document: Document, coupon: Coupon): void {
  const row = document.createNode({
    ...(coupon.machine === null ? {} : { machine: coupon.machine }),
    ...(coupon.lens === null ? {} : { lens: coupon.lens }),
    thickness: writtenMm(coupon.thicknessMm),
    power: writtenWatts(coupon.powerW),
    speed: writtenSpeed(coupon.speedMmPerS),
    ...(coupon.passes === 1 ? {} : { passes: coupon.passes }),
    ...(coupon.focusMm === 0 ? {} : { focus: writtenMm(coupon.focusMm) }),
    ...(coupon.focusStepMm === 0 ? {} : { 'focus-step': writtenMm(coupon.focusStepMm) }),
    ...(coupon.through === null ? { depth: writtenMm(coupon.depthMm ?? 0) } : { through: coupon.through }),
    ...(coupon.date === null ? {} : { date: coupon.date }),
  });
  if (isMap(row)) row.flow = true;
  if (document.has('coupons')) document.addIn(['coupons'], row);
  else document.set('coupons', document.createNode([row]));
}

/** What a calibrated value rests on, in one line. */
export function originText(
  calibrated: Calibrated,
  results: { thickness: { mm: number }; date: string | null },
  machine: { id: string },
  lens: { id: string },
): string {
  const count = calibrated.fit?.calibration.coupons ?? 0;
  const coupons = calibrated.fit === null ? '' : `${formatCount(count, 'coupon')}, `;
  const day = results.date === null ? '' : `, ${results.date}`;
  return `${coupons}the last on ${machine.id} with its ${lens.id} lens in ${writtenMm(results.thickness.mm)}${day}`;
}
