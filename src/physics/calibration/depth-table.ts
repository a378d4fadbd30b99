import type { Beam } from '../beam/focused-beam.ts';
import { marchedDepthMm } from '../march/march.ts';
import type { CutPass } from '../march/passes.ts';
import type { Stock } from '../march/stock.ts';

/** Nodes of the table below; between them the logarithm of the depth is nearly straight. */
const NODES = 17;
/** Shallower than any mark; keeps the logarithm finite. */
const LEAST_DEPTH_MM = 1e-9;

/**
 * ln depth of a recipe over ln removal energy, at one divergence share: a table, since a posterior asks for it thousands
 * of times. Reads to 0.2 %.
 */
export class DepthTable {
  readonly from: number;
  readonly step: number;
  readonly logDepths: Float64Array;

  constructor(beam: Beam, stock: Stock, passes: readonly CutPass[], fromLog: number, toLog: number) {
    this.from = fromLog;
    this.step = (toLog - fromLog) / (NODES - 1);
    this.logDepths = Float64Array.from({ length: NODES }, (_, i) => {
      const removalJPerMm3 = Math.exp(fromLog + i * this.step);
      return Math.log(Math.max(LEAST_DEPTH_MM, marchedDepthMm(beam, { ...stock, removalJPerMm3 }, passes)));
    });
  }

  logDepthAt(logRemoval: number): number {
    const at = Math.min(Math.max((logRemoval - this.from) / this.step, 0), NODES - 1);
    const below = Math.min(Math.floor(at), NODES - 2);
    const low = this.logDepths[below]!;
    return low + (this.logDepths[below + 1]! - low) * (at - below);
  }
}
