import type { Beam } from '../beam/focused-beam.ts';
import { normalQuantile } from './normal.ts';
import { SAMPLE_COUNT } from './samples.ts';

/**
 * Steps of the lattice in the two dimensions in which a beam that was assumed may be off. Of all pairs of steps they keep the pairs and triples
 * with the dimensions of samples.ts most even (worst-case error of the lattice rule for products of periodic Sobolev functions of
 * smoothness 1).
 */
const DIAMETER_STEP = 48;
const SPOT_STEP = 195;

const SCORES = Float64Array.from({ length: SAMPLE_COUNT }, (_, place) => normalQuantile((place + 0.5) / SAMPLE_COUNT));

/**
 * The beam at a point of the doubt: its cone and its spot where they were assumed; the very same beam where they were not.
 * @param point number of the lattice's point, 0…SAMPLE_COUNT − 1.
 */
export function beamAt(beam: Beam, point: number): Beam {
  const doubt = beam.doubt ?? null;
  if (doubt === null || (doubt.diameter === 0 && doubt.spot === 0)) return beam;
  const wider = Math.exp(doubt.diameter * SCORES[(point * DIAMETER_STEP) % SAMPLE_COUNT]!);
  const coarser = Math.max(doubt.leastFactor, Math.exp(doubt.spot * SCORES[(point * SPOT_STEP) % SAMPLE_COUNT]!));
  const { diffractionMm, blurMm } = beam;
  const spotMm = doubt.computed
    ? (diffractionMm * coarser) / wider + blurMm * wider ** 3
    : diffractionMm * coarser + blurMm;
  // The width across a cut keeps its share of the spot.
  const factor = spotMm / (diffractionMm + blurMm);
  return { ...beam, spotMm: beam.spotMm * factor, cone: beam.cone * wider };
}
