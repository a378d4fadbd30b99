import type { Box } from '../geometry/outlines/outline.ts';
import type { Meant } from '../job/material/names/meant.ts';
import type { Lens, Machine, Material, Money } from '../job/model.ts';
import type { Artwork } from '../model/artwork.ts';
import type { Toolpath } from '../model/toolpath.ts';
import type { ArtworkGeometry } from './artwork/geometry-fact.ts';
import type { AssumedFact } from './assumed/assumed-fact.ts';
import type { CutFact, SpeedFact } from './cuts/cut-fact.ts';
import type { LensOutlook } from './cuts/lens-outlook.ts';
import type { BeamFact } from './cuts/optics.ts';
import type { PowerFact } from './cuts/power.ts';
import type { UnclaimedFact } from './cuts/unclaimed.ts';
import type { InputProblem, InputRemark, JobOrigin } from './input/job-origin.ts';
import type { WaiverFact } from './input/waiver-fact.ts';
import type { MatchFact } from './match/match-fact.ts';
import type { SheetFitFact } from './match/on-sheet.ts';
import type { AreaFact } from './order/areas.ts';
import type { OrderFact } from './order/order-fact.ts';
import type { ScaleDoubt } from './power-scale/power-scale.ts';
import type { ProposalFact } from './recipes/recipe-fact.ts';
import type { TaskFact } from './tasks/task-fact.ts';
import type { TimeFact } from './time/job-time.ts';
import type { Unanswered } from './unanswered/unanswered.ts';
import type { WasteFact } from './waste/waste.ts';

/** Everything that was computed about one job; rules only judge. What could not be computed is null. */
export interface JobFacts {
  readonly input: JobOrigin;
  readonly machine: Machine | null;
  readonly lens: Lens | null;
  /** True when the sidecar or option named no lens and the machine's first was taken. */
  readonly lensAssumed: boolean;
  readonly material: Material | null;
  /** The material was declared `unknown`. */
  readonly materialUnknown: boolean;
  /** The name given for material, as written. */
  readonly materialName: string | null;
  /** What that name may mean where it is not known: its kind, a hazard that it is like, names that are spelt alike; null when nothing. */
  readonly materialMeant: Meant | null;
  readonly thicknessMm: number | null;
  /** 1σ, mm. */
  readonly thicknessSpreadMm: number;
  readonly toolpath: Toolpath | null;
  readonly artwork: Artwork | null;
  readonly tasks: readonly TaskFact[];
  /** Why some strokes or outlines may belong to another task; null when all were assigned as the sidecar says. */
  readonly tasksEndedEarly: string | null;
  /** Indices of artwork outlines that no task selects. */
  readonly unassignedOutlines: readonly number[];
  readonly cuts: readonly CutFact[];
  /** Why passes may be missing, or cuts be split that are one; null when all passes were followed. */
  readonly cutsEndedEarly: string | null;
  /** Powered strokes that no planned task claims. */
  readonly unclaimed: UnclaimedFact;
  /** What the machine can do about through cuts of artwork for which no settings are planned. */
  readonly proposals: readonly ProposalFact[];
  readonly power: PowerFact | null;
  /** The program seems to count power on another scale than the machine: then its cuts are not predicted. */
  readonly scaleDoubt: ScaleDoubt | null;
  /** What of the machine was assumed, and what would narrow the answer. */
  readonly assumed: AssumedFact;
  readonly beam: BeamFact | null;
  /** The longer lens of the machine that parts the least sure through cut the likeliest; null where there is none, or the lens is long enough. */
  readonly longerLens: LensOutlook | null;
  /** The material's energy was fitted to coupons of this very machine, so that its true power is in it. */
  readonly calibratedHere: boolean;
  readonly time: TimeFact | null;
  readonly waste: WasteFact | null;
  /** Surface areas of the toolpath. */
  readonly areas: readonly AreaFact[];
  /** Order of the toolpath's cuts; null without a toolpath. */
  readonly order: OrderFact | null;
  /** Geometry of the artwork; null without artwork. */
  readonly geometry: ArtworkGeometry | null;
  /** Toolpath against artwork and plan; null when there is nothing to hold the toolpath against. */
  readonly match: MatchFact | null;
  /** Parallel to `cuts`. */
  readonly speeds: readonly SpeedFact[];
  /** Where the job's motion lies on the bed, mm in the machine's frame, when `zero` tells; else null and why. */
  readonly onBed: Box | null;
  readonly onBedUnknown: string | null;
  /** How the toolpath fits the sheet; null where there is no toolpath that fires, no sheet, or its place is not known. */
  readonly onSheet: SheetFitFact | null;
  readonly inputProblems: readonly InputProblem[];
  readonly remarks: readonly InputRemark[];
  /** What had to be known before the job could read as checked and is not: the verdict is then incomplete, whatever was found. */
  readonly unanswered: readonly Unanswered[];
  /** The options that named machine, material, thickness, lens for bare files. */
  readonly fromOptions: boolean;
  /** Cost limit for the run, when one is set in the sidecar or the settings. */
  readonly budget: Money | null;
  /** ISO date of the run. */
  readonly today: string;
  /** Waivers held against the findings of all other rules; absent until those have judged, and when there are none. */
  readonly waivers?: readonly WaiverFact[];
}

/** All facts but what they leave open: what the questions of src/facts/unanswered are put to. */
export type Questioned = Omit<JobFacts, 'unanswered' | 'waivers'>;
