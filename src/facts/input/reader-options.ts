import type { Machine, PowerScale } from '../../job/model.ts';
import type { ArtworkOptions, ToolpathOptions } from '../../model/reader.ts';
import type { WorkBudget } from '../../units/work.ts';

/** Diameter that the spot is taken to have where no lens is known: close to that of the usual lenses (common practice, no source). */
const ORDINARY_SPOT_MM = 0.15;

/**
 * The profile as readers of toolpaths need it. `spotMm` is the beam's spot when a lens is known, else null.
 * @param power the machine's scale, which its profile may leave open.
 */
export function toolpathOptionsOf(
  machine: Machine,
  power: PowerScale,
  spotMm: number | null,
  onProgress?: (bytes: number) => void,
): ToolpathOptions {
  const { controller, motion } = machine;
  return {
    power,
    m4: controller.m4,
    arcToleranceMm: controller.arcToleranceMm,
    rapidMmPerS: motion.rapidMmPerS,
    speedMmPerS: motion.speedMmPerS,
    accelerationMmPerS2: motion.accelerationMmPerS2,
    cornerDeviationMm: motion.cornerDeviationMm,
    airDelayS: motion.airDelayS,
    harmless: new Set(controller.harmless.keys()),
    blockDelete: controller.blockDelete,
    spotMm: spotMm ?? ORDINARY_SPOT_MM,
    ...(onProgress ? { onProgress } : {}),
  };
}

/** The profile as readers of artwork need it. */
export function artworkOptionsOf(machine: Machine | null, work: WorkBudget): ArtworkOptions {
  return {
    pxPerInch: machine?.artwork.pxPerInch ?? 96,
    maxPoints: work.outlinePoints,
    maxRepeated: work.repeatedElements,
  };
}
