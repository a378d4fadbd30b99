import type { SourceKind } from '../model.ts';

/** What is taken for a key that a profile leaves out, by the class of its source. */
export interface ClassDefault {
  /** Path of the key in the profile, as in `beam.diameter`. */
  key: string;
  /** The value as a profile would state it. */
  text: string;
  /** Where it comes from. */
  why: string;
}

/** The defaults of a class, in the order of a profile's keys. @param ratedW the seller's power, W. */
export function classDefaults(kind: SourceKind, ratedW: number): readonly ClassDefault[] {
  const tube = kind === 'co2';
  return [
    ...(tube ? [{ key: 'source.ceiling', text: '85 %', why: 'tubes are spared above it; memory' }] : []),
    {
      key: 'beam.diameter',
      text: tube ? (ratedW < 50 ? '5 mm' : '6 mm') : kind === 'diode' ? '4 mm' : '7 mm',
      why: 'usual in this class; memory',
    },
    { key: 'beam.m2', text: tube ? '1.3' : kind === 'diode' ? '10' : '1.5', why: 'usual in this class; memory' },
    { key: 'controller.beam-off-on-rapid', text: 'unknown', why: 'nothing is taken for granted' },
    { key: 'controller.beam-off-when-stopped', text: 'unknown', why: 'nothing is taken for granted' },
  ];
}
