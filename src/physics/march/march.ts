import type { Beam } from '../beam/focused-beam.ts';
import { type CutPass, passProblem } from './passes.ts';
import { Cost, lossAt, type Steps, spend, widen } from './spending.ts';
import { CONDUCTION_EXPONENT, conductionScale, type Stock } from './stock.ts';
import { slotWidth, WidthProfile } from './width-profile.ts';

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

/** Step over the length in which the width changes by its own size; halving it moves no depth by 0.2 % (tested). */
const STEP_SHARE = 0.6;

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
  const { depthMm, powerLeftW, byReach } = cutSlot(beam, stock, passes, { limitMm, refine, depthAfterPassMm });
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
  return cutSlot(beam, stock, passes, { limitMm }).depthMm;
}

/**
 * The depth in endless stock up to a depth that is enough, for those who ask on which side of it a cut ends: where the answer is below it, it is
 * the very number of {@link marchedDepthMm}; else that number is no less than the answer.
 */
export function depthUpToMm(beam: Beam, stock: Stock, passes: readonly CutPass[], enoughMm: number): number {
  return cutSlot(beam, stock, passes, { enoughMm }).depthMm;
}

/** What one pass spends from the face down to a depth, but for the factors that do not hang on the beam. */
export interface SpentToDepth {
  /** Width summed over the depth, mm²: times removal energy and speed it is a power. */
  widths: number;
  /** Likewise the width to the exponent of conduction: times the loss at a width of 1 mm it is a power. */
  powers: number;
  /** The greatest width above the depth. */
  widestAbove: Widest;
  /** Likewise from the depth down to a quarter more. */
  widestBelow: Widest;
}

/** A width and the heat that is lost at it, over that at a width of 1 mm. */
export interface Widest {
  widthMm: number;
  loss: number;
}

/** The width falls to the waist and rises from there: on any stretch it is greatest at an end. */
function widestOf(profile: WidthProfile, fromMm: number, toMm: number): Widest {
  const squareMm2 = Math.max(profile.squareAt(fromMm), profile.squareAt(toMm));
  return { widthMm: Math.sqrt(squareMm2), loss: lossAt(squareMm2) };
}

/** How far below a depth the width is asked for, as a factor on the depth. */
export const BELOW = 1.25;

/** By the march's own steps and rule, so that it agrees with a march to what those err by. NaN where the depth is not above 0. */
export function spentToDepth(beam: Beam, divergenceShare: number, focusMm: number, depthMm: number): SpentToDepth {
  const profile = new WidthProfile(beam, divergenceShare, focusMm);
  const isDepth = depthMm > 0 && depthMm <= DEEPEST_MM;
  let widths = isDepth ? 0 : Number.NaN;
  let powers = 0;
  let square = profile.squareAt(0);
  for (let depth = 0; isDepth && depth < depthMm; ) {
    let end = Math.min(depthMm, depth + STEP_SHARE * profile.lengthAt(depth));
    if (depth < -focusMm && end > -focusMm) end = -focusMm;
    const middle = profile.squareAt((depth + end) / 2);
    const last = profile.squareAt(end);
    const sixth = (end - depth) / 6;
    widths += sixth * (Math.sqrt(square) + 4 * Math.sqrt(middle) + Math.sqrt(last));
    powers += sixth * (lossAt(square) + 4 * lossAt(middle) + lossAt(last));
    if (!(end > depth)) break;
    depth = end;
    square = last;
  }
  const widestAbove = widestOf(profile, 0, depthMm);
  return { widths, powers, widestAbove, widestBelow: widestOf(profile, depthMm, BELOW * depthMm) };
}

interface Slot {
  depthMm: number;
  powerLeftW: number;
  /** One for each focus position that cut, deepest first. */
  byReach: WidthProfile[];
}

/** How far a march goes and in what steps; what is left out bears on nothing. */
interface SlotOptions {
  limitMm?: number;
  enoughMm?: number;
  refine?: number;
  /** Filled with the depth after each pass. */
  depthAfterPassMm?: number[];
}

function cutSlot(beam: Beam, stock: Stock, passes: readonly CutPass[], options: SlotOptions): Slot {
  const { limitMm = DEEPEST_MM, enoughMm = Number.POSITIVE_INFINITY, refine = 1, depthAfterPassMm } = options;
  const limit = Math.min(limitMm, DEEPEST_MM);
  const share = STEP_SHARE / refine;
  const scale = conductionScale(stock);
  const byReach: WidthProfile[] = [];
  let depthMm = 0;
  let powerLeftW = 0;
  const step: Steps = { share, longestMm: Number.POSITIVE_INFINITY, enoughMm };
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
    if (depthMm >= enoughMm) break;
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
