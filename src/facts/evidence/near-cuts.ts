import type { CitedCut } from '../../job/evidence/cited-cuts.ts';
import type { SourceKind } from '../../job/model.ts';

/** A cut that published ones are held against. What is null is left open. */
export interface CutQuestion {
  readonly kind: SourceKind | null;
  /** Id of the material. */
  readonly material: string | null;
  readonly thicknessMm: number | null;
  /** At the work. */
  readonly powerW: number | null;
  readonly speedMmPerS: number | null;
  readonly passes: number | null;
}

/** The published cuts nearest to a job's: one that parted, and one that did not; null where nobody published one. */
export interface NearestCuts {
  readonly parted: CitedCut | null;
  readonly notParted: CitedCut | null;
}

/** Farther off in thickness or power than by these factors a published cut says little of another. Definitions of this project. */
const NEAR_THICKNESS = 1.5;
const NEAR_POWER = 4;
/** How far is far: a quarter more thickness counts as much as twice the power, or twice the energy along the line (definition of this project). */
const THICKNESS_STEP = Math.log(1.25);
const POWER_STEP = Math.log(2);
const ENERGY_STEP = Math.log(2);

/** Cuts of the same material with the same kind of source, near in thickness and power, the nearest first. */
export function nearCuts(all: readonly CitedCut[], question: CutQuestion): CitedCut[] {
  return sameStuff(all, question)
    .filter(
      (cut) =>
        within(cut.thicknessMm, question.thicknessMm, NEAR_THICKNESS) &&
        within(cut.powerW, question.powerW, NEAR_POWER),
    )
    .map((cut) => ({ cut, far: distance(cut, question) }))
    .sort((a, b) => a.far - b.far)
    .map(({ cut }) => cut);
}

/** Cuts of the same material with the same kind of source. */
export function sameStuff(
  all: readonly CitedCut[],
  { kind, material }: Pick<CutQuestion, 'kind' | 'material'>,
): CitedCut[] {
  return all.filter((cut) => (material === null || cut.material === material) && (kind === null || cut.kind === kind));
}

/** Cuts that are stated well enough to be held against a prediction: not of a worn machine, and with one thing inferred at most. */
export function wellStated(cut: CitedCut): boolean {
  return cut.quality !== 'C' && !cut.worn;
}

/** The nearest that is stated well, by what came of it. */
export function nearestCuts(all: readonly CitedCut[], question: CutQuestion): NearestCuts {
  const near = nearCuts(all, question).filter(wellStated);
  return {
    parted: near.find(({ outcome }) => outcome !== 'not') ?? null,
    notParted: near.find(({ outcome }) => outcome === 'not') ?? null,
  };
}

function within(value: number, asked: number | null, factor: number): boolean {
  return asked === null || Math.abs(Math.log(value / asked)) <= Math.log(factor) + 1e-9;
}

function distance(cut: CitedCut, { thicknessMm, powerW, speedMmPerS, passes }: CutQuestion): number {
  const energy = (power: number, speed: number, count: number) => (power * count) / speed;
  const known = powerW !== null && speedMmPerS !== null;
  return Math.hypot(
    thicknessMm === null ? 0 : Math.log(cut.thicknessMm / thicknessMm) / THICKNESS_STEP,
    powerW === null ? 0 : Math.log(cut.powerW / powerW) / POWER_STEP,
    known
      ? Math.log(energy(cut.powerW, cut.speedMmPerS, cut.passes) / energy(powerW, speedMmPerS, passes ?? 1)) /
          ENERGY_STEP
      : 0,
  );
}
