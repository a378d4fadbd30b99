import type { MaterialClass } from './classes.ts';
import { bracket, daily, limit, type Observation, placeAtSpot, test } from './observations.ts';
import { energyTerms, type Parameter, ratioTerms, shareTerm, spotTerm, type Term } from './parameters.ts';
import type { Row } from './rows.ts';

export interface PosteriorOptions {
  /** ln of the median margin of a daily setting. */
  logMargin: number;
  /** 1σ between one source's sheets and another's, by class. */
  sheetSd: Readonly<Record<MaterialClass, number>>;
  /** Multiplies the scatter that is taken of rows. */
  rowScale: number;
  /** 1σ of an exponent on the setting; 0: watts are in proportion to it. */
  settingSd: number;
}

/** A value with its slopes: index of the unknown → derivative. */
interface Sloped {
  value: number;
  slopes: Map<number, number>;
}

interface Placed {
  observation: Observation;
  place(x: ArrayLike<number>): Sloped;
}

/** Step of a numerical derivative. */
const STEP = 1e-4;

/** The likelihood of all rows with what is believed beforehand, as a function of the unknowns. */
export class Posterior {
  readonly parameters: Parameter[] = [];
  readonly #index = new Map<string, number>();
  readonly #placed: Placed[];

  constructor(rows: readonly Row[], options: PosteriorOptions) {
    this.#placed = groupsOf(rows).map((group) => this.#place(group, options));
  }

  /** Of one unknown; undefined where no row tells of it. */
  indexOf(parameter: Parameter): number | undefined {
    return this.#index.get(parameter.name);
  }

  get observations(): Observation[] {
    return this.#placed.map(({ observation }) => observation);
  }

  /** Places of the observations, in their order. */
  places(x: ArrayLike<number>): number[] {
    return this.#placed.map(({ place }) => place(x).value);
  }

  logLikelihood(x: ArrayLike<number>): number {
    return this.#placed.reduce((sum, { observation, place }) => sum + observation.logLikelihood(place(x).value), 0);
  }

  /** ln of what is believed of the unknowns beforehand. */
  logPrior(x: ArrayLike<number>): number {
    return this.parameters.reduce(
      (sum, { mean, sd }, i) => sum - 0.5 * ((x[i]! - mean) / sd) ** 2 - Math.log(sd * Math.sqrt(2 * Math.PI)),
      0,
    );
  }

  /** How many residuals there are: one for each unknown, then one for each observation. */
  get size(): number {
    return this.parameters.length + this.#placed.length;
  }

