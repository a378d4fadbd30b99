import type { Beam } from './beam.ts';
import { CONDUCTION_EXPONENT, conductionScale, type Stock } from './stock.ts';

/** One pass of a recipe. */
export interface CutPass {
  /** At the work. */
  powerW: number;
  speedMmPerS: number;
  /** Waist above (+) or below (−) the sheet's top face. */
  focusMm: number;
}

export interface March {
  /** In endless stock, or the limit where one was given. */
  depthMm: number;
  depthAfterPassMm: number[];
  /** Width of the slot at the top face. */
  topWidthMm: number;
  /** Width of the slot at the depth reached. */
  bottomWidthMm: number;
  /** What the last pass had left when it met the limit; 0 when it ended inside. */
  powerLeftW: number;
  /** Width of the slot at a depth; 0 below the depth reached. */
  widthAtMm(depthMm: number): number;
}

/** No sheet is thicker; ends a march through stock that costs nothing. */
const DEEPEST_MM = 10_000;

/** Lengths below this share of the depth are rounding. */
const ROUNDING = 1e-13;

/** Longest step through a slot already cut, where the cost may set in anywhere, as the step's share of this many depths. */
const SLOT_SHARE = 3;

/** Step over the length in which the width changes by its own size; halving it moves no depth by 0.2 % (tested). */
const STEP_SHARE = 0.6;

/** The width that one pass removes, as a function of depth. */
class WidthProfile {
  readonly focusMm: number;
  readonly spotSquare: number;
  readonly coneSquare: number;
  readonly share: number;
  /** Square of the free beam's width where it meets the walls: the waist, or the face when the waist is above it. */
  readonly entrySquare: number;
  readonly entrySquareOffset: number;
  /** How deep this pass widened or cut the slot. */
  reachMm = 0;

  constructor(beam: Beam, share: number, focusMm: number) {
    const entry = Math.max(0, focusMm);
    this.focusMm = focusMm;
    this.spotSquare = beam.spotMm * beam.spotMm;
    this.coneSquare = beam.cone * beam.cone;
    this.share = share;
    this.entrySquareOffset = entry * entry;
    this.entrySquare = this.spotSquare + this.coneSquare * this.entrySquareOffset;
  }

  squareAt(depthMm: number): number {
    const fromWaist = depthMm + this.focusMm;
    return fromWaist <= 0
      ? this.spotSquare + this.coneSquare * fromWaist * fromWaist
      : this.entrySquare + this.share * this.coneSquare * (fromWaist * fromWaist - this.entrySquareOffset);
  }

  /**
   * Whether another pass was as wide all the way between two depths that do not lie on two sides of this one's waist; false too where that
   * cannot be told. Where this pass is a free beam, or that one is guided, the difference of the squares of their widths is convex in the
   * depth: nowhere above the greater of its ends.
   */
  isWithin(other: WidthProfile, fromMm: number, toMm: number): boolean {
    const convex = toMm <= -this.focusMm || fromMm >= -other.focusMm;
    return convex && this.squareAt(fromMm) <= other.squareAt(fromMm) && this.squareAt(toMm) <= other.squareAt(toMm);
  }

  /** Length over which the width changes by about its own size: the natural step. Endless for a perfect guide. */
  lengthAt(depthMm: number): number {
    const share = depthMm + this.focusMm < 0 ? 1 : this.share;
    return Math.sqrt(this.squareAt(depthMm) / (share * this.coneSquare));
  }
}

/** Width of the slot as the widest of the passes that reached there: the first `count` of a list whose reach falls. */
function slotWidth(byReach: readonly WidthProfile[], count: number, depthMm: number): number {
  let square = 0;
  for (let i = 0; i < count; i++) square = Math.max(square, byReach[i]!.squareAt(depthMm));
  return Math.sqrt(square);
}

