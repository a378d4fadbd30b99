import { describe, expect, it } from 'vitest';
import { rankCauses } from '../../src/physics/diagnosis/causes.ts';
import { FAULTS } from '../../src/physics/diagnosis/fault-table.ts';
import type { FaultKind, Observation } from '../../src/physics/diagnosis/observation.ts';
import type { FailedCut } from '../../src/physics/diagnosis/ways.ts';
import { marchedDepthMm } from '../../src/physics/march/march.ts';
import { failedCutOf, faulty, KINDS, picksOf, plannedCut, rangeOf } from './simulated-fault.ts';
import { Dice } from './synthetic-shop.ts';

const FAILURES = 250;

interface Failure {
  fault: FaultKind;
  failed: FailedCut;
  seen: Observation;
}

/** A size as faults are met with: larger ones rarer, by the tail that docs/bench.md states. */
function drawnSize(fault: FaultKind, thicknessMm: number, dice: Dice): number {
  const range = rangeOf(fault, thicknessMm);
  if (range === null) return 0;
  const { size } = FAULTS[fault];
  const isFactor = size?.quantity === 'powerFactor' || size?.quantity === 'removalFactor';
  const usual = size?.usual ?? range.worst / 2;
  const [from, to] = isFactor ? [Math.log(range.mild), Math.log(range.worst)] : [range.mild, range.worst];
  for (;;) {
    const at = from + (to - from) * dice.uniform();
    if (dice.uniform() < (1 + (at / usual) ** 2) ** -1.5) return isFactor ? Math.exp(at) : at;
  }
}

const drawn = <T extends string>(shares: Record<T, number>, dice: Dice): T =>
  dice.pick(Object.keys(shares) as T[], Object.values(shares));

/** A cut that failed in a shop whose material, power and focus are off as the prediction's doubt says, with one fault besides. */
function drawnFailure(dice: Dice): Failure {
  const odds = KINDS.map((kind) => FAULTS[kind].before * (kind === 'lens-wrong' ? 2 : 1));
  for (;;) {
    const fault = dice.pick(KINDS, odds);
    const wood = dice.uniform() < 0.5;
    const times = 1.2 + 0.6 * dice.uniform();
    const failed = failedCutOf(plannedCut(wood, 30 + 50 * dice.uniform(), 5 + 15 * dice.uniform(), times));
    const { thicknessMm, doubt } = failed.cut;
    const picks = picksOf(fault, failed);
    const way = dice.pick(
      picks,
      picks.map(() => 1),
    );
    const was = faulty(fault, failed, drawnSize(fault, thicknessMm, dice), way);
    const removalJPerMm3 = was.stock.removalJPerMm3 * Math.exp(doubt.removal * dice.normal());
    const factor = Math.exp(doubt.power * dice.normal());
    const shiftMm = doubt.focusMm * dice.normal();
    const passes = was.passes.map((pass) => ({
      ...pass,
      powerW: pass.powerW * factor,
      focusMm: pass.focusMm + shiftMm,
    }));
    const depthMm = marchedDepthMm(was.beam, { ...was.stock, removalJPerMm3 }, passes);
    if (depthMm >= thicknessMm || depthMm < 0.05) continue;
    const { where, since, edge } = FAULTS[fault];
    const seen: Observation = {
      depthMm: Math.min(depthMm * Math.exp(0.1 * dice.normal()), thicknessMm * 0.99),
      kerfMm: null,
      where: drawn(where, dice),
      since: drawn(since, dice),
      edge: drawn(edge, dice),
    };
    return { fault, failed, seen };
  }
}

/** Place of the true cause among those that are named, from 0; −1 when it is not. */
function placeOf({ fault, failed }: Failure, seen: Observation): number {
  const named = rankCauses(failed, seen).causes!.filter(({ fit }) => fit !== 'not-alone');
  return named.findIndex(({ kind }) => kind === FAULTS[fault].cause);
}

// What is drawn is what the table believes, so this says how far depth and signs tell one cause from another, and nothing of whether the
// table is right. The shares found stand in docs/bench.md.
describe(`${FAILURES} failures drawn from the table, the shop off by the prediction's doubt besides`, () => {
  const dice = new Dice(14);
  const failures = Array.from({ length: FAILURES }, () => drawnFailure(dice));
  const shareWithin = (places: readonly number[], first: number) =>
    places.filter((place) => place >= 0 && place < first).length / places.length;

  it('have their cause among the first three in three of four, where depth and signs are told', () => {
    const places = failures.map((failure) => placeOf(failure, failure.seen));
    expect(shareWithin(places, 3)).toBeGreaterThan(0.75);
    expect(shareWithin(places, 1)).toBeGreaterThan(0.4);
    expect(shareWithin(places, 99), 'named at all').toBeGreaterThan(0.95);
  });

  it('have it among the first three in half, where the depth alone is told', () => {
    const places = failures.map((failure) =>
      placeOf(failure, { ...failure.seen, where: null, since: null, edge: null }),
    );
    expect(shareWithin(places, 3)).toBeGreaterThan(0.45);
    expect(shareWithin(places, 99), 'named at all').toBeGreaterThan(0.95);
  });
});
