import type { Location } from '../../source/place.ts';
import type { Found } from '../../units/found.ts';

/** Lines that join end to end and do not close. */
export interface OpenOutline {
  readonly outline: number;
  readonly location: Location;
  readonly gapMm: number;
  readonly lengthMm: number;
}

/** Lines that all but close. */
export interface NearlyClosedOutline {
  readonly outline: number;
  readonly location: Location;
  readonly gapMm: number;
}

/** A line that is drawn over another. */
export interface DuplicateLine {
  readonly location: Location;
  readonly other: Location;
  readonly lengthMm: number;
  readonly times: number;
}

export interface SelfCrossingOutline {
  readonly outline: number;
  readonly location: Location;
  /** The first crossing. */
  readonly xMm: number;
  readonly yMm: number;
  readonly count: number;
}

/** Two closed outlines that cross each other. */
export interface OverlappingParts {
  readonly location: Location;
  readonly other: Location;
  readonly xMm: number;
  readonly yMm: number;
}

/** A bridge of material between two cuts. */
export interface Web {
  readonly widthMm: number;
  readonly location: Location;
  readonly other: Location;
  readonly xMm: number;
  readonly yMm: number;
}

export interface NarrowFeature {
  readonly widthMm: number;
  readonly kind: 'slot' | 'hole';
  readonly location: Location;
  readonly xMm: number;
  readonly yMm: number;
}

/** Slots that are drawn with one width, or tabs that stand out by one length: what has to fit the thickness of a sheet. */
export interface JointSize {
  readonly sizeMm: number;
  readonly count: number;
  readonly kind: 'slot' | 'tab';
  readonly location: Location;
}

/** An outline too short to mean anything. */
export interface Stray {
  readonly lengthMm: number;
  readonly location: Location;
}

/** An outline that reaches outside the sheet. */
export interface OffSheetOutline {
  readonly outline: number;
  readonly location: Location;
  readonly byMm: number;
}

/** A slip of px per inch or of units: the factor that would put it right and what speaks for it. */
export interface ScaleSuspect {
  readonly factor: number;
  readonly cause: string;
  readonly evidence: string;
}

/** What the artwork's lines say about the parts; lengths mm on the page. */
export interface ArtworkGeometry {
  /** Open outlines of tasks that part the sheet. */
  readonly open: readonly OpenOutline[];
  readonly nearlyClosed: readonly NearlyClosedOutline[];
  readonly duplicates: Found<DuplicateLine>;
  readonly selfCrossing: Found<SelfCrossingOutline>;
  readonly overlappingParts: Found<OverlappingParts>;
  /** The narrowest first. */
  readonly webs: Found<Web>;
  /** Holes and slots narrower than the kerf (or barely wider), the narrowest first. */
  readonly narrow: readonly NarrowFeature[];
  /** Slots by the width they are drawn with, tabs by how far they stand out. */
  readonly joints: readonly JointSize[];
  readonly strays: readonly Stray[];
  readonly offSheet: readonly OffSheetOutline[];
  /** Drawn at 72 or 90 px/in, or in inches taken for millimetres; null when nothing speaks for it. */
  readonly scaleSuspect: ScaleSuspect | null;
  /** Kerf that these were held against, mm. */
  readonly kerfMm: number | null;
}
