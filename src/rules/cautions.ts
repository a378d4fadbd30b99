/**
 * The usual cautions, in one wording for messages, pages and `explain`. They name what to ask; they never judge that
 * something may be done.
 */
export const FUMES =
  'Cutting gives off fumes, and some of them injure people and machines. Read the sheet’s safety data sheet (section 10 names the products of decomposition), keep extraction running and filtered as the machine’s manual and local codes ask, and have fume questions settled by the people licensed to judge them. No finding here means only that nothing was found in what was checked.';

export const FIRE =
  'A beam that stands still, moves too slowly or meets a flammable sheet can start a fire. Never leave a running job unattended; keep an extinguisher that suits the material and the machine at hand; follow the machine’s manual and local fire codes (NFPA 115 treats laser fire protection). No finding here means only that nothing was found in what was checked.';

export const BEAM =
  'The beam, direct or reflected, blinds and burns. Keep the enclosure closed and its interlocks working, follow the machine’s manual, and leave work on the beam path to people trained for it (IEC 60825-1, ISO 11553-1 and ANSI Z136.1 are the standards to ask for). No finding here means only that nothing was found in what was checked.';

export const CRASH =
  'A part that has tipped up, a clamp, a raised corner of the sheet or the end of the travel stops the head, tears at nozzle and lens, and may hold the beam on one place, where it burns. Keep the way of head and nozzle clear, run the outline with the beam off first, stay within reach of the stop, and follow the machine’s manual. No finding here means only that nothing was found in what was checked.';