/** What a pass pays per mm of depth: for the whole width, or for what a slot already cut lacks of it. */
class Cost {
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
    return this.removalWPerMm2 * width + this.conduction * square ** (CONDUCTION_EXPONENT / 2);
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

/**
 * Spends power on a cost per mm of depth from one depth to another: Simpson's rule on steps that follow the beam's
 * own length, the last step solved for where the power ends. Returns where it ended and what is left.
 */
function spend(
  cost: Cost,
  profile: WidthProfile,
  fromMm: number,
  toMm: number,
  powerW: number,
  step: { share: number; longestMm: number },
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
function widen(
  profile: WidthProfile,
  byReach: readonly WidthProfile[],
  removalWPerMm2: number,
  toMm: number,
  powerW: number,
  shareOfLength: number,
): { depthMm: number; leftW: number } {
  const step = { share: shareOfLength, longestMm: (toMm * shareOfLength) / SLOT_SHARE };
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

/**
 * Marches an energy balance down the kerf: dP/dz = −[H v w + q(v, w)], pass after pass from the depth reached, the
 * excess over the slot already cut paid for on the way down (docs/model.md). Exact to 0.1 % against both closed forms.
 * @param limitMm where the sheet ends; without it the depth is that in endless stock.
 * @param refine divides the step, to test convergence.
 * @throws RangeError for a pass without a positive finite speed or with a power or focus that is not finite.
 */
export function marchDepth(
  beam: Beam,
  stock: Stock,
  passes: readonly CutPass[],
  limitMm = DEEPEST_MM,
  refine = 1,
): March {
  const depthAfterPassMm: number[] = [];
  const { depthMm, powerLeftW, byReach } = cutSlot(beam, stock, passes, limitMm, refine, depthAfterPassMm);
  const widthAtMm = (at: number) => slotWidth(byReach, byReach.filter((each) => each.reachMm >= at).length, at);
  return {
    depthMm,
    depthAfterPassMm,
    topWidthMm: widthAtMm(0),
    bottomWidthMm: widthAtMm(depthMm),
    powerLeftW,
    widthAtMm,
  };
}

/** The depth of {@link marchDepth} alone, for those who ask for hundreds of them. */
export function marchedDepthMm(beam: Beam, stock: Stock, passes: readonly CutPass[], limitMm = DEEPEST_MM): number {
  return cutSlot(beam, stock, passes, limitMm, 1, null).depthMm;
}

interface Slot {
  depthMm: number;
  powerLeftW: number;
  /** One for each focus position that cut, deepest first. */
  byReach: WidthProfile[];
}

function cutSlot(
  beam: Beam,
  stock: Stock,
  passes: readonly CutPass[],
  limitMm: number,
  refine: number,
  depthAfterPassMm: number[] | null,
): Slot {
  const limit = Math.min(limitMm, DEEPEST_MM);
  const share = STEP_SHARE / refine;
  const scale = conductionScale(stock);
  const byReach: WidthProfile[] = [];
  let depthMm = 0;
  let powerLeftW = 0;
  const step = { share, longestMm: Number.POSITIVE_INFINITY };
  let speedMmPerS = 0;
  let conduction = 0;
  for (let p = 0; p < passes.length; p++) {
    const pass = passes[p]!;
    const problem = passProblem(pass);
    if (problem !== null) throw new RangeError(problem);
    const same = focusedAt(byReach, pass.focusMm);
    const profile = same ?? new WidthProfile(beam, stock.divergenceShare, pass.focusMm);
    const removal = stock.removalJPerMm3 * pass.speedMmPerS;
    let at = { depthMm, leftW: pass.powerW };
    if (byReach.length > (same === null ? 0 : 1)) at = widen(profile, byReach, removal, depthMm, pass.powerW, share);
    if (at.leftW > 0) {
      if (pass.speedMmPerS !== speedMmPerS) {
        speedMmPerS = pass.speedMmPerS;
        conduction = scale * speedMmPerS ** CONDUCTION_EXPONENT;
      }
      at = spend(new Cost(profile, removal, conduction, null), profile, depthMm, limit, at.leftW, step);
      depthMm = at.depthMm;
    }
    powerLeftW = at.leftW;
    depthAfterPassMm?.push(depthMm);
    profile.reachMm = Math.max(profile.reachMm, at.depthMm);
    if (same === null && profile.reachMm > 0) byReach.push(profile);
    moveUp(byReach, profile);
  }
  return { depthMm, powerLeftW, byReach };
}

/** The profile of the passes at a focus; null when there was none. */
function focusedAt(profiles: readonly WidthProfile[], focusMm: number): WidthProfile | null {
  for (let i = 0; i < profiles.length; i++) if (profiles[i]!.focusMm === focusMm) return profiles[i]!;
  return null;
}

/** Moves a profile to its place in a list of falling reach that was in order before it reached deeper. */
function moveUp(byReach: WidthProfile[], profile: WidthProfile): void {
  for (let at = byReach.indexOf(profile); at > 0 && byReach[at - 1]!.reachMm < profile.reachMm; at--) {
    byReach[at] = byReach[at - 1]!;
    byReach[at - 1] = profile;
  }
}

/** Why a pass cannot be computed, in words for a person; null when it can. A pass without power cuts nothing and is none. */
export function passProblem(pass: CutPass): string | null {
  if (!(Number.isFinite(pass.speedMmPerS) && pass.speedMmPerS > 0)) {
    return `the speed must be above 0 mm/s, not ${pass.speedMmPerS}`;
  }
  if (!(Number.isFinite(pass.powerW) && pass.powerW >= 0)) return `the power cannot be ${pass.powerW} W`;
  if (!Number.isFinite(pass.focusMm)) return `the focus cannot be ${pass.focusMm} mm`;
  return null;
}

/** What one march may take: no cut is made so, and a slip of the pen must not hang a run. */
export const MOST_PASSES = 500;
const MOST_FOCUSES = 40;

/** Why a recipe cannot be computed, in words for a person; null when it can. */
export function passesProblem(passes: readonly CutPass[]): string | null {
  if (passes.length === 0) return 'there is no pass';
  if (passes.length > MOST_PASSES) return `more than ${MOST_PASSES} passes over one cut are not computed`;
  if (new Set(passes.map((pass) => pass.focusMm)).size > MOST_FOCUSES) {
    return `passes at more than ${MOST_FOCUSES} different focus positions are not computed`;
  }
  for (const pass of passes) {
    const problem = passProblem(pass);
    if (problem !== null) return problem;
  }
  return passes.some((pass) => pass.powerW > 0) ? null : 'no pass has any power';
}
