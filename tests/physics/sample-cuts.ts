import { type Beam, focusBeam } from '../../src/physics/beam/focused-beam.ts';
import type { CutInput } from '../../src/physics/doubt/predict.ts';
import type { Stock, StockDoubt } from '../../src/physics/march/stock.ts';

/** A sealed CO₂ source behind a plano-convex ZnSe lens. */
export function co2Beam(focalIn: number, diameterMm = 7, m2 = 1.2): Beam {
  return focusBeam({
    wavelengthUm: 10.6,
    diameterMm,
    m2,
    focalMm: focalIn * 25.4,
    shape: 'plano-convex',
    lensMaterial: 'ZnSe',
    spotMm: null,
  });
}

/** A beam of a given spot and Rayleigh range. */
export function beamOf(spotMm: number, rayleighMm: number): Beam {
  const cone = spotMm / rayleighMm;
  return { spotMm, diffractionMm: spotMm, blurMm: 0, rayleighMm, cone, spotXMm: spotMm, spotYMm: spotMm };
}

export const ACRYLIC: Stock = {
  removalJPerMm3: 4.17,
  divergenceShare: 0.15,
  conductivityWPerMK: 0.19,
  diffusivityMm2PerS: 0.11,
  temperatureRiseK: 350,
};

/** Pine as it was taken before published cuts were weighed: a stock for tests, not the catalogue's. */
export const PINE: Stock = {
  removalJPerMm3: 3.5,
  divergenceShare: 0.15,
  conductivityWPerMK: 0.12,
  diffusivityMm2PerS: 0.17,
  temperatureRiseK: 300,
};

/** A stock that leaks no heat. */
export function withoutConduction(removalJPerMm3: number, divergenceShare: number): Stock {
  return { removalJPerMm3, divergenceShare, conductivityWPerMK: 0, diffusivityMm2PerS: 0, temperatureRiseK: 0 };
}

export const DOUBT: StockDoubt = {
  removal: 0.25,
  divergence: { low: 0.05, high: 0.4 },
  power: 0.15,
  focusMm: 0.5,
  thicknessMm: 0.1,
};

export const NO_DOUBT: StockDoubt = {
  removal: 0,
  divergence: { low: 0.15, high: 0.15 },
  power: 0,
  focusMm: 0,
  thicknessMm: 0,
};

/** 6.35 mm pine under a 2 in lens, one pass of 50 W. */
export function pineCut(speedMmPerS: number, thicknessMm = 6.35): CutInput {
  return {
    beam: co2Beam(2),
    stock: PINE,
    doubt: DOUBT,
    passes: [{ powerW: 50, speedMmPerS, focusMm: 0 }],
    thicknessMm,
    bowMm: 0,
  };
}
