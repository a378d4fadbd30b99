import { stringify } from 'yaml';

/** What the form asks of a machine that has no profile. */
export interface MachineFields {
  kind: string;
  ratedW: string;
  focalMm: string;
  beamMm: string;
}

/** The id under which the filled-in machine goes. */
export const FILLED_MACHINE = 'as-filled-in';

const WAVELENGTHS: Record<string, string> = { co2: '10.6 um', diode: '450 nm', fibre: '1.064 um' };

/** A machine profile from the form, as a person would write it; numbers go in as typed, so that a wrong one is named. */
export function machineProfile({ kind, ratedW, focalMm, beamMm }: MachineFields): string {
  return stringify({
    kerflint: 1,
    id: FILLED_MACHINE,
    source: { kind, wavelength: WAVELENGTHS[kind] ?? '10.6 um', rated: `${ratedW.trim()} W` },
    beam: { diameter: `${beamMm.trim()} mm`, m2: 1.2 },
    lenses: [{ id: 'fitted', focal: `${focalMm.trim()} mm` }],
    travel: { x: '1000 mm', y: '1000 mm' },
  });
}
