/** One pass as programmed: what one stroke asks of the machine. */
export interface ProgrammedPass {
  setting: number;
  programmedMmPerS: number;
  /** Fastest mean speed that strokes of this pass reach, mm/s. */
  reachedMmPerS: number;
  /** Z of the head, mm. */
  zMm: number;
  air: boolean;
  scaled: boolean;
}

/** All stretches of one task that receive the same ordered passes. */
export interface RecipeGroup {
  taskIndex: number;
  passes: ProgrammedPass[];
  lengthMm: number;
  /** Strokes that run here, ascending. */
  strokes: Uint32Array;
  /** Middle of the box around the group's stretches, and the box, mm. */
  box: { minX: number; minY: number; maxX: number; maxY: number };
  slowestMmPerS: number;
  /** Stretches that get fewer passes than the rest of the outline they belong to. */
  uneven: { fewest: number; most: number; shortMm: number; stroke: number } | null;
}
