import type { Aim } from '../../job/model.ts';
import type { Location } from '../../source/place.ts';
import type { Found } from '../../units/found.ts';

/** How the artwork lies on the toolpath. */
export interface PlacementFact {
  readonly scale: number;
  readonly quarterTurns: 0 | 1 | 2 | 3;
  readonly mirrored: boolean;
  readonly dxMm: number;
  readonly dyMm: number;
  /** Mean signed distance of the toolpath from the artwork's outline, outward positive: kerf compensation when about half a kerf. */
  readonly offsetMm: number;
  readonly ambiguous: boolean | null;
}

/** An outline of the artwork of which something is not in the toolpath. */
export interface MissingOutline {
  readonly outline: number;
  readonly location: Location;
  readonly lengthMm: number;
  readonly outlineLengthMm: number;
}

/** Powered strokes in a row that the artwork does not have. */
export interface ExtraStrokes {
  readonly location: Location;
  readonly lengthMm: number;
  readonly strokes: number;
}

/** A setting of the toolpath that is not the planned one. */
export interface SettingDifference {
  readonly task: string;
  readonly what: 'power' | 'speed' | 'passes' | 'focus' | 'air';
  readonly planned: string;
  readonly found: string;
  readonly location: Location;
  readonly plannedAt: Location;
  readonly lengthMm: number;
}

/** A task whose strokes could not be told apart in the toolpath, or that selects nothing in the artwork. */
export interface UnmatchedTask {
  readonly task: string;
  readonly aim: Aim;
  readonly reason: string;
  readonly location: Location;
}

/** The toolpath held against artwork and plan. */
export interface MatchFact {
  /** Null when no placement was found. */
  readonly placement: PlacementFact | null;
  /** Why there may be a placement all the same; null when none was passed over. */
  readonly placementEndedEarly: string | null;
  /** Likely cause of a scale other than 1, in words; null when the scale is 1. */
  readonly scaleCause: string | null;
  readonly artworkLengthMm: number;
  readonly toolpathLengthMm: number;
  readonly coveredArtworkMm: number;
  readonly coveredToolpathMm: number;
  readonly missing: Found<MissingOutline>;
  readonly extra: Found<ExtraStrokes>;
  readonly settings: readonly SettingDifference[];
  readonly unmatchedTasks: readonly UnmatchedTask[];
}
