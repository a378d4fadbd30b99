import type { Location } from '../../source/place.ts';

/** One contour of through cuts in the toolpath, joined end to end. */
export interface ContourFact {
  readonly location: Location;
  readonly closed: boolean;
  /** Distance between start and end, mm; 0 when closed. */
  readonly gapMm: number;
  readonly lengthMm: number;
  /** Enclosed area, mm²; 0 when open. */
  readonly areaMm2: number;
  /** Smallest width of the enclosed part, mm; 0 when open. */
  readonly widthMm: number;
  /** How many closed contours lie around it. */
  readonly depth: number;
  readonly task: string;
  /** Strokes of all runs of it (indices), ascending. */
  readonly strokes: Uint32Array;
}

/** A square of the sheet in which much cut length is crowded into little area and time. */
export interface CrowdedPlace {
  readonly location: Location;
  /** Middle of the square, mm. */
  readonly x: number;
  readonly y: number;
  readonly cuts: number;
  readonly lengthMm: number;
  readonly areaMm2: number;
  readonly withinS: number;
  readonly jPerMm2: number;
}

/** What follows from the order in which the program cuts. */
export interface OrderFact {
  readonly contours: number;
  /** Contours cut after the contour that sets their part free. */
  readonly innerAfterOuter: readonly { readonly inner: ContourFact; readonly outer: ContourFact }[];
  /** Through contours that are neither closed nor end on another cut. */
  readonly open: readonly ContourFact[];
  /** Parts and holes set free, by their contours, the narrowest first. */
  readonly freed: readonly ContourFact[];
  readonly crowded: readonly CrowdedPlace[];
  /** Travel length over total length, 0..1. */
  readonly travelShare: number;
}
