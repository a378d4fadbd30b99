import type { Location } from '../source/place.ts';

/** A surface area of the toolpath as the sheet will feel it. */
export interface AreaFact {
  /** Task name, or null when none claims it. */
  task: string | null;
  location: Location;
  peakLocation: Location;
  strokes: number;
  minX: number;
  minY: number;
  maxX: number;
  maxY: number;
  pitchMm: number;
  /** Spot at the face, mm. */
  spotMm: number | null;
  meanJPerMm2: number | null;
  peakJPerMm2: number | null;
  speedMmPerS: number;
  reachedMmPerS: number;
  /** Unpowered run-out at line ends as programmed, and what the acceleration asks for, mm. */
  runOutMm: number;
  runOutNeededMm: number;
  air: boolean;
}

/** One contour of through cuts in the toolpath, joined end to end. */
export interface ContourFact {
  location: Location;
  closed: boolean;
  /** Distance between start and end, mm; 0 when closed. */
  gapMm: number;
  lengthMm: number;
  /** Enclosed area, mm²; 0 when open. */
  areaMm2: number;
  /** Smallest width of the enclosed part, mm; 0 when open. */
  widthMm: number;
  /** How many closed contours lie around it. */
  depth: number;
  task: string;
}

/** What follows from the order in which the program cuts. */
export interface OrderFact {
  contours: number;
  /** Contours cut after the contour that sets their part free. */
  innerAfterOuter: { inner: ContourFact; outer: ContourFact }[];
  /** Through contours that are neither closed nor end on another cut. */
  open: ContourFact[];
  /** Small parts set free that may tip up: width between the smallest that stands and the nozzle's reach. */
  freed: ContourFact[];
  /** Places where much cut length is crowded into little area and time. */
  crowded: {
    location: Location;
    x: number;
    y: number;
    cuts: number;
    lengthMm: number;
    areaMm2: number;
    withinS: number;
    jPerMm2: number;
  }[];
  /** Travel length over total length, 0..1. */
  travelShare: number;
}

/** Findings of geometry in the artwork; lengths mm on the page. */
export interface ArtworkGeometry {
  /** Open outlines of tasks that part the sheet. */
  open: { outline: number; location: Location; gapMm: number; lengthMm: number }[];
  nearlyClosed: { outline: number; location: Location; gapMm: number }[];
  duplicates: { location: Location; other: Location; lengthMm: number; times: number }[];
  selfCrossing: { outline: number; location: Location; xMm: number; yMm: number; count: number }[];
  overlappingParts: { location: Location; other: Location; xMm: number; yMm: number }[];
  webs: { widthMm: number; location: Location; other: Location; xMm: number; yMm: number }[];
  /** Holes and slots narrower than the kerf (or barely wider). */
  narrow: { widthMm: number; kind: 'slot' | 'hole'; location: Location; xMm: number; yMm: number }[];
  /** Slots by the width they are drawn with, tabs by how far they stand out: what has to fit the thickness of a sheet. */
  joints: { sizeMm: number; count: number; kind: 'slot' | 'tab'; location: Location }[];
  strays: { lengthMm: number; location: Location; count: number }[];
  /** Outlines that reach outside the sheet. */
  offSheet: { outline: number; location: Location; byMm: number }[];
  /** Drawn at 72 or 90 px/in, or in inches taken for millimetres: the factor that would put it right and what speaks for it. */
  scaleSuspect: { factor: number; cause: string; evidence: string } | null;
  /** Kerf that these were held against, mm. */
  kerfMm: number | null;
}

/** The toolpath laid over the artwork. */
export interface MatchFact {
  /** Null when no placement was found. */
  placement: {
    scale: number;
    quarterTurns: 0 | 1 | 2 | 3;
    mirrored: boolean;
    dxMm: number;
    dyMm: number;
    /** Mean signed distance of the toolpath from the artwork's outline, outward positive: kerf compensation when about half a kerf. */
    offsetMm: number;
    ambiguous: boolean;
  } | null;
  /** Likely cause of a scale other than 1, in words; null when the scale is 1. */
  scaleCause: string | null;
  artworkLengthMm: number;
  toolpathLengthMm: number;
  coveredArtworkMm: number;
  coveredToolpathMm: number;
  missing: { outline: number; location: Location; lengthMm: number; outlineLengthMm: number }[];
  extra: { location: Location; lengthMm: number; strokes: number }[];
  settings: {
    task: string;
    what: 'power' | 'speed' | 'passes' | 'focus' | 'air';
    planned: string;
    found: string;
    location: Location;
    plannedAt: Location;
    lengthMm: number;
  }[];
  /** Tasks whose strokes could not be told apart in the toolpath, with the reason. */
  unmatchedTasks: { task: string; reason: string; location: Location }[];
}

/** Speed and focus of one cut as the machine will really do it, beyond the recipe. */
export interface SpeedFact {
  /** Share of the cut's length on which the programmed speed is never reached. */
  belowShare: number;
  reachedMmPerS: number;
  programmedMmPerS: number;
  location: Location;
}
