import { formatPercent, formatWatts } from '../../units/format.ts';

/** What is known of the power that a machine brings to the work. */
export interface PowerSource {
  kind: 'co2' | 'diode' | 'fibre';
  ratedW: number;
  /** At the work at full setting; null when never measured. */
  measuredW: number | null;
  /** Measured watts by setting (0…1); null when there is no curve. */
  curve: readonly { fraction: number; watts: number }[] | null;
  /** Power at the far corner over power at the near one; null when not known. */
  atCorners: number | null;
  /** Age of the source in hours of beam; null when not known. */
  hoursH: number | null;
}

export interface PowerAtWork {
  powerW: number;
  /** 1σ as a fraction. */
  spread: number;
  basis: 'curve' | 'measured' | 'rated';
  /** What had to be assumed, for a person; null when nothing. */
  assumption: string | null;
}

export type PowerResult = { power: PowerAtWork; problem: null } | { power: null; problem: string };

/** 1σ of a power meter's reading at the work, 5 % ("a few %", common practice, no source). */
const METER_SPREAD = 0.05;
/** 1σ more, at the far end from the reading, for a response that was not measured and is taken as straight (common practice, no source). */
export const STRAIGHT_LINE_SPREAD = 0.1;
/** 1σ of a rated power that nobody measured (common practice, no source). */
export const RATED_SPREAD = 0.15;
/** 1σ more at the end of the source's life. */
const AGED_SPREAD = 0.05;
/** Share of the power lost at the end of life, and that life, by source kind (memory: makers count a source as spent at 80 %). */
const AGEING = {
  co2: { loss: 0.2, lifeH: 2000 },
  diode: { loss: 0.2, lifeH: 10_000 },
  fibre: { loss: 0.1, lifeH: 50_000 },
} as const;

/** Why a curve of watts by setting cannot be used, in words for a person; null when it can. */
export function curveProblem(curve: readonly { fraction: number; watts: number }[]): string | null {
  if (curve.length === 0) return 'the power curve has no point';
  let before = { fraction: 0, watts: 0 };
  for (const [i, point] of curve.entries()) {
    if (!(point.fraction >= 0 && point.fraction <= 1))
      return `a setting lies between 0 and 100 %, not at ${formatPercent(point.fraction)}`;
    if (!(Number.isFinite(point.watts) && point.watts >= 0)) return `the power cannot be ${point.watts} W`;
    if (i > 0 && point.fraction <= before.fraction) return 'the settings of the power curve must rise';
    if (point.watts < before.watts) {
      return `the power falls from ${formatWatts(before.watts)} to ${formatWatts(point.watts)} as the setting rises to ${formatPercent(point.fraction)}: measure again`;
    }
    before = point;
  }
  return null;
}

/**
 * Watts at the work at a setting: by the measured curve, else in proportion from the measured power, else from the rated
 * power less the loss of age. Above the curve's last point in proportion to it; below its first towards 0 W at 0 %.
 * @param fraction 0…1 of full setting.
 */
export function powerAtWork(source: PowerSource, fraction: number): PowerResult {
  if (!(fraction >= 0 && fraction <= 1))
    return { power: null, problem: `a setting lies between 0 and 100 %, not at ${formatPercent(fraction)}` };
  if (source.curve !== null) {
    const problem = curveProblem(source.curve);
    if (problem !== null) return { power: null, problem };
    return { power: onCurve(source.curve, fraction), problem: null };
  }
  if (source.measuredW !== null) {
    if (!(Number.isFinite(source.measuredW) && source.measuredW > 0)) {
      return { power: null, problem: `the measured power must be above 0 W, not ${source.measuredW}` };
    }
    const power: PowerAtWork = {
      powerW: source.measuredW * fraction,
      spread: Math.hypot(METER_SPREAD, STRAIGHT_LINE_SPREAD * (1 - fraction)),
      basis: 'measured',
      assumption: fraction < 1 ? 'power taken as proportional to the setting' : null,
    };
    return { power, problem: null };
  }
  if (!(Number.isFinite(source.ratedW) && source.ratedW > 0)) {
    return { power: null, problem: `the rated power must be above 0 W, not ${source.ratedW}` };
  }
  return { power: rated(source, fraction), problem: null };
}

function onCurve(curve: readonly { fraction: number; watts: number }[], fraction: number): PowerAtWork {
  const last = curve[curve.length - 1]!;
  if (fraction > last.fraction) {
    return {
      powerW: (last.watts * fraction) / last.fraction,
      spread: Math.hypot(METER_SPREAD, STRAIGHT_LINE_SPREAD * (1 + fraction - last.fraction)),
      basis: 'curve',
      assumption: `power above the last measured setting (${formatPercent(last.fraction)}) taken as proportional to it`,
    };
  }
  let before = { fraction: 0, watts: 0 };
  for (const point of curve) {
    if (fraction <= point.fraction) {
      const share =
        point.fraction > before.fraction ? (fraction - before.fraction) / (point.fraction - before.fraction) : 1;
      return {
        powerW: before.watts + (point.watts - before.watts) * share,
        spread: METER_SPREAD,
        basis: 'curve',
        assumption: null,
      };
    }
    before = point;
  }
  return { powerW: last.watts, spread: METER_SPREAD, basis: 'curve', assumption: null };
}

function rated(source: PowerSource, fraction: number): PowerAtWork {
  const { loss, lifeH } = AGEING[source.kind];
  const age = source.hoursH === null || !(source.hoursH > 0) ? 0 : Math.min(1, source.hoursH / lifeH);
  return {
    powerW: source.ratedW * (1 - loss * age) * fraction,
    spread: Math.hypot(RATED_SPREAD + AGED_SPREAD * age, STRAIGHT_LINE_SPREAD * (1 - fraction)),
    basis: 'rated',
    assumption:
      age > 0
        ? `rated power less ${formatPercent(loss * age, 0)} for ${source.hoursH} h of use (taken as ${formatPercent(loss)} at ${lifeH} h)`
        : 'rated power, never measured at the work, as from a new source',
  };
}

/**
 * Share of the near corner's power that arrives at a place on the bed: it falls in a straight line with the distance
 * from the machine's origin, the near corner, to the far one. 1 where the loss at the corners is not known.
 */
export function cornerFactor(
  atCorners: number | null,
  at: { xMm: number; yMm: number },
  bed: { xMm: number; yMm: number },
): number {
  if (atCorners === null || !(atCorners > 0 && atCorners <= 1)) return 1;
  const diagonal = Math.hypot(bed.xMm, bed.yMm);
  if (!(diagonal > 0)) return 1;
  const share = Math.hypot(at.xMm, at.yMm) / diagonal;
  return 1 - (1 - atCorners) * Math.min(1, Math.max(0, Number.isFinite(share) ? share : 1));
}
