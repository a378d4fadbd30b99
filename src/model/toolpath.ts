import type { Place, Problem } from '../source/place.ts';
import type { Found } from '../units/found.ts';
import type { MotionJournal } from './motion/motion-journal.ts';
import type { Strokes, Travels } from './strokes.ts';

/** What was in force when strokes were made, so that a sidecar's `program` can select them. Each distinct combination is kept once. */
export interface StrokeLabel {
  /** Text of the nearest comment above that stands on a line of its own (or on the line), at most 200 characters; null when none. */
  comment: string | null;
  /** Tool number in force; null when none. */
  tool: number | null;
  /** First line that bears this label. */
  line: number;
}

/** A surface area: many parallel strokes side by side, summed up and not kept. */
export interface RasterArea {
  place: Place;
  /** Last source line. */
  endLine: number;
  label: number;
  minX: number;
  minY: number;
  maxX: number;
  maxY: number;
  strokes: number;
  lengthMm: number;
  /** Length with the beam on. */
  poweredMm: number;
  /** Median distance between neighbouring lines, mm. */
  pitchMm: number;
  /** Direction of the lines, degrees from +X, 0..180. */
  directionDeg: number;
  /** Mean and highest delivered energy per area at full setting 1 (setting × s/mm / pitch): multiply by full watts for J/mm². */
  meanSettingSPerMm2: number;
  peakSettingSPerMm2: number;
  peakPlace: Place;
  speedMmPerS: number;
  reachedMmPerS: number;
  /** Unpowered run-out at line ends, mm (mean). */
  runOutMm: number;
  timeS: number;
  /** Highest setting used. */
  maxSetting: number;
  minSetting: number;
  air: boolean;
}

/** How the beam is commanded: whatever the head does, or with its motion, so that a controller may gate it while the head stands. */
export interface BeamCommand {
  mode: 'off' | 'on' | 'on-in-motion';
  /** What switched it, as the program has it ("M3"); "off" when it is off. */
  word: string;
}

/** The head stands still. */
export interface Dwell {
  place: Place;
  seconds: number;
  /** Until somebody presses a button; `seconds` is 0 then. */
  pause: boolean;
  /** Setting in force; 0 when the beam is commanded off. */
  setting: number;
  beam: BeamCommand;
  x: number;
  y: number;
}

/** A word that has to do with the beam in any dialect, whether or not the profile goes by it. */
export interface BeamWord {
  /** As the program has it ("M3", "S", "M106"). */
  word: string;
  /** The highest number that it gives; null for a word without one. */
  highest: number | null;
  /** Where it stands first. */
  place: Place;
}

/** Rapids commanded while the setting was above zero. Whether the beam burns there depends on the controller. */
export interface PoweredRapids {
  count: number;
  lengthMm: number;
  first: Place | null;
  /** The highest of their settings, a fraction of full. */
  setting: number;
}

export interface ToolpathTime {
  totalS: number;
  cuttingS: number;
  rasterS: number;
  travelS: number;
  dwellS: number;
}

export interface Bounds {
  minX: number;
  minY: number;
  maxX: number;
  maxY: number;
  minZ: number;
  maxZ: number;
}

/** What moved or left the program's frame. */
export interface ToolpathOffsets {
  /** As the program has it ("G92"), and where first. */
  used: string[];
  place: Place | null;
  /** The first that moves the work by an amount that the program does not tell; null where all can be followed. */
  unfollowed: { word: string; place: Place } | null;
  /** The first that counts from the machine's own zero, so that it can be followed only where the program's X0 Y0 is that zero. */
  fromMachine: { word: string; place: Place } | null;
}

/** The understood program: partial when there are problems. */
export interface Toolpath {
  /** Id of the reader that made it: problems in codes of its own are worded by what that reader states of them. */
  reader: string;
  bytes: number;
  lines: number;
  /** Motion commands that move the head. */
  moves: number;
  strokes: Strokes;
  labels: StrokeLabel[];
  /** Why strokes may bear another label than their own; null when each bears its own. */
  labelsEndedEarly: string | null;
  areas: RasterArea[];
  /** In program order. */
  dwells: Found<Dwell>;
  travels: Travels;
  poweredRapids: PoweredRapids;
  /** Length of all strokes, mm. */
  cutLengthMm: number;
  /** Length without power, mm: rapids, and moves at the feed outside raster areas. */
  travelLengthMm: number;
  /** Length inside raster areas at the feed, mm: powered or not. */
  rasterLengthMm: number;
  /** All motion; null when nothing moves. */
  boundsMm: Bounds | null;
  /** Powered motion only. */
  poweredBoundsMm: Bounds | null;
  time: ToolpathTime;
  /** Seconds spent on strokes, per label index. */
  timeByLabelS: number[];
  /** What went to the motion planner; there only where the reader was asked to keep it. */
  journal?: MotionJournal;
  /** In codes that every reader of toolpaths may use (`TOOLPATH_PROBLEMS`), and in the reader's own. */
  problems: Problem[];
  /** False when motion or beam could not be followed to the end: the verdict becomes `incomplete`. */
  analysed: boolean;
  /** The end of the program: whether the program itself states it (a file cut off on its way does not), and how it leaves the beam. */
  end: { place: Place; stated: boolean; beam: BeamCommand; setting: number };
  /** First place where power is commanded, the highest setting and where. */
  highestSetting: { value: number; raw: number; place: Place } | null;
  lowestPoweredSetting: { value: number; raw: number; place: Place } | null;
  highestSpeed: { mmPerS: number; place: Place } | null;
  /** What moved or left the program's frame: positions on the bed and on the sheet rest on it. */
  offsets: ToolpathOffsets;
  /** Words for the beam, in the order in which they first stand in the program. */
  beamWords: BeamWord[];
  /** Unit of lengths in the file, as far as it states one. */
  units: 'mm' | 'inch' | 'none-stated';
  /** The program switches air assist, at least once. */
  switchesAir: boolean;
}

/** What of a toolpath its moves make. */
export type MovesMade = Pick<
  Toolpath,
  | 'moves'
  | 'strokes'
  | 'areas'
  | 'travels'
  | 'poweredRapids'
  | 'cutLengthMm'
  | 'travelLengthMm'
  | 'rasterLengthMm'
  | 'boundsMm'
  | 'poweredBoundsMm'
  | 'time'
  | 'timeByLabelS'
  | 'journal'
>;
