import type { Box } from '../geometry/outlines/outline.ts';
import type { Lens, Machine, Material, Money } from '../job/model.ts';
import type { Artwork } from '../model/artwork.ts';
import type { Toolpath } from '../model/toolpath.ts';
import type { ArtworkGeometry } from './artwork/geometry-fact.ts';
import type { CutFact, SpeedFact } from './cuts/cut-fact.ts';
import type { BeamFact } from './cuts/optics.ts';
import type { PowerFact } from './cuts/power.ts';
import type { InputProblem, InputRemark, JobOrigin } from './input/job-origin.ts';
import type { WaiverFact } from './input/waiver-fact.ts';
import type { MatchFact } from './match/match-fact.ts';
import type { AreaFact } from './order/areas.ts';
import type { OrderFact } from './order/order-fact.ts';
import type { TaskFact } from './tasks/task-fact.ts';
import type { TimeFact } from './time/job-time.ts';
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
  /** The known ids that may have been meant where that name is not known ("a, b or c"); null when none comes near. */
  readonly materialNear: string | null;
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
  readonly power: PowerFact | null;
  readonly beam: BeamFact | null;
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
  readonly inputProblems: readonly InputProblem[];
  readonly remarks: readonly InputRemark[];
  /**
   * Reasons why the verdict is incomplete apart from findings: a machine unknown to the shop, an unreadable file, artwork of which
   * something that parts the sheet was left out.
   */
  readonly incomplete: readonly string[];
  /** The options that named machine, material, thickness, lens for bare files. */
  readonly fromOptions: boolean;
  /** Cost limit for the run, when one is set in the sidecar or the settings. */
  readonly budget: Money | null;
  /** ISO date of the run. */
  readonly today: string;
  /** Waivers held against the findings of all other rules; absent until those have judged, and when there are none. */
  readonly waivers?: readonly WaiverFact[];
}
