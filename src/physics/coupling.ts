/** How a removal energy that was found at 10.6 µm carries over to another kind of source. */
export interface Coupling {
  /** Energy asked for over that of a CO₂ source, power counted at the work. */
  energyFactor: number;
  /** 1σ of its logarithm: what the factor is in doubt by. */
  spread: number;
}

/**
 * A diode: memory, no measured value. Pale wood and paper throw back a third to a half of blue light until they have charred, the
 * beam is many times wider than diffraction asks and the smoke is seldom blown away; how much of that a machine has differs widely.
 * The few published cuts of two shops are held against it in docs/evidence.md and did not set it. A fibre source cuts metals here,
 * whose energies are stated for it.
 */
export const COUPLING: Record<'co2' | 'diode' | 'fibre', Coupling> = {
  co2: { energyFactor: 1, spread: 0 },
  diode: { energyFactor: 2, spread: 0.6 },
  fibre: { energyFactor: 1, spread: 0 },
};
