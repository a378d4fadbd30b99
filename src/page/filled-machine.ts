import { stringify } from 'yaml';

/** What the form asks of a machine that has no profile; what is left empty is not stated. */
export interface MachineFields {
  kind: string;
  ratedW: string;
  focalMm: string;
  beamMm: string;
  /** The S that gives full power. */
  fullPower: string;
}

/** The id under which the filled-in machine goes. */
export const FILLED_MACHINE = 'as-filled-in';

/** A machine profile from the form, as a person would write it; numbers go in as typed, so that a wrong one is named. */
export function machineProfile({ kind, ratedW, focalMm, beamMm, fullPower }: MachineFields): string {
  const full = fullPower.trim();
  return stringify({
    kerflint: 1,
    id: FILLED_MACHINE,
    source: { kind, rated: `${ratedW.trim()} W` },
    ...(beamMm.trim() === '' ? {} : { beam: { diameter: `${beamMm.trim()} mm` } }),
    lenses: [{ id: 'fitted', focal: `${focalMm.trim()} mm` }],
    travel: { x: '1000 mm', y: '1000 mm' },
    ...(full === ''
      ? {}
      : { controller: { power: { word: 'S', full: Number.isNaN(Number(full)) ? full : Number(full) } } }),
  });
}
