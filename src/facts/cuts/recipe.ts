/** One pass as programmed: what one stroke asks of the machine. */
export interface ProgrammedPass {
  readonly setting: number;
  readonly programmedMmPerS: number;
  /** Fastest mean speed that strokes of this pass reach, mm/s. */
  readonly reachedMmPerS: number;
  /** Z of the head, mm. */
  readonly zMm: number;
  readonly air: boolean;
  readonly scaled: boolean;
}

/** Stretches that get fewer passes than the rest of the outline they belong to. */
export interface UnevenStretches {
  readonly fewest: number;
  readonly most: number;
  readonly shortMm: number;
  /** The first stroke that falls short. */
  readonly stroke: number;
}

/** All stretches of one task that receive the same ordered passes. */
export interface RecipeGroup {
  readonly taskIndex: number;
  readonly passes: readonly ProgrammedPass[];
  /** How often its stretches are run in all: where that is very often, `passes` lists the first only. */
  readonly passCount: number;
  readonly lengthMm: number;
  /** Strokes that run here, ascending. */
  readonly strokes: Uint32Array;
  /** Around the group's stretches, mm. */
  readonly box: { readonly minX: number; readonly minY: number; readonly maxX: number; readonly maxY: number };
  readonly slowestMmPerS: number;
  readonly uneven: UnevenStretches | null;
}
