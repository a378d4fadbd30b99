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
import type { Calibrated } from './calibrate-material.ts';

/** A miss beyond this share of the depth is marked. */
const NOTABLE = 0.15;
/** Pairs that are named one by one. */
const MOST_LISTED = 10;
/** Other coupons that one of these names. */
const MOST_NAMED = 5;

/** What a fit found, for the person who cut the coupons. */
export function calibrationReport(calibrated: Calibrated): string {
  const lines: string[] = [];
  const { fit, focus, material, unused, keptAlready, tooOld } = calibrated;
  if (focus !== null) {
    const side = focus.offsetMm > 0 ? 'above' : 'below';
    const where =
      focus.offsetMm === 0 ? 'where it is set' : `${formatMm(Math.abs(focus.offsetMm))} ${side} where it is set`;
    lines.push(`Focus: the waist stands ${where} (± ${formatMm(focus.spreadMm)}, one standard deviation).`, '');
  }
  if (fit !== null) lines.push(...fitLines(material.name, fit));
  if (keptAlready > 0) {
    lines.push(
      `${formatCount(keptAlready, 'tongue is', 'tongues are')} in the material's file already and ${keptAlready === 1 ? 'counts' : 'count'} once; give a second test piece its own date.`,
    );
  }
  if (tooOld > 0) lines.push(`The ${formatCount(tooOld, 'oldest coupon was', 'oldest coupons were')} left aside.`);
  for (const text of unused) lines.push(`Not used, machine or lens unknown: ${text}`);
  while (lines.at(-1) === '') lines.pop();
  return `${lines.join('\n')}\n`;
}

function fitLines(name: string, fit: NonNullable<Calibrated['fit']>): string[] {
  const { calibration, prior } = fit;
  const lines = [
    `${name}, ${formatCount(calibration.coupons, 'coupon')}:`,
    `  removal energy before  ${trimmed(prior.jPerMm3, 2)} J/mm³ ± ${formatPercent(prior.spread, 0)}`,
    `  removal energy now     ${trimmed(calibration.removalJPerMm3, 2)} J/mm³ ± ${formatPercent(calibration.spread, 0)} (5 to 95 %: ${trimmed(calibration.removalLow, 2)} to ${trimmed(calibration.removalHigh, 2)})`,
    calibration.shareFitted
      ? `  divergence share now   ${trimmed(calibration.divergenceShare, 2)} (${trimmed(calibration.divergence.low, 2)} to ${trimmed(calibration.divergence.high, 2)})`
      : '  divergence share kept: it takes coupons of two thicknesses to tell it from the removal energy',
    `  scatter from coupon to coupon ${formatPercent(calibration.scatter, 0)} of the depth`,
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
  const { thicknessMm, powerW } = calibration.span;
  lines.push(
    `Measured in ${range(thicknessMm, 1)} mm at ${range(powerW, 0)} W: farther from there a prediction is less sure. Recipes on it are held to ${formatPercent(fit.limit)}.`,
  );
  return lines;
}

function range(span: { min: number; max: number }, decimals: number): string {
  const low = trimmed(span.min, decimals);
  const high = trimmed(span.max, decimals);
  return low === high ? low : `${low} to ${high}`;
}

function residualTable({ calibration, rows }: NonNullable<Calibrated['fit']>): string[] {
  const body = calibration.residuals.map((residual) => {
    const { name, coupon } = rows[residual.index]!;
    const seen =
      coupon.depthMm !== null ? `${formatMm(coupon.depthMm)} deep` : coupon.through ? 'through' : 'not through';
    const miss = Math.exp(residual.logMiss) - 1;
    const fits =
      coupon.depthMm === null && residual.logMiss === 0
        ? 'agrees'
        : `${miss >= 0 ? '+' : '−'}${formatPercent(Math.abs(miss), 0)}`;
    return [
      `  ${name}`,
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

function warnings({ calibration, rows }: NonNullable<Calibrated['fit']>): string[] {
  const lines: string[] = [];
  const name = (index: number) => rows[index]!.name;
  const odd = oddOnesOut(calibration.contradictions);
  for (const one of odd.slice(0, MOST_LISTED)) lines.push(contradictionText(one, name));
  if (odd.length > MOST_LISTED) lines.push(`… and ${odd.length - MOST_LISTED} more coupons that contradict others.`);
  for (const { index, problem } of calibration.problems) lines.push(`Not used: ${name(index)}: ${problem}`);
  if (calibration.oneSided === 'all-parted') {
    lines.push('Every coupon parted: the boundary was not met, and the energy may be lower still. Cut faster ones.');
  } else if (calibration.oneSided === 'none-parted') {
    lines.push('No coupon parted: the boundary was not met, and the energy may be higher still. Cut slower ones.');
  } else if (calibration.coupons < 4) {
    lines.push(`${formatCount(calibration.coupons, 'coupon')} tell little: the spread stays wide.`);
  }
  if (lines.length > 0) lines.push('');
  return lines;
}

/** A coupon that contradicts others. */
interface OddOneOut {
  row: number;
  parted: boolean;
  against: number[];
}

/** Contradicting pairs by the coupon that most of them share: one that was misread contradicts many, and is told once. */
function oddOnesOut(pairs: readonly { parted: number; stayed: number }[]): OddOneOut[] {
  const counts = new Map<number, number>();
  for (const row of pairs.flatMap(({ parted, stayed }) => [parted, stayed]))
    counts.set(row, (counts.get(row) ?? 0) + 1);
  const found = new Map<number, OddOneOut>();
  for (const { parted, stayed } of pairs) {
    const isParted = counts.get(parted)! >= counts.get(stayed)!;
    const [row, other] = isParted ? [parted, stayed] : [stayed, parted];
    const known = found.get(row);
    if (known) known.against.push(other);
    else found.set(row, { row, parted: isParted, against: [other] });
  }
  return [...found.values()].sort((a, b) => b.against.length - a.against.length);
}

function contradictionText({ row, parted, against }: OddOneOut, name: (index: number) => string): string {
  const others = against.slice(0, MOST_NAMED).map(name).join(', ');
  const more = against.length > MOST_NAMED ? ` and ${against.length - MOST_NAMED} more` : '';
  const seen = parted
    ? `parted with less energy than ${others}${more}, which did not`
    : `did not part with more energy than ${others}${more}, which did`;
  const misread = against.length === 1 ? 'One of the two is misread' : `${name(row)} is probably misread`;
  return `Contradiction: ${name(row)} ${seen}. ${misread}, or the sheet varies: look again.`;
}
