import type { Machine } from '../facts/types.ts';
import type { NotApplicable } from './rule.ts';

/** Whether a key of the machine's profile was left open, so that its value is a default of the class and must not be quoted as the profile's. */
export function isAssumed(machine: Machine, key: string): boolean {
  return machine.assumed.some((one) => one.key === key);
}

/** The answer of a rule that rests on watts where the program seems to count power on another scale: that is said first. */
export const SCALE_IN_DOUBT: NotApplicable = {
  notApplicable: 'the program seems to count power on another scale than the machine (power/scale-mismatch)',
};
