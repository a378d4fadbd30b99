import type { Place, Problem } from '../source/place.ts';
import type { Found } from '../units/found.ts';

/**
 * What the reader of toolpaths needs to know of the controller and the motion system. Plain data: `src/facts` maps the
 * machine's profile onto it.
 */
export interface ToolpathOptions {
  /** Which words carry the power setting and which number means full power. */
  power: { word: 'S' | 'M106' | 'analog'; full: number };
  /** What M4 does: power follows the speed the head really has, or stays constant. */
  m4: 'scaled-with-speed' | 'constant';
  /** Greatest difference between start and end radius of a centre arc that the controller accepts, mm. */
  arcToleranceMm: number;
  /** Head speed on G0, mm/s. */
  rapidMmPerS: number;
  /** Fastest speed of the head, mm/s. */
  speedMmPerS: number;
  accelerationMmPerS2: number;
  /** Junction deviation, mm. */
  cornerDeviationMm: number;
  /** Wait for air assist to come on, s. */
  airDelayS: number;
  /** Line pitch up to which parallel strokes are taken for a raster, as a multiple of the spot. */
  spotMm: number;
  /** Called now and then with the number of bytes read. */
  onProgress?: (bytes: number) => void;
}

/**
 * Powered motion, kept as parallel arrays in program order. Index i is one stroke: a line or an arc.
 * Coordinates are mm in the machine's frame (work offsets and G92 applied where they are known).
 */
export interface Strokes {
  count: number;
  startX: Float64Array;
  startY: Float64Array;
  startZ: Float64Array;
  endX: Float64Array;
  endY: Float64Array;
  endZ: Float64Array;
  /** Arc centre; without meaning on a line. Arcs outside the XY plane are kept as short lines. */
  centreX: Float64Array;
  centreY: Float64Array;
  /** Signed angle swept in radians, anticlockwise positive; 0 on a line. A full circle is ±2π, more turns are more. */
  sweepRad: Float64Array;
  /** Power setting as a fraction of full, 0..1 (may exceed 1 when the program asks for more). */
  setting: Float64Array;
  /** Programmed speed, mm/s; NaN when no feed was in force. */
  speedMmPerS: Float64Array;
  /** Length over time as the motion planner sees it: the mean speed really reached, mm/s. */
  reachedMmPerS: Float64Array;
  /** Slowest speed of the head inside the stroke (at its ends), mm/s. */
  slowestMmPerS: Float64Array;
  /** 1-based source line. */
  line: Uint32Array;
  /** Index into `Toolpath.labels`. */
  label: Uint32Array;
  /** Bit 0: power scaled with speed (M4). Bit 1: the beam was off, or the head elsewhere, before this stroke (a new path starts). Bit 2: air assist on. */
  flags: Uint8Array;
}

export const STROKE_SCALED = 1;
export const STROKE_STARTS_PATH = 2;
export const STROKE_AIR = 4;

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

/** The head stands still. */
export interface Dwell {
  place: Place;
  seconds: number;
  /** M0 or M1: until somebody presses a button; `seconds` is 0 then. */
  pause: boolean;
  /** Setting in force; 0 when the beam is commanded off. */
  setting: number;
  /** Spindle state in force. */
  mode: 'M3' | 'M4' | 'off';
  x: number;
  y: number;
}

/** A rapid (G0) or unpowered feed. Kept only for pictures and the travel share: capped, in program order. */
export interface Travels {
  count: number;
  /** x0, y0, x1, y1 per travel. */
  xy: Float32Array;
  /** More travels than were kept. */
  dropped: number;
}

/** G0 moves commanded while the setting was above zero. Whether the beam burns there depends on the controller. */
export interface PoweredRapids {
  count: number;
  lengthMm: number;
  first: Place | null;
  setting: number;
}

/** Problem codes of the toolpath reader; each has args named in the reader's documentation. */
export type ToolpathProblemCode =
  | 'unreadable-word' // {text, reason}: a word or number that cannot be taken
  | 'line-too-long' // {length, limit}
  | 'binary' // {byte}: NUL or other control bytes: not a text program
  | 'empty' // no motion words at all
  | 'not-analysed' // {what, text, lines}; what: 'o-word' | 'expression' | 'parameter' | 'subprogram' | 'canned-cycle' | 'spline' | 'extra-axis' | 'output' | 'cutter-compensation' | 'tool-length-offset' | 'unknown-code' | 'setting' | 'too-many-strokes'
  | 'arc-mismatch' // {startRadiusMm, endRadiusMm, differenceMm, toleranceMm}
  | 'arc-no-centre' // {}
  | 'arc-radius-too-small' // {radiusMm, chordMm}
  | 'modal-conflict' // {first, second, group}
  | 'missing-feed' // {} a feed move with no F in force
  | 'zero-feed' // {feed}
  | 'negative-power' // {value}
  | 'power-without-beam' // {value}: S given but neither M3 nor M4 in force
  | 'units-changed' // {from, to}: G20/G21 after motion
  | 'number-out-of-range' // {text, limit}
  | 'checksum' // {text}
  | 'after-end' // {lines}: motion after M2/M30
  | 'wrong-kind'; // {kind: 'extruder' | 'drill' | 'mill' | 'plasma' | 'plotter', evidence}

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

/** The understood program: partial when there are problems. */
export interface Toolpath {
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
  hotRapids: PoweredRapids;
  /** Line lengths, mm. */
  cutLengthMm: number;
  rapidLengthMm: number;
  rasterLengthMm: number;
  /** All motion; null when nothing moves. */
  boundsMm: Bounds | null;
  /** Powered motion only. */
  poweredBoundsMm: Bounds | null;
  time: ToolpathTime;
  /** Seconds spent on strokes, per label index. */
  timeByLabelS: number[];
  problems: Problem<ToolpathProblemCode>[];
  /** False when motion or beam could not be followed to the end: the verdict becomes `incomplete`. */
  analysed: boolean;
  /** Beam state at the end of the program. */
  end: { place: Place; programEnd: 'M2' | 'M30' | null; mode: 'M3' | 'M4' | 'off'; setting: number };
  /** First place where power is commanded, the highest setting and where. */
  highestSetting: { value: number; raw: number; place: Place } | null;
  lowestPoweredSetting: { value: number; raw: number; place: Place } | null;
  highestSpeed: { mmPerS: number; place: Place } | null;
  /** A coordinate set with G54–59/G10/G92 or G28/G53 was used: positions on the bed rest on it. */
  offsets: { used: string[]; place: Place | null };
  units: 'mm' | 'inch' | 'none-stated';
  /** Distinct codes seen, for rules about the kind of program: upper-case words such as "M104", "G81", "E". */
  codesSeen: Record<string, { count: number; place: Place }>;
}
