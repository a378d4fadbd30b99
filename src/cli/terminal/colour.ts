import type { Io, OutputStream } from './io.ts';

export const COLOUR_CHOICES = ['auto', 'always', 'never'] as const;
export type ColourChoice = (typeof COLOUR_CHOICES)[number];

/** `auto`: on a terminal that is not dumb, unless NO_COLOR is set and not empty (https://no-color.org). */
export function wantsColour(choice: ColourChoice, out: OutputStream, env: Io['env']): boolean {
  if (choice !== 'auto') return choice === 'always';
  if ((env['NO_COLOR'] ?? '') !== '' || env['TERM'] === 'dumb') return false;
  return out.isTTY === true;
}
