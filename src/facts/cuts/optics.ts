import type { Lens, Machine } from '../../job/model.ts';
import {
  type Beam,
  type BeamInput,
  beamAcross,
  beamProblem,
  depthOfFocusMm,
  focusBeam,
  spotAcrossMm,
  upsideDownBeam,
} from '../../physics/beam/focused-beam.ts';

/** What the lens does with this machine's beam. */
export interface BeamFact {
  readonly spotMm: number;
  readonly rayleighMm: number;
  /** √2 criterion. */
  readonly depthOfFocusMm: number;
  readonly spotBasis: 'measured' | 'computed';
}

/** The lens that a job is cut with, and its beam as an outline feels it. */
export interface Optics {
  /** Null when the machine is not known or has no such lens. */
  readonly lens: Lens | null;
  /** Null without a lens, and where the profile's figures give none: then `problem` says why. */
  readonly beam: Beam | null;
  readonly problem: string | null;
}

/** The lens asked for, the machine's first when none is (`wanted` null), with its beam. */
export function opticsOf(machine: Machine | null, wanted: string | null): Optics {
  const lens = machine && chooseLens(machine, wanted);
  if (!machine || !lens) return { lens: null, beam: null, problem: null };
  const { beam, problem } = beamOf(machine, lens);
  return { lens, beam: beam && widestAcross(beam), problem };
}

function chooseLens(machine: Machine, wanted: string | null): Lens | null {
  if (wanted === null) return machine.lenses[0] ?? null;
  return machine.lenses.find((lens) => lens.id === wanted) ?? null;
}

/** The beam of one of the machine's lenses, or why there is none. */
export function beamOf(machine: Machine, lens: Lens): { beam: Beam; problem: null } | { beam: null; problem: string } {
  const input = beamInputOf(machine, lens);
  const problem = beamProblem(input);
  return problem === null ? { beam: focusBeam(input), problem: null } : { beam: null, problem };
}

/** The beam of a lens put in upside down; null where it would be no worse, or where the profile's figures give none. */
export function upsideDownBeamOf(machine: Machine, lens: Lens): Beam | null {
  const input = beamInputOf(machine, lens);
  return beamProblem(input) === null ? upsideDownBeam(input) : null;
}

function beamInputOf(machine: Machine, lens: Lens): BeamInput {
  return {
    wavelengthUm: machine.source.wavelengthUm,
    diameterMm: machine.beam.diameterMm,
    m2: machine.beam.m2,
    focalMm: lens.focalMm,
    shape: lens.shape,
    lensMaterial: lens.material,
    spotMm: lens.spotMm,
  };
}

export function beamFact(beam: Beam, lens: Lens): BeamFact {
  return {
    spotMm: beam.spotMm,
    rayleighMm: beam.rayleighMm,
    depthOfFocusMm: depthOfFocusMm(beam, 'sqrt2'),
    spotBasis: lens.spotMm ? 'measured' : 'computed',
  };
}

/** A diode's spot is a rectangle: an outline runs in every direction, so its widest side governs. */
export function widestAcross(beam: Beam): Beam {
  if (beam.spotXMm === beam.spotYMm) return beam;
  const alongX = spotAcrossMm(beam, 0);
  const alongY = spotAcrossMm(beam, Math.PI / 2);
  return beamAcross(beam, alongX >= alongY ? 0 : Math.PI / 2);
}
