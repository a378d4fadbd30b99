import type { SourceKind } from '../model.ts';

/** Kinds of source as people write them: "a CO₂ source". */
export const SOURCE_NAMES: Readonly<Record<SourceKind, string>> = { co2: 'CO₂', diode: 'diode', fibre: 'fibre' };
