import { cutOf, done, fullPower, type Outcome, refused, setUp } from '../../facts/bench/set-up.ts';
import { limitOf } from '../../facts/cuts/limits.ts';
import { basisOf } from '../../facts/cuts/prediction.ts';
import { type CutQuestion, nearCuts, sameStuff } from '../../facts/evidence/near-cuts.ts';
import { materialCaution } from '../../findings/caution.ts';
import type { CitedCut } from '../../job/evidence/cited-cuts.ts';
import type { HazardClass, Lens, Machine, Material, PowerSetting, Thickness } from '../../job/model.ts';
import { predictCut } from '../../physics/doubt/predict.ts';
import { roundTo } from '../../units/format.ts';

/** What published cuts are asked for; what is null is left open. */
export interface PublishedRequest {
  material: Material | null;
  thickness: Thickness | null;
  machine: Machine | null;
  lens: Lens | null;
  /** Null: the machine's recommended maximum, where one is named. A share says nothing without a machine. */
  power: PowerSetting | null;
  speedMmPerS: number | null;
  passes: number | null;
  focusMm: number;
  /** The class of each material by its id, for a list of several. */
  hazards: ReadonlyMap<string, HazardClass>;
}

/** Published cuts, and what is predicted of the recipe that they are asked for. */
export interface PublishedList {
  readonly asked: CutQuestion;
  /** Name of the material; null where any will do. */
  readonly material: string | null;
  /** Class of that material, and why it is in it; null where any will do. */
  readonly hazard: { readonly class: HazardClass; readonly reason: string } | null;
  /** The class of each material in the list by its id; one that is not known here is left out. */
  readonly hazards: Readonly<Record<string, HazardClass>>;
  readonly machine: string | null;
  /** What the material gives off or does under the beam; null where any will do. */
  readonly caution: string | null;
  /** What is predicted of the recipe on the machine; null where one of them is not whole. */
  readonly predicted: PredictedHere | null;
  /** The nearest first where a thickness is asked for, else by material, thickness and speed. */
  readonly cuts: readonly CitedCut[];
  /** Cuts of the same material and kind of source that are not near. */
  readonly others: number;
}

export interface PredictedHere {
  readonly lens: string;
  readonly focusMm: number;
  readonly depthMm: number;
  /** 5th and 95th percentile. */
  readonly depthLowMm: number;
  readonly depthHighMm: number;
  readonly throughProbability: number;
  /** The probability that a recipe is held to. */
  readonly limit: number;
  readonly basis: string;
}

/** The published cuts near a recipe, or all of them where no thickness is asked for. */
export function publishedList(all: readonly CitedCut[], request: PublishedRequest): Outcome<PublishedList> {
  const { material, machine, thickness, speedMmPerS, passes } = request;
  const power = powerOf(request);
  if (power.problem !== null) return power;
  const asked: CutQuestion = {
    kind: machine?.source.kind ?? null,
    material: material?.id ?? null,
    thicknessMm: thickness?.mm ?? null,
    powerW: power.value && roundTo(power.value.powerW, 2),
    speedMmPerS,
    passes,
  };
  const predicted = predictedHere(request, power.value);
  if (predicted.problem !== null) return predicted;
  const near = nearCuts(all, asked);
  return done({
    asked,
    material: material?.name ?? null,
    hazard: material && { class: material.hazard.class, reason: material.hazard.reason },
    hazards: hazardsOf(near, request.hazards),
    machine: machine?.id ?? null,
    caution: material && materialCaution(material),
    predicted: predicted.value,
    cuts: thickness === null ? near.sort(byMaterialAndThickness) : near,
    others: sameStuff(all, asked).length - near.length,
  });
}

function hazardsOf(cuts: readonly CitedCut[], known: ReadonlyMap<string, HazardClass>): PublishedList['hazards'] {
  const ids = [...new Set(cuts.map(({ material }) => material))].sort();
  return Object.fromEntries(ids.flatMap((id) => (known.has(id) ? [[id, known.get(id)!]] : [])));
}

function byMaterialAndThickness(a: CitedCut, b: CitedCut): number {
  if (a.material !== b.material) return a.material < b.material ? -1 : 1;
  return a.thicknessMm - b.thicknessMm || a.speedMmPerS - b.speedMmPerS;
}

/** Watts at the work, with their 1σ as a fraction. */
interface Watts {
  powerW: number;
  spread: number;
}

/** Those that are named; else those of the machine at the setting that is named, or at its recommended maximum. */
function powerOf({ machine, power }: PublishedRequest): Outcome<Watts | null> {
  if (machine === null) return done(power !== null && 'watts' in power ? { powerW: power.watts, spread: 0 } : null);
  const own = fullPower(machine, power !== null && 'fraction' in power ? power.fraction : null);
  if (own.value === null) return own;
  const { powerW, spread } = own.value;
  return done({ powerW: power !== null && 'watts' in power ? power.watts : powerW, spread });
}

function predictedHere(request: PublishedRequest, power: Watts | null): Outcome<PredictedHere | null> {
  const { material, machine, lens, thickness, speedMmPerS, focusMm } = request;
  if (!material || !machine || !lens || !thickness || !power || speedMmPerS === null) {
    return done(null);
  }
  const setup = setUp({ machine, lens, material, thickness });
  if (setup.value === null) return setup;
  const { prediction, problem } = predictCut(
    cutOf(setup.value, { ...power, speedMmPerS, passes: request.passes ?? 1, focusMm }),
  );
  if (prediction === null) return refused(problem);
  return done({
    lens: lens.id,
    focusMm,
    depthMm: roundTo(prediction.depthMm, 2),
    depthLowMm: roundTo(prediction.depthLowMm, 2),
    depthHighMm: roundTo(prediction.depthHighMm, 2),
    throughProbability: roundTo(prediction.throughProbability, 3),
    limit: limitOf(setup.value.grounds),
    basis: basisOf(setup.value.grounds),
  });
}
