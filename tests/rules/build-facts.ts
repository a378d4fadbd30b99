import type { CutFact, PassFact, Prediction } from '../../src/facts/cuts/cut-fact.ts';
import type { JobFacts } from '../../src/facts/facts.ts';
import type { TaskFact } from '../../src/facts/tasks/task-fact.ts';
import type { Task } from '../../src/facts/types.ts';
import { everything } from '../../src/units/found.ts';
import { artwork, geometry, toolpath } from './build-files.ts';
import { at, type Change, changed, machine, material, plannedTask, sidecar } from './build-job.ts';

export * from './build-files.ts';
export { at, type Change, machine, material, plannedTask, sidecar } from './build-job.ts';

export const task = (change: Change<TaskFact> = {}, planned: Task | null = plannedTask()): TaskFact =>
  changed<TaskFact>(
    {
      name: planned?.name ?? 'toolpath',
      aim: planned?.aim ?? 'through',
      planned,
      location: at('coaster.job.yaml', 12),
      outlines: Uint32Array.of(0),
      strokes: Uint32Array.of(0),
      areas: [],
      lengthMm: 300,
      timeS: 25,
      unpoweredOutlines: everything([]),
    },
    change,
  );

export const pass = (change: Change<PassFact> = {}): PassFact =>
  changed<PassFact>(
    {
      powerW: 43.2,
      setting: 0.8,
      speedMmPerS: 12,
      programmedMmPerS: 12,
      focusMm: 0,
      air: true,
      scaled: true,
    },
    change,
  );

export const prediction = (change: Change<Prediction> = {}): Prediction =>
  changed<Prediction>(
    {
      depthMm: 7.4,
      depthLowMm: 6.1,
      depthHighMm: 9,
      throughProbability: 0.96,
      limit: 0.9,
      errorLimit: 0.14,
      kerfTopMm: 0.2,
      kerfBottomMm: 0.15,
      taperDeg: 0.3,
      energyRatio: 1.3,
      depthAfterPassMm: [7.4],
      basis: 'catalogue, ± 40 %',
    },
    change,
  );

/** A cut with its prediction changed; `passes` and other members come by `change`. */
export const cut = (change: Change<CutFact> = {}): CutFact =>
  changed<CutFact>(
    {
      task: 'outline',
      aim: 'through',
      taskIndex: 0,
      lengthMm: 300,
      passes: [pass()],
      passCount: change.passes?.length ?? 1,
      prediction: prediction(),
      notPredicted: null,
      remedies: [],
      published: null,
      location: at('coaster.gcode', 7),
      settingLocation: at('coaster.gcode', 6, 4),
      strokes: Uint32Array.of(0),
      slowestMmPerS: 11,
      cornerOverburn: 1,
      uneven: null,
      throughWithFocusStep: null,
    },
    change,
  );

/** A sound job with a toolpath and artwork, on which no rule has anything to say, with the changes given. */
export const facts = (change: Change<JobFacts> = {}): JobFacts =>
  changed<JobFacts>(
    {
      input: {
        name: 'coaster',
        sidecar: sidecar(),
        files: { sidecar: 'coaster.job.yaml', toolpath: 'coaster.gcode', artwork: 'coaster.svg' },
        home: at('coaster.job.yaml', 1),
      },
      machine: machine(),
      lens: machine().lenses[0] ?? null,
      lensAssumed: false,
      material: material(),
      materialUnknown: false,
      materialName: 'birch-plywood',
      materialMeant: null,
      thicknessMm: 6,
      thicknessSpreadMm: 0.1,
      toolpath: toolpath(),
      artwork: artwork(),
      tasks: [task()],
      tasksEndedEarly: null,
      unassignedOutlines: [],
      cuts: [cut()],
      cutsEndedEarly: null,
      unclaimed: { parting: null, open: null },
      proposals: [],
      power: { fullW: 54, spread: 0.05, basis: 'measured' },
      beam: { spotMm: 0.16, rayleighMm: 1.2, depthOfFocusMm: 2.4, spotBasis: 'computed' },
      scaleDoubt: null,
      assumed: { keys: [], narrows: null },
      longerLens: null,
      calibratedHere: false,
      time: { totalS: 26, cuttingS: 25, rasterS: 0, travelS: 1, dwellS: 0, basis: 'toolpath' },
      waste: {
        currency: 'EUR',
        atStake: 3.2,
        expected: 0.13,
        sheet: 2.9,
        machine: 0.2,
        operator: 0.1,
        tube: 0,
        energy: 0,
        missing: [],
      },
      areas: [],
      order: { contours: 1, innerAfterOuter: [], open: [], freed: [], crowded: [], travelShare: 0.06 },
      geometry: geometry(),
      match: null,
      speeds: [{ belowShare: 0, reachedMmPerS: 12, programmedMmPerS: 12, location: at('coaster.gcode', 7) }],
      onBed: { minX: 0, minY: 0, maxX: 90, maxY: 80 },
      onBedUnknown: null,
      onSheet: null,
      inputProblems: [],
      remarks: [],
      unanswered: [],
      fromOptions: false,
      budget: null,
      today: '2026-11-25',
    },
    change,
  );

/** A job of artwork alone. */
export const artworkOnly = (change: Change<JobFacts> = {}): JobFacts => {
  const base = facts({
    input: { sidecar: sidecar({ toolpath: null }), files: { toolpath: null } },
    toolpath: null,
    order: null,
    onBed: null,
    onBedUnknown: 'there is no toolpath',
    speeds: [],
  });
  return changed(base, change);
};
