/**
 * Lines that are addressed to the controller's or the sender's own keys and not to the program: settings, queries, homing. From memory
 * of common controllers.
 */

/** What such a line is to the program. */
export type HostLine =
  | { kind: 'passed-over' }
  | { kind: 'homes' }
  | { kind: 'motion-limits' }
  /** A numbered setting that bears on the beam. */
  | { kind: 'setting'; number: number; value: number }
  /** May move the head or change what the beam does. */
  | { kind: 'unknown' };

/** Queries, and the release of an alarm. */
const QUERIES = /^(?:\$[$#INGX]?|\?)$/i;
const HOMES = /^\$H$/i;
/** "%1000" numbers the program in ISO 6983. */
const PROGRAM_NUMBER = /^%\s*\d+$/;
const SETTING = /^\$(\d{1,3})\s*=\s*(-?\d{1,9}(?:\.\d{0,6})?)$/;

/** Pulses, idling, reports and switches: nothing of the beam, and the head goes where it went. */
const HARMLESS_SETTINGS: ReadonlySet<number> = new Set([0, 1, 4, 5, 6, 10, 12, 13, 20, 21, 22, 24, 25, 26, 27]);
/** Corners, highest speeds, accelerations. */
const LIMIT_SETTINGS: ReadonlySet<number> = new Set([11, 110, 111, 112, 120, 121, 122]);
/** Lowest S: at 0 it changes nothing. */
const LOWEST = 31;
/** What S means full power, and whether M4 scales it with the speed. */
export const FULL_SETTING = 30;
export const SCALING_SETTING = 32;

/** Tells what a line is that begins with `$`, `?`, `%`, `@` or `{`; null for any other. `bare` has neither comments nor blanks around it. */
export function readHostLine(bare: string): HostLine | null {
  if (!/^[$?%@{]/.test(bare)) return null;
  if (QUERIES.test(bare) || PROGRAM_NUMBER.test(bare)) return { kind: 'passed-over' };
  if (HOMES.test(bare)) return { kind: 'homes' };
  const setting = SETTING.exec(bare);
  if (!setting) return { kind: 'unknown' };
  const number = Number(setting[1]);
  const value = Number(setting[2]);
  if (LIMIT_SETTINGS.has(number)) return { kind: 'motion-limits' };
  if (HARMLESS_SETTINGS.has(number) || (number === LOWEST && value === 0)) return { kind: 'passed-over' };
  if (number === FULL_SETTING && value > 0) return { kind: 'setting', number, value };
  if (number === SCALING_SETTING && (value === 0 || value === 1)) return { kind: 'setting', number, value };
  return { kind: 'unknown' };
}

/** "# text": a remark. RS274 begins parameters with the same sign: those have a number or a name in angle brackets, and are set. */
export function isRemark(bare: string): boolean {
  return /^#\s*(?:$|[^\s\d<[#])/.test(bare) || (/^#\s*\d/.test(bare) && !bare.includes('='));
}
