import { Z95 } from '../doubt/normal.ts';
import { sampleDepths } from '../doubt/predict.ts';
import { quantile, shareAboveZero } from '../doubt/quantile.ts';
import type { FaultKind, Observation, Range } from './observation.ts';
import type { Way } from './ways.ts';
import { changesThickness, declaredMm, READING_SIGMA, REPRODUCED, type WeighedWay } from './weigh-way.ts';

/**
 * How a fault fits: at a size inside its range the stated values give what was seen; what was seen lies in the prediction's 5 to 95 %
 * there; or not even that, so that something else must be wrong besides.
 */
export type Fit = 'reproduces' | 'within-doubt' | 'not-alone';

/** One way in which a fault may show, at the size in its range that comes nearest to what was seen. */
export interface Explanation {
  fault: FaultKind;
  /** Range of the size; null for a way that has none. */
  range: Range | null;
  /** The size, between the range's ends; null for a way that has none. */
  value: number | null;
  /** See the same of {@link Way}. */
  choice: string | null;
  refocused: boolean | null;
  fit: Fit;
  /** What the cut would reach then: median, 5th and 95th percentile, mm. */
  depthMm: number;
  depthLowMm: number;
  depthHighMm: number;
  /** P(through) then, 0…1. */
  throughProbability: number;
  /** Waist, removal energy and thickness that this supposes. */
  spotMm: number;
  removalJPerMm3: number;
  thicknessMm: number;
}

/** Below it a cause counts as unable to keep the sheet from parting: the lower end of the prediction's 5 to 95 %. */
const LEAST_SHORT = 0.05;

/** What a way of a fault explains at the size that comes nearest. */
export function explanationOf(fault: FaultKind, { way, value, miss }: WeighedWay, seen: Observation): Explanation {
  const cut = way.cutAt(value);
  const { depths, margins } = sampleDepths(cut);
  const band = { low: quantile(depths, 0.05), median: quantile(depths, 0.5), high: quantile(depths, 0.95) };
  const throughProbability = shareAboveZero(margins);
  const { range, choice, refocused } = way;
  return {
    fault,
    range,
    value: range === null ? null : value,
    choice,
    refocused,
    fit: fitOf(way, seen, miss, band, throughProbability),
    depthMm: band.median,
    depthLowMm: band.low,
    depthHighMm: band.high,
    throughProbability,
    spotMm: cut.beam.spotMm,
    removalJPerMm3: cut.stock.removalJPerMm3,
    thicknessMm: cut.thicknessMm,
  };
}

interface Band {
  low: number;
  median: number;
  high: number;
}

function fitOf(way: Way, seen: Observation, miss: number, band: Band, throughProbability: number): Fit {
  const { depthMm } = seen;
  if (miss <= REPRODUCED) return 'reproduces';
  if (depthMm !== null && changesThickness(way) && Math.log(declaredMm(way) / depthMm) > Z95 * READING_SIGMA) {
    return 'not-alone';
  }
  if (depthMm === null || changesThickness(way)) {
    return 1 - throughProbability >= LEAST_SHORT ? 'within-doubt' : 'not-alone';
  }
  return isWithin(band, depthMm) ? 'within-doubt' : 'not-alone';
}

/** Whether a depth as read lies in a prediction's 5 to 95 %, the reading's own doubt added on either side. */
function isWithin({ low, median, high }: Band, depthMm: number): boolean {
  if (!(median > 0)) return false;
  const off = Math.log(depthMm / median);
  const end = off < 0 ? median / low : high / median;
  return Math.abs(off) <= Math.hypot(Math.log(end), Z95 * READING_SIGMA);
}
