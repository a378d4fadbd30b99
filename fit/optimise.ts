import { levenbergMarquardt } from 'ml-levenberg-marquardt';
import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { MARGIN, SHEET_SD, SHEET_WEIGHT } from './assumptions.ts';
import type { MaterialClass } from './classes.ts';
import { energyTerms, sheetName, type Term } from './parameters.ts';
import { Posterior, type PosteriorOptions } from './posterior.ts';
import type { Row } from './rows.ts';

/** The unknowns as the rows leave them: the peak of the posterior and, about it, a normal distribution (Laplace). */
export interface Fit {
  posterior: Posterior;
  /** At the peak. */
  values: number[];
  covariance: Matrix;
  /** ln of the probability of all rows with the unknowns integrated over. */
  logEvidence: number;
  /** 1σ between one source's sheets of a material and another's, by class. */
  sheetSd: Record<MaterialClass, number>;
}

export interface FitOptions {
  /** Median margin of a daily setting. */
  margin?: number;
  settingSd?: number;
  rowScale?: number;
  /** Holds the spreads between sheets instead of finding them. */
  sheetSd?: Fit['sheetSd'];
}

/** Rounds in which the spreads between sheets and the unknowns are found in turn; it settles long before. */
const MOST_ROUNDS = 40;
const SETTLED = 1e-4;

/** Fits all unknowns to rows, and with them how far sheets of one class differ from source to source. */
export function fitRows(rows: readonly Row[], options: FitOptions = {}): Fit {
  let sheetSd =
    options.sheetSd ?? (Object.fromEntries(rows.map((row) => [row.materialClass, SHEET_SD])) as Fit['sheetSd']);
  let start: number[] | null = null;
  for (let round = 0; ; round++) {
    const at: PosteriorOptions = {
      logMargin: Math.log(options.margin ?? MARGIN),
      sheetSd,
      settingSd: options.settingSd ?? 0,
      rowScale: options.rowScale ?? 1,
    };
    const found: Fit = { ...peak(new Posterior(rows, at), start), sheetSd };
    if (options.sheetSd) return found;
    const next = sheetSpreads(found, rows);
    const moved = Math.max(
      ...Object.keys(next).map((key) => Math.abs(next[key as MaterialClass] - sheetSd[key as MaterialClass])),
    );
    if (moved < SETTLED || round === MOST_ROUNDS) return found;
    start = found.values;
    sheetSd = next;
  }
}

/** Expectation and maximisation: the mean square of the offsets, among them as many at the value taken beforehand as that weighs. */
function sheetSpreads(found: Fit, rows: readonly Row[]): Fit['sheetSd'] {
  const next = { ...found.sheetSd };
  for (const materialClass of Object.keys(next) as MaterialClass[]) {
    const names = new Set(rows.filter((row) => row.materialClass === materialClass).map(sheetName));
    let squares = SHEET_WEIGHT * SHEET_SD ** 2;
    for (const name of names) {
      const index = found.posterior.indexOf({ name, mean: 0, sd: 1 })!;
      squares += found.values[index]! ** 2 + found.covariance.get(index, index);
    }
    next[materialClass] = Math.sqrt(squares / (SHEET_WEIGHT + names.size));
  }
  return next;
}

/** Steps in one call of the optimiser, which does not stop by itself; calls; and the slope at which the peak is reached. */
const STEPS = 6;
const MOST_CALLS = 60;
const FLAT = 1e-4;

function peak(posterior: Posterior, start: number[] | null): Omit<Fit, 'sheetSd'> {
  const count = posterior.size;
  const data = { x: Array.from({ length: count }, (_, i) => i), y: new Array<number>(count).fill(0) };
  let values = start ?? posterior.parameters.map(({ mean }) => mean);
  for (let call = 0; steepness(posterior, values) > FLAT; call++) {
    if (call === MOST_CALLS) throw new Error('the fit does not come to rest');
    values = levenbergMarquardt(
      data,
      (x) => {
        const residuals = posterior.residuals(x);
        return (i) => residuals[i]!;
      },
      {
        initialValues: values,
        jacobianFunction: (x) => {
          const jacobian = posterior.jacobian(x);
          return (i) => jacobian[i]!;
        },
        damping: 1e-3,
        maxIterations: STEPS,
        errorTolerance: 1e-12,
      },
    ).parameterValues;
  }
  const cholesky = new CholeskyDecomposition(new Matrix(posterior.curvature(values)));
  const { lowerTriangularMatrix: lower } = cholesky;
  const halfLogDeterminant = posterior.parameters.reduce((sum, _, i) => sum + Math.log(lower.get(i, i)), 0);
  const count2Pi = 0.5 * posterior.parameters.length * Math.log(2 * Math.PI);
  return {
    posterior,
    values,
    covariance: cholesky.solve(Matrix.eye(posterior.parameters.length)),
    logEvidence: posterior.logLikelihood(values) + posterior.logPrior(values) + count2Pi - halfLogDeterminant,
  };
}

/** Largest derivative of half the sum of squares. */
function steepness(posterior: Posterior, values: readonly number[]): number {
  const residuals = posterior.residuals(values);
  const jacobian = posterior.jacobian(values);
  return Math.max(
    ...posterior.parameters.map((_, i) => Math.abs(jacobian.reduce((sum, row, r) => sum + row[i]! * residuals[r]!, 0))),
  );
}

/** A sum of unknowns as the fit leaves it; what no row tells of keeps what was believed of it. */
export function estimate(found: Fit, terms: readonly Term[]): { mean: number; sd: number } {
  let mean = 0;
  let variance = 0;
  const known: { index: number; coefficient: number }[] = [];
  for (const { parameter, coefficient } of terms) {
    const index = found.posterior.indexOf(parameter);
    if (index === undefined) {
      mean += coefficient * parameter.mean;
      variance += (coefficient * parameter.sd) ** 2;
    } else {
      mean += coefficient * found.values[index]!;
      known.push({ index, coefficient });
    }
  }
  for (const a of known) {
    for (const b of known) variance += a.coefficient * b.coefficient * found.covariance.get(a.index, b.index);
  }
  return { mean, sd: Math.sqrt(variance) };
}

/** ln of a material's removal energy over that before the evidence. */
export const energyOf = (found: Fit, material: Row['material']) => estimate(found, energyTerms(material));
