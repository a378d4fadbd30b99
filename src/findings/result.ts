import type { Comparison } from './comparing/comparison.ts';
import type { Finding, NotChecked, Verdict } from './finding.ts';

export type { Verdict };

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
    /** What can be had of the same material where nothing is proposed; members are null where there is none. */
    thinner?: { stacked: { layers: number; layerMm: number } | null; thickestMm: number | null };
  };
}

export interface TimeResult {
  totalS: number;
  cuttingS: number;
  rasterS: number;
  travelS: number;
  dwellS: number;
  basis: string;
}

export interface WasteResult {
  currency: string;
  atStake: number;
  expected: number;
  sheet: number;
  machine: number;
  operator: number;
  tube: number;
  energy: number;
}

/** A change of recipes that brings the job's cuts through and with which no rule finds an error: see `CureFact` of src/facts. */
export interface CureResult {
  lens: string;
  otherLens: boolean;
  /** Of the least sure through cut of the job. */
  throughProbability: number;
  /** The cuts that come out otherwise than planned. */
  cuts: {
    /** Index into the job's `cuts`. */
    cut: number;
    /** What to do; null where only the lens changes. */
    text: string | null;
    passes: { powerW: number; setting: number; speedMmPerS: number; focusMm: number }[];
    depthMm: number | null;
    depthLowMm: number | null;
    depthHighMm: number | null;
    throughProbability: number | null;
    kerfMm: number | null;
  }[];
  time: TimeResult | null;
  waste: WasteResult | null;
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

/** A key of the machine's profile that was left open: see `AssumedKey` of src/facts. */
export interface AssumedResult {
  key: string;
  value: number | string;
  unit: string | null;
  basis: string;
  inDoubt: boolean;
}

export interface JobResult {
  name: string;
  verdict: Verdict;
  /** The verdict in a sentence that every format shows (src/findings/headline.ts). */
  headline: string;
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
  /** The machine's profile says that its numbers are made up, for a demonstration. */
  inventedMachine?: true;
  /** What of the machine nobody stated and was assumed, what is in doubt first. Absent in results of earlier versions. */
  assumed?: AssumedResult[];
  /** The measurement that would narrow the predicted depth most: half its 5–95 % band in the logarithm, before and after. */
  narrows?: { key: string; fromShare: number; toShare: number } | null;
  /** What was planned, and the task of what is not planned: names and aims. */
  tasks: { name: string; aim: string }[];
  cuts: CutResult[];
  /** For a job with an error whose cuts fall short: the change that is shown beside the plan, or why there is none. */
  cure?: CureResult;
  noCure?: string;
  time: TimeResult | null;
  waste: WasteResult | null;
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
  /** The verdict in a sentence that every format shows: that of the job where there is one, else over all jobs. */
  headline: string;
  /** The line that closes every format, whatever was found (src/findings/caution.ts). */
  caution: string;
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
  /** The same as `leftOut` in fewer words: the key is older and stays within version 1. */
  notCheckedFiles: { file: string; reason: string }[];
  /** Files and folders among those searched that were not judged. */
  leftOut: LeftOutFile[];
  /** How much of the searched folders was passed by without being listed. */
  passedBy: { excluded: number; git: number; nodeModules: number; hiddenFolders: number; otherFiles: number };
  /** By what the run was judged, so that two can be held against each other. Absent in results of earlier versions and of the page. */
  judgedBy?: JudgedBy;
  /** Against a base, where one was named. */
  comparison?: Comparison;
}

/** By what a run was judged, besides kerflint's version. */
export interface JudgedBy {
  /** ISO date. */
  today: string;
  /** SHA-256 of the settings and of the options that bear on the result. */
  settings: string;
  /** SHA-256 of the shop's files, wherever the shop lies. */
  shop: string;
}

/** What is known of a run before its first job. */
export type RunStart = Pick<RunResult, 'schemaVersion' | 'tool' | 'comparison'>;

/** What is known of a run once the last of its jobs is judged: everything but the jobs. */
export type RunEnd = Omit<RunResult, 'jobs'>;

/** Something among the searched files that was not judged. */
export interface LeftOutFile {
  path: string;
  kind: 'toolpath' | 'artwork' | 'sidecar' | 'folder' | 'other';
  /** Why, and what to do about it, without the path. */
  reason: string;
  /** The run is incomplete for it. */
  incomplete: boolean;
  /** It is in the list of changed files that the run was given. */
  changed?: true;
}
