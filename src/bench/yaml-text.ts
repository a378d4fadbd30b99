import type { Thickness } from '../job/model.ts';
import { formatMm, formatPercent, trimmed } from '../units/format.ts';

/** A scalar as YAML takes it back unchanged: plain where that is safe, quoted otherwise. */
export function scalar(text: string): string {
  return /^[A-Za-z][A-Za-z0-9 ._/-]*$/.test(text) &&
    !/^(?:true|false|null|yes|no|on|off)$/i.test(text) &&
    !/ $/.test(text)
    ? text
    : JSON.stringify(text);
}

export const mmText = (mm: number): string => `${trimmed(mm, 3)} mm`;
export const speedText = (mmPerS: number): string => `${trimmed(mmPerS, 2)} mm/s`;
export const shareText = (fraction: number): string => formatPercent(fraction, 1);

/** `6.0 mm ± 0.2 mm`, `nominal 6.0 mm`. */
export function thicknessText(thickness: Thickness): string {
  const tolerance = thickness.plusMinusMm === null ? '' : ` ± ${mmText(thickness.plusMinusMm)}`;
  return `${thickness.nominal ? 'nominal ' : ''}${formatMm(thickness.mm, thickness.mm < 1 ? 2 : 1)}${tolerance}`;
}

/** The line by which an editor finds a file's schema. */
export function editorLine(schemas: string | null, name: string): string[] {
  return schemas === null ? [] : [`# yaml-language-server: $schema=${schemas}/${name}.schema.json`];
}
