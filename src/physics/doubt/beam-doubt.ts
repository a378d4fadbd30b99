import type { Beam } from '../beam/focused-beam.ts';
import { marchedDepthMm } from '../march/march.ts';
import type { CutPass } from '../march/passes.ts';
import type { Stock } from '../march/stock.ts';

/** Step of the removal energy in which its bearing on the depth is measured, in the logarithm. */
const REMOVAL_STEP = 0.1;

/**
 * The beam with what was assumed of it off by so many standard deviations: its diameter at the lens, which sets the cone and a computed
 * spot, and its M² or its assumed spot.
 */
export function beamOffBy(beam: Beam, sigmas: { diameter: number; spot: number }): Beam {
  const doubt = beam.doubt ?? null;
  if (doubt === null) return beam;
  const wider = Math.exp(doubt.diameter * sigmas.diameter);
  const coarser = Math.max(doubt.leastFactor, Math.exp(doubt.spot * sigmas.spot));
  const { diffractionMm, blurMm } = beam;
  const spotMm = doubt.computed
    ? (diffractionMm * coarser) / wider + blurMm * wider ** 3
    : diffractionMm * coarser + blurMm;
  // The width across a cut keeps its share of the spot.
  const factor = spotMm / (diffractionMm + blurMm);
  return { ...beam, spotMm: beam.spotMm * factor, cone: beam.cone * wider };
}

/**
 * What a beam that was assumed leaves open of a cut, as the 1σ of a removal energy that would leave as much open of its depth; 0 where
 * nothing of the beam was assumed. It is found by the march at one standard deviation to either side and not among the fixed points of the
 * other doubts: those are too few to carry two more of this size without jumps.
 */
export function beamSpread(beam: Beam, stock: Stock, passes: readonly CutPass[]): number {
  const doubt = beam.doubt ?? null;
  if (doubt === null) return 0;
  const logDepth = (one: Beam, removal = 1) =>
    Math.log(marchedDepthMm(one, { ...stock, removalJPerMm3: stock.removalJPerMm3 * removal }, passes));
  const depth = logDepth(beam);
  const moved = (sigmas: { diameter: number; spot: number }) => logDepth(beamOffBy(beam, sigmas)) - depth;
  const either = (diameter: number, spot: number) =>
    Math.hypot(moved({ diameter, spot }), moved({ diameter: -diameter, spot: -spot })) / Math.SQRT2;
  const ofDepth = Math.hypot(either(1, 0), either(0, 1));
  const step = Math.exp(REMOVAL_STEP);
  const byRemoval = (logDepth(beam, 1 / step) - logDepth(beam, step)) / (2 * REMOVAL_STEP);
  const spread = ofDepth / byRemoval;
  // Where nothing is cut there is nothing to be off.
  return Number.isFinite(spread) && byRemoval > 0 ? spread : 0;
}
