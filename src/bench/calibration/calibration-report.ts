import { Z95 } from '../../physics/doubt/normal.ts';
import { columns } from '../../units/columns.ts';
import {
  formatChance,
  formatCount,
  formatMm,
  formatPercent,
  formatSpeed,
  formatWatts,
  trimmed,
} from '../../units/format.ts';
import { PLUS_MINUS_SIGMAS } from '../../units/plus-minus.ts';
import type { Calibrated, MaterialFit, PartingSpeed, Refit } from './calibrate-bench.ts';
import { contradictionText } from './contradictions.ts';

/** A miss beyond this share of the depth is marked. */
const NOTABLE = 0.15;

/** What a fit found, for the person who cut the coupons. */
export function calibrationReport(calibrated: Calibrated): string {
  const lines: string[] = [];
  const { fit, focus, refits, machine, lens, material, moved, keptAlready, tooOld } = calibrated;
  if (focus !== null) {
    const side = focus.offsetMm > 0 ? 'above' : 'below';
    const where =
      focus.offsetMm === 0 ? 'where it is set' : `${formatMm(Math.abs(focus.offsetMm))} ${side} where it is set`;
    lines.push(
      `Focus of the ${lens.id} lens on ${machine.id}: the waist stands ${where}, ± ${formatMm(focus.spreadMm * PLUS_MINUS_SIGMAS)}.`,
    );
    lines.push(...refits.map(refitText), '');
  }
  if (fit !== null) lines.push(...fitLines(calibrated, fit));
  if (moved > 0) {
    lines.push(
      `${formatCount(moved, 'coupon')} that the material's own file listed ${moved === 1 ? 'is' : 'are'} now in the bench file: take them out of ${material.file}.`,
    );
  }
  if (keptAlready > 0) {
    lines.push(
      `${formatCount(keptAlready, 'tongue is', 'tongues are')} kept already and ${keptAlready === 1 ? 'counts' : 'count'} once; give a second test piece its own date.`,
    );
  }
  if (tooOld > 0) lines.push(`The ${formatCount(tooOld, 'oldest coupon was', 'oldest coupons were')} left aside.`);
  while (lines.at(-1) === '') lines.pop();
  return `${lines.join('\n')}\n`;
}

/** "4 mm at 85 % parts up to 7.6 mm/s ± 12 %". */
function partingText({ thicknessMm, setting, medianMmPerS, lowMmPerS, highMmPerS }: PartingSpeed): string {
  const half = (highMmPerS - lowMmPerS) / 2 / medianMmPerS;
  return `${formatMm(thicknessMm)} at ${formatPercent(setting)} parts up to ${formatSpeed(medianMmPerS)} ± ${formatPercent(half, 0)}`;
}

function refitText({ material, coupons, before, after }: Refit): string {
  const what = `The ${formatCount(coupons, 'coupon')} of ${material} under this lens ${coupons === 1 ? 'was' : 'were'} weighed anew`;
  if (before === null || after === null) return `${what}.`;
  return `${what}: before, ${partingText(before)}; now, up to ${partingText(after).split('up to ')[1]}.`;
}

function fitLines({ material, lens, machine }: Calibrated, fit: MaterialFit): string[] {
  const { calibration } = fit.fit;
  const { removalJPerMm3, removalLow, removalHigh, prior, span } = calibration;
  const before = prior.stock.removalJPerMm3;
  const factor = Math.exp(prior.removalSpread * Z95);
  const lines = [
    `${material.name} under the ${lens.id} lens of ${machine.id}, ${formatCount(calibration.coupons, 'coupon')}:`,
    ...(fit.parting === null ? [] : [`  ${partingText(fit.parting)} (nine in ten cuts)`]),
    `  removal energy before  ${band(before, before / factor, before * factor)}`,
    `  removal energy now     ${band(removalJPerMm3, removalLow, removalHigh)}: together with the focus and the divergence share it is known better than alone`,
    calibration.shareFitted
      ? `  divergence share now   ${trimmed(calibration.divergenceShare, 2)} (${trimmed(calibration.divergence.low, 2)} to ${trimmed(calibration.divergence.high, 2)})`
      : '  divergence share kept: it takes coupons of two thicknesses to tell it from the removal energy',
    `  scatter from coupon to coupon ${formatPercent(calibration.scatter, 0)} of the energy (1σ)`,
    '',
    ...residualTable(fit),
    '',
  ];
  lines.push(...warnings(fit));
  if (fit.next !== null) {
    const { next } = fit;
    lines.push(
      `Most would be learned from one more tongue at ${formatPercent(next.setting)} and ${formatSpeed(next.speedMmPerS)} in ${formatMm(next.thicknessMm)} (${formatChance(next.throughProbability)} likely to part).`,
    );
  }
  lines.push(
    `Measured in ${range(span.thicknessMm, 1)} mm at ${range(span.powerW, 0)} W: farther from there a prediction is less sure. ${
      calibration.bracketed
        ? `Recipes on it are held to ${formatPercent(fit.limit)}.`
        : `The boundary was not met from both sides, so recipes on it are held to ${formatPercent(fit.limit)}, as without coupons.`
    }`,
  );
  return lines;
}

function band(middle: number, low: number, high: number): string {
  return `${trimmed(middle, 2)} J/mm³ (${trimmed(low, 2)} to ${trimmed(high, 2)})`;
}

function range(span: { min: number; max: number }, decimals: number): string {
  const low = trimmed(span.min, decimals);
  const high = trimmed(span.max, decimals);
  return low === high ? low : `${low} to ${high}`;
}

function residualTable({ fit: { calibration, coupons }, names }: MaterialFit): string[] {
  const body = calibration.residuals.map((residual) => {
    const coupon = coupons[residual.index]!;
    const seen =
      coupon.depthMm !== null ? `${formatMm(coupon.depthMm)} deep` : coupon.through ? 'through' : 'not through';
    const miss = Math.exp(residual.logMiss) - 1;
    const fits =
      coupon.depthMm === null && residual.logMiss === 0
        ? 'agrees'
        : `${miss >= 0 ? '+' : '−'}${formatPercent(Math.abs(miss), 0)}`;
    return [
      `  ${names[residual.index]}`,
      formatWatts(coupon.powerW),
      formatSpeed(coupon.speedMmPerS),
      formatMm(coupon.thicknessMm),
      seen,
      formatMm(residual.predictedMm, 1),
      `${fits}${Math.abs(miss) > NOTABLE && fits !== 'agrees' ? '  <' : ''}`,
    ];
  });
  return columns([['  coupon', 'power', 'speed', 'sheet', 'seen', 'fit says', 'off by'], ...body]);
}

function warnings({ fit: { calibration }, names }: MaterialFit): string[] {
  const lines: string[] = [];
  const name = (index: number) => names[index]!;
  const contradiction = contradictionText(calibration.contradictions, name);
  if (contradiction !== null) lines.push(contradiction);
  for (const { index, problem } of calibration.problems) lines.push(`Not used: ${name(index)}: ${problem}`);
  if (calibration.oneSided === 'all-parted') {
    lines.push('Every coupon parted: the boundary was not met, and the energy may be lower still. Cut faster ones.');
  } else if (calibration.oneSided === 'none-parted') {
    lines.push('No coupon parted: the boundary was not met, and the energy may be higher still. Cut slower ones.');
  } else if (!calibration.bracketed) {
    lines.push(
      'No coupon parted: depths tell of the energy, but nobody has seen where the sheet parts. Cut slower ones.',
    );
  }
  if (lines.length > 0) lines.push('');
  return lines;
}
