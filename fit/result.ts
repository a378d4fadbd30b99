import type { Evidence } from '../src/job/evidence/evidence.ts';
import type { Material } from '../src/job/model.ts';
import { classOf } from './classes.ts';
import { canBeFitted, type LeftOut, leaveOneSourceOut } from './leave-out.ts';
import { type Fit, fitRows } from './optimise.ts';
import { type Scored, score } from './predictive.ts';
import { type RemovalValue, removalValue } from './removal-values.ts';
import { type Row, readAllEvidence, readCatalogue, rowsOf } from './rows.ts';
import { type ErrorLimit, errorLimit } from './scores.ts';
import { runTrial, TRIALS, type TrialResult } from './trials.ts';

/** All that the fit finds: what the material files and docs/evidence.md are written from. */
export interface Result {
  evidence: Evidence[];
  catalogue: Map<string, Material>;
  rows: Row[];
  found: Fit;
  /** By material id. */
  values: Map<string, RemovalValue>;
  /** With the fitted values. */
  shipped: Scored[];
  /** With the values that were taken before the evidence. */
  before: Scored[];
  leftOut: LeftOut[];
  limit: ErrorLimit;
  trials: TrialResult[];
}

/** Fits, scores and tries everything anew from `data/`. */
export function wholeResult(): Result {
  const evidence = readAllEvidence();
  const catalogue = readCatalogue();
  const rows = rowsOf(evidence, catalogue);
  const fitted = rows.filter(canBeFitted);
  const found = fitRows(fitted);
  const materials = [...catalogue.values()].filter((material) => classOf(material) !== null);
  const values = new Map(materials.map((material) => [material.id, removalValue(found, material)]));
  const outcomes = rows.filter((row) => row.cut.outcome !== 'limit');
  const leftOut = leaveOneSourceOut(rows);
  return {
    evidence,
    catalogue,
    rows,
    found,
    values,
    shipped: outcomes.map((row) => score(row, values.get(row.material.id)!)),
    before: outcomes.map((row) => score(row, row.material.removal!.before!)),
    leftOut,
    limit: errorLimit(dailyProbabilities(leftOut)),
    trials: TRIALS.map((trial) => runTrial(trial, fitted, found.sheetSd)),
  };
}

/** Of the daily settings that count. */
export function dailyProbabilities(leftOut: readonly LeftOut[]): number[] {
  return leftOut.filter((one) => one.counts && one.row.cut.use === 'daily').map((one) => one.throughProbability);
}