  /** Deviance residuals: half the sum of their squares is what the posterior lacks of its greatest conceivable value. */
  residuals(x: ArrayLike<number>): number[] {
    const beliefs = this.parameters.map(({ mean, sd }, i) => (x[i]! - mean) / sd);
    return [...beliefs, ...this.#placed.map(({ observation, place }) => deviance(observation, place(x).value))];
  }

  /** Derivatives of each residual by each unknown. */
  jacobian(x: ArrayLike<number>): number[][] {
    const zeros = () => new Array<number>(this.parameters.length).fill(0);
    const beliefs = this.parameters.map(({ sd }, i) => zeros().with(i, 1 / sd));
    const rows = this.#placed.map(({ observation, place }) => {
      const { value, slopes } = place(x);
      const slope = (deviance(observation, value + STEP) - deviance(observation, value - STEP)) / (2 * STEP);
      const row = zeros();
      for (const [index, each] of slopes) row[index] = slope * each;
      return row;
    });
    return [...beliefs, ...rows];
  }

  /** Second derivatives of −ln of the posterior; what bends the wrong way counts as flat. */
  curvature(x: ArrayLike<number>): number[][] {
    const result = this.parameters.map(({ sd }, i) =>
      new Array<number>(this.parameters.length).fill(0).with(i, 1 / sd ** 2),
    );
    for (const { observation, place } of this.#placed) {
      const { value, slopes } = place(x);
      const at = (shift: number) => observation.logLikelihood(value + shift);
      const bend = Math.max(0, -(at(10 * STEP) - 2 * at(0) + at(-10 * STEP)) / (10 * STEP) ** 2);
      for (const [i, a] of slopes) for (const [j, b] of slopes) result[i]![j]! += bend * (a * b);
    }
    return result;
  }

  #place(group: readonly Row[], options: PosteriorOptions): Placed {
    const [first] = group as [Row];
    const energy = this.#known(energyTerms(first.material));
    const ratio = this.#known(ratioTerms(first, options.sheetSd, options.settingSd));
    const between = first.evidence.machine?.spotBetweenMm ?? null;
    const [spot, share] = between === null ? [] : this.#known([spotTerm(first, between), shareTerm(first)]);
    const place = (x: ArrayLike<number>): Sloped => {
      const logEnergy = sum(energy, x);
      const at = (log: number, logSpotMm: number, score: number) => placeAtSpot(first, log, logSpotMm, score);
      const open = spot && share ? ([logEnergy, x[spot.index]!, x[share.index]!] as const) : null;
      const value = open === null ? first.logRatio.at(logEnergy) : at(...open);
      const slopes = new Map<number, number>();
      const bySlope = open === null ? first.logRatio.slopeAt(logEnergy) : partial(at, open, 0);
      for (const { index, coefficient } of energy) slopes.set(index, (slopes.get(index) ?? 0) + bySlope * coefficient);
      for (const { index, coefficient } of ratio) slopes.set(index, (slopes.get(index) ?? 0) + coefficient);
      if (open !== null) {
        slopes.set(spot!.index, partial(at, open, 1));
        slopes.set(share!.index, partial(at, open, 2));
      }
      return { value: value + sum(ratio, x), slopes };
    };
    return { observation: observationOf(group, options), place };
  }

  #known(terms: readonly Term[]): { index: number; coefficient: number }[] {
    return terms.map(({ parameter, coefficient }) => {
      let index = this.#index.get(parameter.name);
      if (index === undefined) {
        index = this.parameters.length;
        this.#index.set(parameter.name, index);
        this.parameters.push(parameter);
      }
      return { index, coefficient };
    });
  }
}

function sum(terms: readonly { index: number; coefficient: number }[], x: ArrayLike<number>): number {
  return terms.reduce((total, { index, coefficient }) => total + coefficient * x[index]!, 0);
}

/** Step for the march of a row whose spot is open: well above the fineness of its inverse. */
const COARSE_STEP = 1e-2;

function partial(
  of: (a: number, b: number, c: number) => number,
  at: readonly [number, number, number],
  which: 0 | 1 | 2,
): number {
  const shifted = (by: number) => of(...(at.with(which, at[which]! + by) as [number, number, number]));
  return (shifted(COARSE_STEP) - shifted(-COARSE_STEP)) / (2 * COARSE_STEP);
}

function deviance({ logLikelihood, best }: Observation, place: number): number {
  const lack = Math.max(0, best.logLikelihood - logLikelihood(place));
  return (place < best.place ? -1 : 1) * Math.sqrt(2 * lack);
}

/** Rows that are one observation: the sides of a boundary belong together. */
function groupsOf(rows: readonly Row[]): Row[][] {
  const groups = new Map<string, Row[]>();
  for (const row of rows) {
    const { bracket: name, outcome } = row.cut;
    const key = name === null || outcome === 'limit' ? row.id : `${row.evidence.id} ${name}`;
    groups.set(key, [...(groups.get(key) ?? []), row]);
  }
  return [...groups.values()];
}

function observationOf(group: readonly Row[], options: PosteriorOptions): Observation {
  const [first] = group as [Row];
  if (first.cut.outcome === 'limit') return limit(first);
  if (first.cut.use === 'daily') return daily(first, options.logMargin, options.rowScale);
  if (first.cut.use === 'test') return test(first, options.rowScale);
  // How far its sides lie apart hardly depends on the energy.
  return bracket(
    group,
    group.map((row) => row.logRatio.at(0) - first.logRatio.at(0)),
    options.rowScale,
  );
}
