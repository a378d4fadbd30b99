import type { Box } from '../geometry/outlines/outline.ts';
import type { Bounds } from '../model/toolpath.ts';
import { roundTo } from '../units/format.ts';
import type { CureFact } from './cure/cure-fact.ts';
import type { CutFact, RemedyFact } from './cuts/cut-fact.ts';
import type { JobFacts } from './facts.ts';
import type { ProposalFact, Recipe, ThinnerSheets } from './recipes/recipe-fact.ts';
import type { TimeFact } from './time/job-time.ts';
import type { WasteFact } from './waste/waste.ts';

/** The change that would bring a job's cuts through, or why there is none; null where nothing is to be changed. */
type Cured =
  | { readonly job: { readonly cure: CureFact }; readonly without: null }
  | { readonly job: null; readonly without: string }
  | null;

/** The facts that a result shows, in plain data, rounded to stated decimals. */
export function resultView(facts: JobFacts, cure: Cured = null) {
  const { toolpath, artwork, input } = facts;
  return {
    name: input.name,
    sidecar: input.files.sidecar,
    machine: facts.machine?.id ?? null,
    lens: facts.lens?.id ?? null,
    material: facts.material?.id ?? facts.materialName,
    thicknessMm: facts.thicknessMm,
    files: {
      ...(input.files.toolpath !== null ? { toolpath: input.files.toolpath } : {}),
      ...(input.files.artwork !== null ? { artwork: input.files.artwork } : {}),
    },
    ...(toolpath
      ? {
          toolpath: {
            moves: toolpath.moves,
            cutLengthMm: roundTo(toolpath.cutLengthMm, 3),
            rapidLengthMm: roundTo(toolpath.travelLengthMm, 3),
            timeS: roundTo(toolpath.time.totalS, 1),
            boundsMm: bounds(toolpath.boundsMm),
          },
        }
      : {}),
    ...(artwork
      ? {
          artwork: {
            outlines: artwork.outlines.length,
            lengthMm: roundTo(artwork.lengthMm, 3),
            boundsMm: bounds(artwork.boundsMm),
          },
        }
      : {}),
    ...(facts.machine?.invented ? { inventedMachine: true as const } : {}),
    assumed: facts.assumed.keys.map((one) => ({ ...one })),
    narrows: facts.assumed.narrows && { ...facts.assumed.narrows },
    tasks: facts.tasks.map(({ name, aim }) => ({ name, aim: aim as string })),
    cuts: facts.cuts.map((cut) => {
      const proposal = facts.proposals.find(({ cuts }) => cuts.includes(cut));
      return { ...cutView(cut), ...(proposal ? { reach: reachView(proposal) } : {}) };
    }),
    time: timeView(facts.time),
    ...(cure?.job ? { cure: cureView(cure.job.cure) } : {}),
    ...(cure?.without ? { noCure: cure.without } : {}),
  };
}

/** Time as shown, to a tenth of a second. */
export function timeView(time: TimeFact | null) {
  return (
    time && {
      totalS: roundTo(time.totalS, 1),
      cuttingS: roundTo(time.cuttingS, 1),
      rasterS: roundTo(time.rasterS, 1),
      travelS: roundTo(time.travelS, 1),
      dwellS: roundTo(time.dwellS, 1),
      basis: time.basis as string,
    }
  );
}

function cureView({ lens, otherLens, throughProbability, cuts, time, waste }: CureFact) {
  return {
    lens,
    otherLens,
    throughProbability,
    cuts: cuts.map(({ index, remedy, cut: { passes, prediction } }) => ({
      cut: index,
      text: remedy?.text ?? null,
      passes: passes.map(({ powerW, setting, programmedMmPerS, focusMm }) => ({
        powerW: roundTo(powerW, 2),
        setting: roundTo(setting, 4),
        speedMmPerS: roundTo(programmedMmPerS, 2),
        focusMm: roundTo(focusMm, 2),
      })),
      depthMm: prediction?.depthMm ?? null,
      depthLowMm: prediction?.depthLowMm ?? null,
      depthHighMm: prediction?.depthHighMm ?? null,
      throughProbability: prediction?.throughProbability ?? null,
      kerfMm: prediction?.kerfTopMm ?? null,
    })),
    time: timeView(time),
    waste: wasteView(waste),
  };
}

/** A cut as shown. */
export function cutView(cut: CutFact) {
  const { prediction } = cut;
  return {
    task: cut.task,
    aim: cut.aim as string,
    lengthMm: roundTo(cut.lengthMm, 2),
    passes: cut.passes.map(({ powerW, speedMmPerS, focusMm }) => ({
      powerW: roundTo(powerW, 2),
      speedMmPerS: Number.isNaN(speedMmPerS) ? null : roundTo(speedMmPerS, 2),
      focusMm: roundTo(focusMm, 2),
    })),
    depthMm: prediction?.depthMm ?? null,
    depthLowMm: prediction?.depthLowMm ?? null,
    depthHighMm: prediction?.depthHighMm ?? null,
    throughProbability: prediction?.throughProbability ?? null,
    kerfMm: prediction?.kerfTopMm ?? null,
    basis: prediction?.basis ?? null,
    line: cut.location.line,
    remedies: cut.remedies.map(remedyView),
  };
}

/** What the machine can do about a cut that has no settings. */
function reachView({ surest, proposed, limitedBy, limit, thinner }: ProposalFact) {
  return {
    surest: recipeView(surest),
    proposed: proposed && recipeView(proposed),
    limitedBy: limitedBy.map(({ kind, value }) => ({
      kind: kind as string,
      value: value === null ? null : roundTo(value, 3),
    })),
    limit,
    ...(thinner ? { thinner: thinnerView(thinner) } : {}),
  };
}

function thinnerView({ stacked, thickestMm }: ThinnerSheets) {
  return { stacked: stacked && { layers: stacked.layers, layerMm: stacked.layerMm }, thickestMm };
}

function recipeView({ powerW, setting, ...rest }: Recipe) {
  return { ...rest, powerW: roundTo(powerW, 2), setting: roundTo(setting, 4) };
}

/** A remedy without the members that do not apply to it. */
function remedyView(remedy: RemedyFact): Record<string, unknown> {
  return Object.fromEntries(
    Object.entries(remedy)
      .filter(([, value]) => value !== null)
      .map(([key, value]) => [key, typeof value === 'number' ? roundTo(value, 3) : value]),
  );
}

/** Waste as shown: amounts without the words on what could not be priced. */
export function wasteView(waste: WasteFact | null) {
  if (!waste) return null;
  const { missing: _missing, ...amounts } = waste;
  return amounts;
}

function bounds(box: Bounds | Box | null) {
  return (
    box && {
      minX: roundTo(box.minX, 3),
      minY: roundTo(box.minY, 3),
      maxX: roundTo(box.maxX, 3),
      maxY: roundTo(box.maxY, 3),
    }
  );
}
