import { spreadOf } from '../../job/machine/assumed.ts';
import type { Lens, Machine } from '../../job/model.ts';
import {
  type Beam,
  type BeamDoubt,
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
  readonly spotBasis: 'measured' | 'computed' | 'assumed';
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
    doubt: beamDoubtOf(machine, lens),
  };
}

/** How far the beam of a lens may be off by what the profile leaves open; null where it leaves nothing open of it. */
function beamDoubtOf(machine: Machine, lens: Lens): BeamDoubt | null {
  const computed = lens.spotMm === null;
  const diameter = spreadOf(machine, 'beam.diameter');
  const spot = spreadOf(machine, computed ? 'beam.m2' : spotKey(lens));
  if (diameter === 0 && spot === 0) return null;
  return { diameter, spot, computed, leastFactor: computed ? 1 / machine.beam.m2 : 0 };
}

/** Key of the profile that states the spot of a lens. */
export const spotKey = (lens: Lens): string => `lenses.${lens.id}.spot`;

/** What the lens of a job does with the machine's beam; null where there is no beam. */
export function beamFact(machine: Machine | null, { lens, beam }: Optics): BeamFact | null {
  if (machine === null || lens === null || beam === null) return null;
  const spotBasis = spreadOf(machine, spotKey(lens)) > 0 ? 'assumed' : 'measured';
  return {
    spotMm: beam.spotMm,
    rayleighMm: beam.rayleighMm,
    depthOfFocusMm: depthOfFocusMm(beam, 'sqrt2'),
    spotBasis: lens.spotMm ? spotBasis : 'computed',
  };
}

/** The beam as if nothing of it had been assumed. */
export function withoutDoubt(beam: Beam): Beam {
  return (beam.doubt ?? null) === null ? beam : { ...beam, doubt: null };
}

/** A diode's spot is a rectangle: an outline runs in every direction, so its widest side governs. */
export function widestAcross(beam: Beam): Beam {
  if (beam.spotXMm === beam.spotYMm) return beam;
  const alongX = spotAcrossMm(beam, 0);
  const alongY = spotAcrossMm(beam, Math.PI / 2);
  return beamAcross(beam, alongX >= alongY ? 0 : Math.PI / 2);
}
