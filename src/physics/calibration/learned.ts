import { type LearnedShares, learnedShares } from '../doubt/samples.ts';
import type { LearnedPoint } from '../march/stock.ts';
import { marginal, type Posterior, weightedQuantile } from './posterior.ts';

/** What the coupons say, taken at its middle, and how far it may be off. */
export interface LearnedStock {
  /** Median, if the waist stands where it is taken for and the divergence share at its own median. */
  removalJPerMm3: number;
  divergenceShare: number;
  /** One for each of the fixed points of the doubt, relative to the above. */
  points: readonly LearnedPoint[];
}

/**
 * A posterior as the fixed points of a prediction: first the focus, then the share for that focus, then the energy for both. So they
 * hang together as the coupons left them: a harder sheet with a better focus cuts the same tongues.
 */
export function learnedStock(posterior: Posterior): LearnedStock {
  const slices = new Slices(posterior);
  const middle = slices.inFocus();
  return {
    removalJPerMm3: Math.exp(middle.logRemoval),
    divergenceShare: middle.divergenceShare,
    points: learnedShares().map((shares) => {
      const { logRemoval, divergenceShare, focusMm, scatter } = slices.at(shares);
      const removalFactor = Math.exp(logRemoval - middle.logRemoval);
      return { removalFactor, divergenceShare, focusShiftMm: focusMm, scatter };
    }),
  };
}

/** A place between two neighbouring nodes. */
interface Between {
  below: number;
  above: number;
  part: number;
}

/** The posterior's distribution of each quantity for given values of those before it. */
class Slices {
  readonly #posterior: Posterior;
  readonly #ofFocus: Float64Array;
  readonly #ofScatter: Float64Array;
  readonly #ofShare: Float64Array[];
  readonly #ofRemoval: Float64Array[];
  readonly #focusIndices: Float64Array;
  readonly #shareIndices: Float64Array;

  constructor(posterior: Posterior) {
    const { focusesMm, shares, scatters, logRemovals, weights } = posterior;
    const removals = logRemovals.length;
    this.#posterior = posterior;
    const cells = Array.from({ length: focusesMm.length * shares.length }, (_, cell) => {
      const summed = new Float64Array(removals);
      for (let c = 0; c < scatters.length; c++) {
        const base = (cell * scatters.length + c) * removals;
        for (let r = 0; r < removals; r++) summed[r]! += weights[base + r]!;
      }
      return summed;
    });
    const totals = Float64Array.from(cells, sumOf);
    this.#ofFocus = marginal(posterior, 'focus');
    this.#ofScatter = marginal(posterior, 'scatter');
    this.#ofShare = filled(Array.from(focusesMm, (_, f) => totals.slice(f * shares.length, (f + 1) * shares.length)));
    this.#ofRemoval = filled(cells);
    this.#focusIndices = Float64Array.from(focusesMm.keys());
    this.#shareIndices = Float64Array.from(shares.keys());
  }

  /** The middle of it where the focus is off by nothing. */
  inFocus() {
    const node = this.#posterior.focusesMm.indexOf(0);
    return this.#at({ below: node, above: node, part: 0 }, { removal: 0.5, divergence: 0.5, focus: 0.5, scatter: 0.5 });
  }

  at(shares: LearnedShares) {
    return this.#at(between(weightedQuantile(this.#focusIndices, this.#ofFocus, shares.focus)), shares);
  }

  #at(focus: Between, shares: LearnedShares) {
    const { focusesMm, shares: nodes, scatters, logRemovals } = this.#posterior;
    const shareAt = (f: number) => weightedQuantile(this.#shareIndices, this.#ofShare[f]!, shares.divergence);
    const share = between(mixed(focus, shareAt));
    const removalAt = (f: number, s: number) =>
      weightedQuantile(logRemovals, this.#ofRemoval[f * nodes.length + s]!, shares.removal);
    return {
      focusMm: mixed(focus, (f) => focusesMm[f]!),
      scatter: weightedQuantile(scatters, this.#ofScatter, shares.scatter),
      divergenceShare: mixed(share, (s) => nodes[s]!),
      logRemoval: mixed(focus, (f) => mixed(share, (s) => removalAt(f, s))),
    };
  }
}

function between(node: number): Between {
  const below = Math.floor(node);
  return { below, above: Math.ceil(node), part: node - below };
}

function mixed({ below, above, part }: Between, at: (node: number) => number): number {
  const low = at(below);
  return part === 0 ? low : low + (at(above) - low) * part;
}

const sumOf = (values: Float64Array): number => values.reduce((sum, each) => sum + each, 0);

/** Distributions that each sum to 1. One so unlikely that nothing is left of its weights is taken for its nearest neighbour's. */
function filled(distributions: readonly Float64Array[]): Float64Array[] {
  const sums = distributions.map(sumOf);
  return distributions.map((_, i) => {
    const near = sums.reduce(
      (best, sum, other) => (sum > 0 && (best < 0 || Math.abs(other - i) < Math.abs(best - i)) ? other : best),
      -1,
    );
    return distributions[near]!.map((each) => each / sums[near]!);
  });
}
