import type { Machine } from '../../job/model.ts';
import type { Toolpath } from '../../model/toolpath.ts';
import type { Location } from '../../source/place.ts';
import type { JobOrigin } from '../input/job-origin.ts';
import type { Assignment } from '../tasks/tasks.ts';

/** A surface area of the toolpath as the sheet will feel it. */
export interface AreaFact {
  /** Task name, or null when it belongs to none. */
  readonly task: string | null;
  readonly location: Location;
  readonly peakLocation: Location;
  readonly strokes: number;
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
  readonly pitchMm: number;
  /** Spot at the face, mm. */
  readonly spotMm: number | null;
  readonly meanJPerMm2: number | null;
  readonly peakJPerMm2: number | null;
  readonly speedMmPerS: number;
  readonly reachedMmPerS: number;
  /** Unpowered run-out at line ends as programmed, and what the acceleration asks for, mm. */
  readonly runOutMm: number;
  readonly runOutNeededMm: number;
  readonly air: boolean;
}

/** Raster areas in watts and joules, with the run-out that the machine's acceleration asks for (v²/2a). */
export function areaFacts(input: {
  job: JobOrigin;
  toolpath: Toolpath | null;
  assignment: Assignment;
  machine: Machine | null;
  fullW: number;
  spotMm: number | null;
}): AreaFact[] {
  const { job, toolpath, assignment, machine, fullW, spotMm } = input;
  if (!toolpath || !machine) return [];
  const file = job.files.toolpath ?? job.home.file;
  return toolpath.areas.map((area, index) => ({
    task: assignment.tasks[assignment.ofArea[index]!]?.name ?? null,
    location: { file, ...area.place },
    peakLocation: { file, ...area.peakPlace },
    strokes: area.strokes,
    minX: area.minX,
    minY: area.minY,
    maxX: area.maxX,
    maxY: area.maxY,
    pitchMm: area.pitchMm,
    spotMm,
    meanJPerMm2: fullW > 0 ? area.meanSettingSPerMm2 * fullW : null,
    peakJPerMm2: fullW > 0 ? area.peakSettingSPerMm2 * fullW : null,
    speedMmPerS: area.speedMmPerS,
    reachedMmPerS: area.reachedMmPerS,
    runOutMm: area.runOutMm,
    runOutNeededMm: area.speedMmPerS ** 2 / (2 * machine.motion.accelerationMmPerS2),
    air: area.air,
  }));
}
