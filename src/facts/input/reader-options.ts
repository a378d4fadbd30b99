import type { ToolpathOptions } from '../../gcode/toolpath.ts';
import type { Machine } from '../../job/model.ts';
import type { ArtworkOptions } from '../../svg/artwork.ts';

/** Widest pitch, in spots, is the reader's affair; the spot itself is the job's. Used when no lens is known. */
const ORDINARY_SPOT_MM = 0.15;

/** The profile as the toolpath reader needs it. `spotMm` is the beam's spot when a lens is known, else null. */
export function toolpathOptionsOf(
  machine: Machine,
  spotMm: number | null,
  onProgress?: (bytes: number) => void,
): ToolpathOptions {
  const { controller, motion } = machine;
  return {
    power: controller.power,
    m4: controller.m4,
    arcToleranceMm: controller.arcToleranceMm,
    rapidMmPerS: motion.rapidMmPerS,
    speedMmPerS: motion.speedMmPerS,
    accelerationMmPerS2: motion.accelerationMmPerS2,
    cornerDeviationMm: motion.cornerDeviationMm,
    airDelayS: motion.airDelayS,
    spotMm: spotMm ?? ORDINARY_SPOT_MM,
    ...(onProgress ? { onProgress } : {}),
  };
}

/** The profile as the artwork reader needs it. */
export function artworkOptionsOf(machine: Machine | null): ArtworkOptions {
  return { pxPerInch: machine?.artwork.pxPerInch ?? 96 };
}
