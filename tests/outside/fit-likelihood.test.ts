import { errorFunction, sum } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { canBeFitted } from '../../fit/leave-out.ts';
import { fitRows } from '../../fit/optimise.ts';
import { type Row, readAllEvidence, readCatalogue, rowsOf } from '../../fit/rows.ts';
import { shareAt } from '../../src/physics/doubt/samples.ts';
import { powerFactorFor } from '../../src/physics/march/inverse.ts';
import { marchedDepthMm } from '../../src/physics/march/march.ts';

/**
 * The likelihood of the fit, written anew from what docs/model.md says of it: without the fit's curves, its derivatives and its normal
 * distribution. The march is the product's; the error function is that of simple-statistics.
 */
const ROWS = rowsOf(readAllEvidence(), readCatalogue()).filter(canBeFitted);
const FOUND = fitRows(ROWS);
const NAMES = FOUND.posterior.parameters.map(({ name }) => name);

const cdf = (z: number) => (1 + errorFunction(z / Math.SQRT2)) / 2;
const logNormal = (x: number, mean: number, sd: number) =>
  -((x - mean) ** 2) / (2 * sd ** 2) - Math.log(sd) - 0.5 * Math.log(2 * Math.PI);
/** One outcome in fifty is a slip. */
const outcome = (probability: number) => Math.log(0.01 + 0.98 * probability);

type Values = ReadonlyMap<string, number>;
const FITTED: Values = new Map(NAMES.map((name, i) => [name, FOUND.values[i]!]));

/** ln of the factor on the energy that was taken before: the unknowns that bear on this row's material. */
function logEnergy({ material, materialClass }: Row, values: Values): number {
  const of = (name: string) => values.get(name) ?? 0;
  const own = of(`material ${material.id}`);
  if (materialClass === 'acrylic') return own + of('class acrylic');
  if (!values.has(`class ${materialClass}, chars`) || melts(material.id))
    return own + of(`class ${materialClass}, melts`);
  const dense = of('exponent of the density') * Math.log(material.densityGPerCm3 / 0.5);
  return own + of('level of what chars') + dense + of(`class ${materialClass}, chars`);
}

/** Polymers that melt or boil away without char, in classes that also hold what chars. */
const melts = (id: string) =>
  ['hdpe', 'polypropylene', 'polycarbonate', 'polyester-felt', 'foam-core-board'].includes(id);

/** ln of the power delivered over the power with which the sheet just parts. */
function place(row: Row, values: Values): number {
  const { beam, passes, thicknessMm } = row.input;
  const stock = { ...row.input.stock };
  stock.removalJPerMm3 *= Math.exp(logEnergy(row, values));
  const source = row.evidence.id;
  const offset = values.get(`source ${source}`)! + values.get(`sheets of ${row.material.id} at ${source}`)!;
  if (row.evidence.machine!.spotBetweenMm === null) {
    return offset - Math.log(powerFactorFor(beam, stock, passes, thicknessMm));
  }
  const spotMm = Math.exp(values.get(`spot of ${source}`)!);
  // 10.6 µm and M² 1.2 give this spot a cone of 4 M² λ / (π d).
  const open = { ...beam, spotMm, cone: (4 * 1.2 * 0.0106) / (Math.PI * spotMm) };
  const score = values.get(`divergence at ${source}`)!;
  stock.divergenceShare = shareAt(stock.divergenceShare, row.input.doubt.divergence, score);
  let [low, high] = [-3, 3];
  for (let i = 0; i < 40; i++) {
    const middle = (low + high) / 2;
    const stronger = passes.map((pass) => ({ ...pass, powerW: pass.powerW * Math.exp(middle) }));
    if (marchedDepthMm(open, stock, stronger, thicknessMm) >= thicknessMm * (1 - 1e-9)) high = middle;
    else low = middle;
  }
  return offset - (low + high) / 2;
}

function scatter({ cut, setting, otherSd }: Row): number {
  const own = { A: 0.15, B: 0.2, C: 0.4 }[cut.quality] * (cut.worn ? 2 : 1);
  return Math.hypot(own, setting === null ? 0 : 0.1 * (1 - setting), otherSd);
}

function logLikelihood(values: Values): number {
  const brackets = new Map<string, Row[]>();
  const single: number[] = [];
  for (const row of ROWS) {
    const { cut } = row;
    const sd = scatter(row);
    if (cut.outcome === 'limit') single.push(logNormal(place(row, values), 0, 0.05));
    else if (cut.use === 'daily') {
      const margin = cut.quality === 'C' ? 0.4 : 0.2;
      single.push(logNormal(place(row, values), Math.log(1.3), Math.hypot(margin, sd)));
    } else if (cut.use === 'test') {
      single.push(outcome(cdf(((cut.outcome === 'cut' ? 1 : -1) * place(row, values)) / sd)));
    } else {
      const key = `${row.evidence.id} ${cut.bracket}`;
      brackets.set(key, [...(brackets.get(key) ?? []), row]);
    }
  }
  const between = [...brackets.values()].map((rows) => {
    const of = (said: string) => rows.filter(({ cut }) => cut.outcome === said).map((row) => place(row, values));
    const sd = scatter(rows[0]!);
    return outcome(Math.max(0, cdf(Math.min(...of('cut')) / sd) - cdf(Math.max(...of('not')) / sd)));
  });
  return sum(single) + sum(between);
}

const logPrior = (values: Values) =>
  sum(FOUND.posterior.parameters.map(({ name, mean, sd }) => logNormal(values.get(name)!, mean, sd)));

describe('the likelihood of the fit, written anew', () => {
  it('is the same at the peak, but for what the fit’s curves lose', () => {
    expect(Math.abs(logLikelihood(FITTED) - FOUND.posterior.logLikelihood(FOUND.values))).toBeLessThan(0.05);
    expect(Math.abs(logPrior(FITTED) - FOUND.posterior.logPrior(FOUND.values))).toBeLessThan(1e-6);
  });

  it('is the same away from it', () => {
    const aside = FOUND.values.map(
      (value, i) => value + (i % 2 === 0 ? 0.1 : -0.1) * FOUND.posterior.parameters[i]!.sd,
    );
    const values = new Map(NAMES.map((name, i) => [name, aside[i]!]));
    expect(Math.abs(logLikelihood(values) - FOUND.posterior.logLikelihood(aside))).toBeLessThan(0.05);
  });

  it('is nowhere greater one tenth of a standard deviation away, whichever unknown moves', () => {
    const peak = logLikelihood(FITTED) + logPrior(FITTED);
    for (const [i, name] of NAMES.entries()) {
      const step = 0.1 * Math.sqrt(FOUND.covariance.get(i, i));
      for (const sign of [1, -1]) {
        const values = new Map(FITTED).set(name, FITTED.get(name)! + sign * step);
        expect(logLikelihood(values) + logPrior(values), name).toBeLessThan(peak);
      }
    }
  });
});
