import type { Machine } from '../../job/model.ts';
import { cornerFactor, type PowerSource, powerAtWork } from '../../physics/beam/power-at-work.ts';

/** Set power to watts at the work. */
export interface PowerFact {
  /** Watts at full setting at the near corner. */
  readonly fullW: number;
  /** One standard deviation, as a fraction. */
  readonly spread: number;
  readonly basis: 'curve' | 'measured' | 'rated';
}

export function powerSourceOf(machine: Machine): PowerSource {
  const { kind, ratedW, measuredW, curve, hoursH, atCorners } = machine.source;
  return { kind, ratedW, measuredW, curve, hoursH, atCorners };
}

/** Watts at full setting at the near corner and what they rest on; null when the profile's figures cannot be used. */
export function powerFact(machine: Machine): PowerFact | null {
  const { power } = powerAtWork(powerSourceOf(machine), 1);
  return power ? { fullW: power.powerW, spread: power.spread, basis: power.basis } : null;
}

/** Watts at the work for a setting, at a place on the bed (null: the middle of it). */
export function wattsAt(
  machine: Machine,
  setting: number,
  at: { xMm: number; yMm: number } | null,
): { powerW: number; spread: number } | null {
  const { power } = powerAtWork(powerSourceOf(machine), Math.min(1, Math.max(0, setting)));
  if (!power) return null;
  const bed = { xMm: machine.travel.xMm, yMm: machine.travel.yMm };
  const place = at ?? { xMm: bed.xMm / 2, yMm: bed.yMm / 2 };
  return { powerW: power.powerW * cornerFactor(machine.source.atCorners, place, bed), spread: power.spread };
}

/** Where on the bed the least power arrives: what is counted on where nobody says where a cut will lie. */
export function weakestPlace({ travel }: Machine): { xMm: number; yMm: number } {
  return { xMm: travel.xMm, yMm: travel.yMm };
}
