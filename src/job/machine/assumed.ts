import type { Assumption, Machine } from '../model.ts';

/** What was taken for a key of the profile; null where the profile states it. */
export function assumptionOf(machine: Machine, key: string): Assumption | null {
  return machine.assumed.find((one) => one.key === key) ?? null;
}

/** 1σ of the logarithm of what was taken for a key of the profile; 0 where the profile states it. */
export function spreadOf(machine: Machine, key: string): number {
  return assumptionOf(machine, key)?.spread ?? 0;
}

/** The same machine with a key taken as stated at the value that was assumed: what is left open once it is measured. */
export function asStated(machine: Machine, key: string): Machine {
  return { ...machine, assumed: machine.assumed.filter((one) => one.key !== key) };
}
