/** What the sheet asks of the beam. */
export interface Stock {
  /** Volumetric removal energy H; it counts the power at the work and already holds the coupling. */
  removalJPerMm3: number;
  /** Share g of the free beam's spread that counts below the focal plane: 1 a free beam, 0 walls that guide it perfectly. */
  divergenceShare: number;
  conductivityWPerMK: number;
  diffusivityMm2PerS: number;
  /** From the room to where the material decomposes. */
  temperatureRiseK: number;
}

/** One of the equally likely ways in which a shop's coupons can be read. */
export interface LearnedPoint {
  /** Removal energy over that of the stock. */
  removalFactor: number;
  divergenceShare: number;
  /** How far the waist stands from where it is taken for, mm. */
  focusShiftMm: number;
  /** 1σ of the energy from one cut to the next (of its logarithm). */
  scatter: number;
}

/** How far the inputs of one prediction may be off. */
export interface StockDoubt {
  /**
   * What coupons leave open of removal energy, divergence share and focus together; null or left out where none were cut. Then the
   * spreads below are what comes on top of it from one cut to the next, and the band of the divergence share is in it.
   */
  learned?: readonly LearnedPoint[] | null;
  /** 1σ of the removal energy as a fraction (of its logarithm). */
  removal: number;
  /** 5th and 95th percentile of the divergence share. */
  divergence: { low: number; high: number };
  /** 1σ of the power at the work as a fraction (of its logarithm). */
  power: number;
  /** 1σ of the focus, mm; ±0.5 unless a ramp was cut. */
  focusMm: number;
  /** 1σ of the thickness, mm. */
  thicknessMm: number;
}

/** Exponent of the Péclet number, [SCHULZ-1993] (form from memory). */
export const CONDUCTION_EXPONENT = 0.36;

/** The stock's conduction loss in the form the march evaluates: q = 4 k ΔT (v w / 4α)^0.36 = scale × (v w)^0.36. */
export function conductionScale(stock: Stock): number {
  const conductivityWPerMmK = stock.conductivityWPerMK / 1000;
  if (!(conductivityWPerMmK > 0) || !(stock.temperatureRiseK > 0) || !(stock.diffusivityMm2PerS > 0)) return 0;
  return (4 * conductivityWPerMmK * stock.temperatureRiseK) / (4 * stock.diffusivityMm2PerS) ** CONDUCTION_EXPONENT;
}

/**
 * Heat that leaks into the walls per mm of depth, W/mm, at a speed and a kerf width.
 * @outsideCheck tests/outside/conduction.test.ts holds it against the exact solution for a moving cylinder
 */
export function conductionWPerMm(stock: Stock, speedMmPerS: number, widthMm: number): number {
  return conductionScale(stock) * (speedMmPerS * widthMm) ** CONDUCTION_EXPONENT;
}

/** Why this stock cannot be computed with, in words for a person; null when it can. */
export function stockProblem(stock: Stock): string | null {
  if (!(Number.isFinite(stock.removalJPerMm3) && stock.removalJPerMm3 > 0)) {
    return `the removal energy must be above 0 J/mm³, not ${stock.removalJPerMm3}`;
  }
  if (!(stock.divergenceShare >= 0 && stock.divergenceShare <= 1)) {
    return `the divergence share lies between 0 and 1, not at ${stock.divergenceShare}`;
  }
  for (const [name, value] of [
    ['conductivity', stock.conductivityWPerMK],
    ['diffusivity', stock.diffusivityMm2PerS],
    ['temperature rise', stock.temperatureRiseK],
  ] as const) {
    if (!(Number.isFinite(value) && value >= 0)) return `the ${name} cannot be ${value}`;
  }
  if (stock.conductivityWPerMK > 0 && stock.diffusivityMm2PerS === 0)
    return 'a material that conducts heat has a diffusivity above 0';
  return null;
}
