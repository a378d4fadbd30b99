import type { Finding, NotChecked } from './finding.ts';

/** `fail` when an open error stands; `incomplete` beats `fail`. It ignores --fail-on. */
export type Verdict = 'pass' | 'fail' | 'incomplete';

/** A recipe that a machine could run, with the chance that it parts the sheet. */
export interface RecipeResult {
  lens: string;
  setting: number;
  powerW: number;
  speedMmPerS: number;
  passes: number;
  focusMm: number;
  focusStepMm: number;
  throughProbability: number;
}

export interface CutResult {
  task: string;
  aim: string;
  lengthMm: number;
  /** The speed is null where the toolpath states no feed. */
  passes: { powerW: number; speedMmPerS: number | null; focusMm: number }[];
  depthMm: number | null;
  depthLowMm: number | null;
  depthHighMm: number | null;
  throughProbability: number | null;
  kerfMm: number | null;
  basis: string | null;
  /** Line of the cut's first stroke in the toolpath, or of its first outline in the artwork. */
  line: number;
  /** Numbers of the remedies, cheapest first. */
  remedies: Record<string, unknown>[];
  /** Only for cuts without settings: what the machine can do about them. */
  reach?: {
    surest: RecipeResult;
    /** Null where no recipe reaches the limit. */
    proposed: RecipeResult | null;
    limitedBy: { kind: string; value: number | null }[];
    limit: number;
  };
}

export interface BoundsResult {
  minX: number;
  minY: number;
  maxX: number;
  maxY: number;
}

/** A question that nobody could answer: see `Unanswered` of src/facts. */
export interface UnansweredResult {
  fact: string;
  what: string;
  missing: string;
  remedy: string;
}

export interface JobResult {
  name: string;
  verdict: Verdict;
  sidecar: string | null;
  machine: string | null;
  lens: string | null;
  material: string | null;
  thicknessMm: number | null;
  files: { toolpath?: string; artwork?: string };
  toolpath?: {
    moves: number;
    cutLengthMm: number;
    /** All travel without power, at the feed too: the key is older than the count and stays within version 1. */
    rapidLengthMm: number;
    timeS: number;
    boundsMm: BoundsResult | null;
  };
  artwork?: { outlines: number; lengthMm: number; boundsMm: BoundsResult | null };
  cuts: CutResult[];
  time: { totalS: number; cuttingS: number; rasterS: number; travelS: number; dwellS: number; basis: string } | null;
  waste: {
    currency: string;
    atStake: number;
    expected: number;
    sheet: number;
    machine: number;
    operator: number;
    tube: number;
    energy: number;
  } | null;
  findings: Finding[];
  notChecked: NotChecked[];
  /** Why the verdict is incomplete, in words; empty otherwise. */
  incomplete: string[];
  /** The same as data, in the same order: each missing fact with how to give it. Absent in results of earlier versions. */
  unanswered?: UnansweredResult[];
}

export interface RunResult {
  schemaVersion: 1;
  tool: { name: 'kerflint'; version: string };
  verdict: Verdict;
  summary: {
    jobs: number;
    errors: number;
    warnings: number;
    notes: number;
    waived: number;
    baselined: number;
    notChecked: number;
  };
  jobs: JobResult[];
  /** Which part of a divided run this is; `join` asks for all of them. Absent when the run is whole. */
  shard?: { index: number; of: number };
  /** Files that were seen and not checked, with the reason. */
  notCheckedFiles: { file: string; reason: string }[];
}
