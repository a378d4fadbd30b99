import { type Coverage, type CoverageOptions, coverageOf } from '../../geometry/overlap/coverage.ts';
import { findPlacement, type Placement, type PlacementSearch } from '../../geometry/placement/placement.ts';
import { placeSegments } from '../../geometry/placement/transform.ts';
import { type Segments, segmentsOf } from '../../geometry/segments/segments.ts';
import type { Artwork } from '../../model/artwork.ts';
import type { Toolpath } from '../../model/toolpath.ts';
import type { WorkBudget } from '../../units/work.ts';
import { contoursOfStrokes } from '../strokes/stroke-contours.ts';
import { segmentsOfStrokes } from '../strokes/stroke-geometry.ts';

/** Lines of artwork and toolpath this near to each other are the same line, once the kerf offset is taken off, mm. */
export const SAME_LINE_MM = 0.1;
/** A mean offset below this is rounding, mm. */
const NO_OFFSET_MM = 0.02;
/** A stroke belongs to an outline when at least so much of it runs along it. */
const OWN_SHARE = 0.5;

/** The artwork as it lies on the toolpath. */
export interface LaidOver extends PlacementSearch {
  /** What of the artwork the toolpath has; null without a placement. */
  readonly artwork: Coverage | null;
  /** What of the toolpath the artwork has; null without a placement. */
  readonly toolpath: Coverage | null;
  readonly strokeSegments: Segments;
}

/** Lays the artwork over the toolpath's powered strokes and measures what each has of the other. */
export function laidOver(toolpath: Toolpath, artwork: Artwork, work: WorkBudget): LaidOver {
  const { strokes } = toolpath;
  const all = Uint32Array.from({ length: strokes.count }, (_, i) => i);
  const strokeSegments = segmentsOfStrokes(strokes);
  const search = findPlacement(artwork.outlines, contoursOfStrokes(strokes, all), { expectYFlip: true });
  const { placement } = search;
  if (!placement) return { ...search, artwork: null, toolpath: null, strokeSegments };
  const outlines = placeSegments(placement, segmentsOf(artwork.outlines));
  const options = { ...lineOptions(placement), mostWork: work.coverage };
  return {
    ...search,
    artwork: coverageOf(outlines, strokeSegments, options),
    toolpath: coverageOf(strokeSegments, outlines, options),
    strokeSegments,
  };
}

/** When a line of the toolpath is a line of the artwork that lies so. */
export function lineOptions({ offsetMm }: Placement): CoverageOptions {
  return { toleranceMm: SAME_LINE_MM, offsetMm: Math.abs(offsetMm) > NO_OFFSET_MM ? offsetMm : 0 };
}

/** Which outline each stroke runs along. */
export interface OutlineOfStrokes {
  /** −1: none. */
  readonly of: Int32Array;
  /** Why some strokes may run along an outline that was not found; null when all were compared. */
  readonly endedEarly: string | null;
}

export function outlineOfStrokes(laid: LaidOver, strokeCount: number): OutlineOfStrokes {
  const of = new Int32Array(strokeCount).fill(-1);
  if (!laid.toolpath) return { of, endedEarly: laid.endedEarly };
  const most = new Float64Array(strokeCount);
  const lengths = new Float64Array(strokeCount);
  const { strokeSegments: segments } = laid;
  for (let s = 0; s < segments.count; s++) {
    lengths[segments.owner[s]!]! += Math.hypot(segments.x1[s]! - segments.x0[s]!, segments.y1[s]! - segments.y0[s]!);
  }
  for (const { ownerA, ownerB, lengthMm } of laid.toolpath.pairs.items) {
    if (lengthMm <= most[ownerA]! || lengthMm < lengths[ownerA]! * OWN_SHARE) continue;
    most[ownerA] = lengthMm;
    of[ownerA] = ownerB;
  }
  return { of, endedEarly: laid.toolpath.pairs.endedEarly };
}
