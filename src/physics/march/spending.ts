import { CONDUCTION_EXPONENT } from './stock.ts';
import type { WidthProfile } from './width-profile.ts';

/** Lengths below this share of the depth are rounding. */
const ROUNDING = 1e-13;

/** Longest step through a slot already cut, where the cost may set in anywhere, as the step's share of this many depths. */
const SLOT_SHARE = 3;

/** What a pass pays per mm of depth: for the whole width, or for what a slot already cut lacks of it. */
export class Cost {
  readonly profile: WidthProfile;
  readonly removalWPerMm2: number;
  readonly conduction: number;
  readonly slot: readonly WidthProfile[] | null;
  /** How many of the slot's passes reach the stretch that is being marched. */
  count = 0;

  constructor(profile: WidthProfile, removalWPerMm2: number, conduction: number, slot: readonly WidthProfile[] | null) {
    this.profile = profile;
    this.removalWPerMm2 = removalWPerMm2;
    this.conduction = conduction;
    this.slot = slot;
  }

  at(depthMm: number): number {
    const square = this.profile.squareAt(depthMm);
    if (this.slot !== null) return this.removalWPerMm2 * this.#lackingMm(square, depthMm);
    const width = Math.sqrt(square);
    if (this.conduction === 0) return this.removalWPerMm2 * width;
    return this.removalWPerMm2 * width + this.conduction * lossAt(square);
  }

  /** By how much the slot is narrower than a width, given by its square. */
  #lackingMm(square: number, depthMm: number): number {
    const slot = this.slot!;
    let widest = 0;
    for (let i = 0; i < this.count; i++) {
      const other = slot[i]!.squareAt(depthMm);
      if (other >= square) return 0;
      if (other > widest) widest = other;
    }
    return Math.sqrt(square) - Math.sqrt(widest);
  }

  /** Whether one of the slot's passes was as wide all the way between two depths. */
  costsNothing(fromMm: number, toMm: number): boolean {
    if (this.slot === null) return false;
    const waistMm = -this.profile.focusMm;
    if (fromMm < waistMm && waistMm < toMm)
      return this.costsNothing(fromMm, waistMm) && this.costsNothing(waistMm, toMm);
    for (let i = 0; i < this.count; i++) if (this.profile.isWithin(this.slot[i]!, fromMm, toMm)) return true;
    return false;
  }
}

/** Heat lost at a width, given by its square, over that at a width of 1 mm. By logarithms: half the time of a power. */
export function lossAt(squareMm2: number): number {
  return Math.exp((CONDUCTION_EXPONENT / 2) * Math.log(squareMm2));
}

/** How a stretch is divided into steps. */
export interface Steps {
  /** Share of the length in which the width changes by its own size. */
  share: number;
  longestMm: number;
  /** Ends after the step that gets so deep: more is not asked for. */
  enoughMm: number;
}

/**
 * Spends power on a cost per mm of depth from one depth to another: Simpson's rule on steps that follow the beam's
 * own length, the last step solved for where the power ends. Returns where it ended and what is left.
 */
export function spend(
  cost: Cost,
  profile: WidthProfile,
  fromMm: number,
  toMm: number,
  powerW: number,
  step: Steps,
): { depthMm: number; leftW: number } {
  const waistMm = -profile.focusMm;
  let depth = fromMm;
  let left = powerW;
  let costHere = cost.at(depth);
  while (toMm - depth > toMm * ROUNDING) {
    if (costHere === 0 && cost.costsNothing(depth, toMm)) break;
    // A step never crosses the waist, where the walls begin to guide, nor goes far past where the power would end.
    let end = Math.min(toMm, depth + Math.min(step.share * profile.lengthAt(depth), step.longestMm));
    if (costHere > 0) end = Math.min(end, depth + (1.5 * left) / costHere);
    if (waistMm - depth > toMm * ROUNDING && end > waistMm) end = waistMm;
    const length = end - depth;
    if (!(length > depth * ROUNDING)) return { depthMm: depth, leftW: 0 };
    const costEnd = cost.at(end);
    const costMiddle = cost.at(depth + length / 2);
    const spent = (length / 6) * (costHere + 4 * costMiddle + costEnd);
    if (spent >= left) {
      return { depthMm: depth + length * partSpent(costHere, costMiddle, costEnd, left / length), leftW: 0 };
    }
    left -= spent;
    depth = end;
    if (depth >= step.enoughMm) return { depthMm: depth, leftW: left };
    costHere = costEnd;
  }
  return { depthMm: Math.max(fromMm, toMm), leftW: left };
}

/**
 * Share of a step in which a mean power is spent, on the parabola through the step's three costs, whose integral is
 * Simpson's rule: Newton on that integral, which rises.
 */
function partSpent(start: number, middle: number, end: number, leftPerLength: number): number {
  const slope = -3 * start + 4 * middle - end;
  const bend = 2 * start - 4 * middle + 2 * end;
  let part = Math.min(1, (6 * leftPerLength) / (start + 4 * middle + end));
  for (let i = 0; i < 4; i++) {
    const here = start + part * (slope + part * bend);
    if (!(here > 0)) break;
    const sum = part * (start + part * (slope / 2 + (part * bend) / 3));
    part = Math.min(1, Math.max(0, part + (leftPerLength - sum) / here));
  }
  return part;
}

/** Pays on the way down for what the slot already cut lacks in width, stretch by stretch between the ends of the earlier passes. */
export function widen(
  profile: WidthProfile,
  byReach: readonly WidthProfile[],
  removalWPerMm2: number,
  toMm: number,
  powerW: number,
  shareOfLength: number,
): { depthMm: number; leftW: number } {
  const longestMm = (toMm * shareOfLength) / SLOT_SHARE;
  const step: Steps = { share: shareOfLength, longestMm, enoughMm: Number.POSITIVE_INFINITY };
  const cost = new Cost(profile, removalWPerMm2, 0, byReach);
  let state = { depthMm: 0, leftW: powerW };
  for (let count = byReach.length; count > 0 && state.leftW > 0; count--) {
    const { depthMm, leftW } = state;
    // The pass that reached deepest may have been as wide all the rest of the way: with a focus that is lowered step by step it is.
    if (depthMm >= -profile.focusMm && profile.isWithin(byReach[0]!, depthMm, toMm)) return { depthMm: toMm, leftW };
    cost.count = count;
    state = spend(cost, profile, state.depthMm, Math.min(toMm, byReach[count - 1]!.reachMm), state.leftW, step);
  }
  return state;
}
