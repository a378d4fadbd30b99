import { blurFactor, type LensShape, refractiveIndex, upsideDownBlurFactor } from './lens.ts';

/** What makes the spot: the source, the beam at the lens and the lens. */
export interface BeamInput {
  wavelengthUm: number;
  /** 1/e² diameter of the beam at the lens. */
  diameterMm: number;
  /** Beam quality M², 1 for a perfect Gaussian. */
  m2: number;
  focalMm: number;
  shape: LensShape;
  lensMaterial: string;
  /** Measured 1/e² spot along the machine's X and Y; it wins over the computed one. Null when never measured. */
  spotMm: { xMm: number; yMm: number } | null;
  /** How far it may be off where it was not measured but assumed; null or left out: all is taken as stated. */
  doubt?: BeamDoubt | null;
}

/** 1σ of the logarithm of what was assumed of a beam; 0 for what was stated. */
export interface BeamDoubt {
  /** Of the beam's diameter at the lens: the cone follows it, a computed spot falls with it and is blurred the more. */
  diameter: number;
  /** Of M², or of the whole spot where that was assumed. */
  spot: number;
  /** The spot is computed, so that it follows the diameter; false where it was stated or assumed as such. */
  computed: boolean;
  /** The least factor on the diffraction spot: M² cannot be below 1. */
  leastFactor: number;
}

/** The focused beam, as the march needs it. */
export interface Beam {
  /** 1/e² diameter at the waist; of a spot that is not round the wider side, across which a cut is shallowest. */
  spotMm: number;
  /** The part of the spot that diffraction makes. */
  diffractionMm: number;
  /** The part that spherical aberration adds; 0 where the spot was measured. */
  blurMm: number;
  /** Distance from the waist to √2 of the diffraction spot (of the measured spot where there is one). */
  rayleighMm: number;
  /** Beam diameter at the lens over focal length: the growth of the diameter per mm far from the waist. */
  cone: number;
  spotXMm: number;
  spotYMm: number;
  /** Null or left out where nothing of it was assumed. */
  doubt?: BeamDoubt | null;
}

/** Why no beam can be computed from this input, in words for a person; null when it can. */
export function beamProblem(input: BeamInput): string | null {
  const positive = (value: number) => Number.isFinite(value) && value > 0;
  if (!positive(input.wavelengthUm)) return `the wavelength must be above 0 µm, not ${input.wavelengthUm}`;
  if (!positive(input.diameterMm)) return `the beam diameter at the lens must be above 0 mm, not ${input.diameterMm}`;
  if (!(Number.isFinite(input.m2) && input.m2 >= 1))
    return `M² cannot be below 1, a perfect beam; it is given as ${input.m2}`;
  if (!positive(input.focalMm)) return `the focal length must be above 0 mm, not ${input.focalMm}`;
  if (input.spotMm !== null && !(positive(input.spotMm.xMm) && positive(input.spotMm.yMm))) {
    return `a measured spot must be above 0 mm, not ${input.spotMm.xMm} × ${input.spotMm.yMm}`;
  }
  return null;
}

/**
 * The spot that a lens makes of a beam: diffraction 4 M² λ f / (π D) plus spherical blur k D³ / f², a plain sum
 * ([II-VI], which calls it pessimistic); a measured spot wins.
 * @throws RangeError when {@link beamProblem} names a problem.
 */
export function focusBeam(input: BeamInput): Beam {
  const problem = beamProblem(input);
  if (problem !== null) throw new RangeError(problem);
  const { diameterMm, focalMm, m2 } = input;
  const cone = diameterMm / focalMm;
  const doubt = input.doubt ?? null;
  if (input.spotMm !== null) {
    const { xMm, yMm } = input.spotMm;
    const spotMm = Math.max(xMm, yMm);
    const rayleighMm = spotMm / cone;
    return { spotMm, diffractionMm: spotMm, blurMm: 0, rayleighMm, cone, spotXMm: xMm, spotYMm: yMm, doubt };
  }
  const wavelengthMm = input.wavelengthUm / 1000;
  const diffractionMm = (4 * m2 * wavelengthMm * focalMm) / (Math.PI * diameterMm);
  const { n } = refractiveIndex(input.lensMaterial, input.wavelengthUm);
  const blurMm = (blurFactor(input.shape, n) * diameterMm ** 3) / focalMm ** 2;
  const spotMm = diffractionMm + blurMm;
  const rayleighMm = diffractionMm / cone;
  return { spotMm, diffractionMm, blurMm, rayleighMm, cone, spotXMm: spotMm, spotYMm: spotMm, doubt };
}

/**
 * The spot when the same lens is put in upside down: what it blurs more is added, also to a spot that was measured the right way up. Where
 * the waist then lies hangs on how the lens is held and is not in it. Null where turning it over makes the spot no worse.
 * @throws RangeError when {@link beamProblem} names a problem.
 */
export function upsideDownBeam(input: BeamInput): Beam | null {
  const upright = focusBeam(input);
  const { n } = refractiveIndex(input.lensMaterial, input.wavelengthUm);
  const worse = upsideDownBlurFactor(input.shape, n) - blurFactor(input.shape, n);
  if (!(worse > 0)) return null;
  const addedMm = (worse * input.diameterMm ** 3) / input.focalMm ** 2;
  return {
    ...upright,
    spotMm: upright.spotMm + addedMm,
    blurMm: upright.blurMm + addedMm,
    spotXMm: upright.spotXMm + addedMm,
    spotYMm: upright.spotYMm + addedMm,
  };
}

/** 1/e² diameter of the free beam at a distance from the waist: the cone is the lens's, whatever the spot. */
export function diameterAtMm(beam: Beam, zMm: number): number {
  return Math.hypot(beam.spotMm, beam.cone * zMm);
}

export type FocusCriterion = 'sqrt2' | 'five-percent' | 'ten-percent';

/** By how much the spot may have grown at the ends of the depth of focus. */
const GROWTH: Record<FocusCriterion, number> = { sqrt2: Math.SQRT2, 'five-percent': 1.05, 'ten-percent': 1.1 };

/** Whole depth of focus, both sides of the waist: 2 z_R √(growth² − 1), so 2 z_R, 0.640 z_R and 0.917 z_R. */
export function depthOfFocusMm(beam: Beam, criterion: FocusCriterion): number {
  return 2 * beam.rayleighMm * Math.sqrt(GROWTH[criterion] ** 2 - 1);
}

/**
 * Width of the spot across a cut that runs in a direction (radians from +X). A spot that is not round is taken for an
 * elliptical Gaussian, of which this is the exact 1/e² width; along a side it is that of the rectangle.
 */
export function spotAcrossMm(beam: Beam, directionRad: number): number {
  return Math.hypot(beam.spotXMm * Math.sin(directionRad), beam.spotYMm * Math.cos(directionRad));
}

/** The beam as a cut in one direction meets it: a round beam whose spot is the width across the cut. */
export function beamAcross(beam: Beam, directionRad: number): Beam {
  return { ...beam, spotMm: spotAcrossMm(beam, directionRad) };
}
