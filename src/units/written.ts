import { formatMm, trimmed } from './format.ts';

/**
 * Quantities as a person types them and as a file holds them, so that they can be read back: no zeros behind, and more digits than a
 * message would say.
 */

/** `152 mm`, `-1.5 mm`: to a thousandth. */
export const writtenMm = (mm: number): string => `${trimmed(mm, 3)} mm`;

/** `12.7 mm/s`: to a hundredth. */
export const writtenSpeed = (mmPerS: number): string => `${trimmed(mmPerS, 2)} mm/s`;

/** A share 0…1 as `80 %`, `8.4 %`: to a tenth. */
export const writtenPercent = (fraction: number): string => `${trimmed(fraction * 100, 1)} %`;

/** `45.65 W`: to a hundredth. */
export const writtenWatts = (watts: number): string => `${trimmed(watts, 2)} W`;

/** `6.0 mm ± 0.2 mm`, `nominal 6.0 mm`. */
export function writtenThickness(thickness: { mm: number; plusMinusMm: number | null; nominal: boolean }): string {
  const tolerance = thickness.plusMinusMm === null ? '' : ` ± ${writtenMm(thickness.plusMinusMm)}`;
  return `${thickness.nominal ? 'nominal ' : ''}${formatMm(thickness.mm)}${tolerance}`;
}
