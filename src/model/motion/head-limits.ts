import type { MotionLimits } from '../../geometry/motion/planner.ts';

/** What the head can do, and how fine its beam is. */
export interface HeadLimits extends MotionLimits {
  /** Speed of rapids, mm/s. */
  rapidMmPerS: number;
  /** Fastest speed at a programmed feed, mm/s. */
  speedMmPerS: number;
  /** Diameter of the beam's spot, mm: parallel strokes closer than two of it make a raster. */
  spotMm: number;
}
