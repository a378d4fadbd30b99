import { STRAIGHT_LINE_SPREAD } from '../src/physics/beam/power-at-work.ts';
import { BLUNDERS } from '../src/physics/calibration/prior.ts';
import { normalCdf } from '../src/physics/doubt/normal.ts';
import { shareAt } from '../src/physics/doubt/samples.ts';
import { marchDepth } from '../src/physics/march/march.ts';
import type { CutPass } from '../src/physics/march/passes.ts';
import { LIMIT_SD, MARGIN_SD, ROW_SD } from './assumptions.ts';
import type { Row } from './rows.ts';

/**
 * What one row, or the two sides of one boundary, tells. `place` is where the boundary lies in terms of the unknowns: ln of the
 * power delivered over the power needed, which is 0 where the sheet just parts.
 */
export interface Observation {
  rows: readonly Row[];
  /** ln of the likelihood where the boundary lies at a place. */
  logLikelihood(place: number): number;
  /** The place that fits best, and ln of the likelihood there. */
  best: { place: number; logLikelihood: number };
}

/** 1σ of one row, whatever is shared with others left out; `scale` multiplies what is taken of rows, for a trial. */
export function scatterOf(row: Row, scale = 1): number {
  const own = scale * ROW_SD[row.cut.quality] * (row.cut.worn ? 2 : 1);
  const ofSetting = row.setting === null ? 0 : STRAIGHT_LINE_SPREAD * (1 - row.setting);
  return Math.hypot(own, ofSetting, row.otherSd);
}

const LOG_ROOT_2PI = Math.log(Math.sqrt(2 * Math.PI));

function normal(rows: readonly Row[], mean: number, sd: number): Observation {
  return {
    rows,
    logLikelihood: (place) => -0.5 * ((place - mean) / sd) ** 2 - Math.log(sd) - LOG_ROOT_2PI,
    best: { place: mean, logLikelihood: -Math.log(sd) - LOG_ROOT_2PI },
  };
}

/** A daily setting lies above the boundary by its margin. */
export function daily(row: Row, logMargin: number, scale: number): Observation {
  const marginSd = MARGIN_SD * (row.cut.quality === 'C' ? 2 : 1);
  return normal([row], logMargin, Math.hypot(marginSd, scatterOf(row, scale)));
}

/** A measured boundary. */
export function limit(row: Row): Observation {
  return normal([row], 0, LIMIT_SD);
}

/** As with coupons, one outcome in fifty may be a slip: it then tells nothing. */
const withSlips = (probability: number) => BLUNDERS / 2 + (1 - BLUNDERS) * probability;

/** A single cut that parted or did not. */
export function test(row: Row, scale: number): Observation {
  const sd = scatterOf(row, scale);
  const sign = row.cut.outcome === 'cut' ? 1 : -1;
  return {
    rows: [row],
    logLikelihood: (place) => Math.log(withSlips(normalCdf((sign * place) / sd))),
    best: { place: sign * Number.POSITIVE_INFINITY, logLikelihood: Math.log(withSlips(1)) },
  };
}

/**
 * The two sides of one boundary, which lies between them on the same sheet.
 * @param apart places of the other rows less that of the first.
 */
export function bracket(rows: readonly Row[], apart: readonly number[], scale: number): Observation {
  const sd = scatterOf(rows[0]!, scale);
  const of = (outcome: 'cut' | 'not') => apart.filter((_, i) => rows[i]!.cut.outcome === outcome);
  const lowestCut = Math.min(...of('cut'));
  const highestNot = Math.max(...of('not'));
  const logLikelihood = (place: number) => {
    const between = normalCdf((place + lowestCut) / sd) - normalCdf((place + highestNot) / sd);
    return Math.log(withSlips(Math.max(0, between)));
  };
  const place = -(lowestCut + highestNot) / 2;
  return { rows, logLikelihood, best: { place, logLikelihood: logLikelihood(place) } };
}

/** Where the boundary of a source lies whose spot is open, at a spot and a normal score of the divergence share. */
export function placeAtSpot(row: Row, logEnergy: number, logSpotMm: number, shareScore: number): number {
  const { beam, stock, doubt, passes, thicknessMm } = row.input;
  const spotMm = Math.exp(logSpotMm);
  // The cone that diffraction gives this spot.
  const cone = (beam.diffractionMm * beam.cone) / spotMm;
  const there = {
    ...stock,
    removalJPerMm3: stock.removalJPerMm3 * Math.exp(logEnergy),
    divergenceShare: shareAt(stock.divergenceShare, doubt.divergence, shareScore),
  };
  const [pass, ...more] = passes as [CutPass];
  if (more.length > 0) throw new Error(`${row.id}: a spot can be left open for a single pass only`);
  // What is left of a great power beyond the sheet tells what the pass takes, more finely than searching for it.
  const { powerLeftW } = marchDepth({ ...beam, spotMm, cone }, there, [{ ...pass, powerW: AMPLE_W }], thicknessMm);
  return Math.log(pass.powerW / (AMPLE_W - powerLeftW));
}

/** More than any single pass takes. */
const AMPLE_W = 1e5;
