import type { Machine } from '../../job/model.ts';
import type { Toolpath } from '../../model/toolpath.ts';
import type { JobOrigin, TaskFact } from '../facts.ts';
import type { AreaFact } from '../geometry-facts.ts';

/** Raster areas in watts and joules, with the run-out that the machine's acceleration asks for (v²/2a). */
export function areaFacts(
  toolpath: Toolpath,
  tasks: readonly TaskFact[],
  machine: Machine,
  fullW: number,
  spotMm: number | null,
  job: JobOrigin,
): AreaFact[] {
  const file = job.files.toolpath ?? job.home.file;
  return toolpath.areas.map((area, index): AreaFact => {
    const task = tasks.find((one) => one.areas.includes(index));
    return {
      task: task?.name ?? null,
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
    };
  });
}
