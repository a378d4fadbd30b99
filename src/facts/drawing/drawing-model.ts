import type { Box } from '../../geometry/outlines/outline.ts';
import type { Aim, HazardClass } from '../../job/model.ts';
import type { ReachCurves, ReachDepth } from '../bench/reach-model.ts';

/**
 * What pictures of a job are drawn from, beside its result: plain data, rounded, in mm. Coordinates are those of the
 * toolpath (Y up) or, with artwork alone, of the page (Y down): `yUp` tells.
 */
export interface JobDrawing {
  /** The job's name in the result. */
  readonly job: string;
  readonly yUp: boolean;
  /** Everything drawn lies in here, the sheet included. */
  readonly view: Box;
  /** Where the sheet lies; null when the sidecar does not say. */
  readonly sheet: Box | null;
  /** What the machine's axes reach; null when the profile or where the job lies on the bed is not known. */
  readonly bed: Box | null;
  readonly cuts: readonly DrawnCut[];
  /** Artwork laid under the toolpath, faint; empty with artwork alone (its lines are the cuts). */
  readonly artwork: readonly (readonly number[])[];
  readonly areas: readonly DrawnArea[];
  readonly travels: readonly (readonly number[])[];
  readonly detail: { readonly cuts: Detail; readonly artwork: Detail; readonly travels: Detail };
  /** Travel moves beyond those that the reader keeps: only of travel is anything left out. */
  readonly leftOut: number;
  /** The work piece by piece in the order of the toolpath, then what is only planned, as drawn; the first ones of very many. */
  readonly pieces: readonly DrawnPiece[];
  readonly pieceCount: number;
  readonly pieceTimes: PieceTimes;
  readonly section: SectionModel | null;
  /** The same cut with the change that would bring it through; null where no change is shown. */
  readonly curedSection: SectionModel | null;
  /** With the recipe of the least sure cut under every lens of the machine; of artwork alone with what is proposed for it. */
  readonly reach: ReachCurves | null;
  /** Where that cut would lie on the chart once it is changed, or settings are given to it; null where nothing is proposed. */
  readonly goTo: ReachGoal | null;
  readonly card: SetupCard;
  readonly tasks: readonly {
    readonly name: string;
    readonly aim: Aim;
    readonly lengthMm: number;
    readonly timeS: number;
  }[];
  /** Where findings lie on the sheet, those that have a place there. */
  readonly pins: readonly DrawnPin[];
  /** Test cuts of the material that were made with this machine and lens. */
  readonly coupons: readonly DrawnCoupon[];
}

/** A recipe that is proposed, on the chart of reach. */
export interface ReachGoal {
  readonly lens: string;
  readonly speedMmPerS: number;
  readonly passes: number;
  /** Share of full power. */
  readonly setting: number;
  readonly probability: number;
  /** What parts with 90 % with these passes, power and focus under that lens; empty where it is the chart's own recipe. */
  readonly points: readonly ReachDepth[];
}

/** How closely lines are drawn. All are drawn; where there are too many for the picture, corners are moved to a coarser grid. */
export interface Detail {
  /** Greatest distance between a line and what is drawn of it, mm. */
  readonly withinMm: number;
  /** Corners that the lines have, and that are drawn. */
  readonly corners: number;
  readonly kept: number;
}

/** A contour with all its passes, or a shaded area. Its number is its place in `pieces`, from 1. */
export interface DrawnPiece {
  /** Index into `cuts`; null for an area. */
  readonly cut: number | null;
  /** Index into the `lines` of its cut; null for an area, and for what has no two points. */
  readonly drawnBy: number | null;
  /** Index into `areas`; null for a line. */
  readonly area: number | null;
  /** The toolpath cuts it: then its number is its place in the order of cutting. */
  readonly inProgram: boolean;
  /** Where the beam begins on it, mm; of an area its lower left corner. */
  readonly atX: number;
  readonly atY: number;
  /** Of one run along it, mm. */
  readonly lengthMm: number;
  /** All passes, s; null where no speed is known. */
  readonly timeS: number | null;
  readonly file: string;
  readonly line: number;
}

/** The drawing of a job, and the lines of its files around each finding. */
export interface JobPictures {
  readonly drawing: JobDrawing;
  readonly around: readonly {
    readonly fingerprint: string;
    readonly startLine: number;
    readonly lines: readonly string[];
  }[];
}

/** A finding's place, mm; the finding is named by its fingerprint. */
export interface DrawnPin {
  readonly fingerprint: string;
  readonly x: number;
  readonly y: number;
}

export interface DrawnCoupon {
  readonly thicknessMm: number;
  readonly speedMmPerS: number;
  readonly powerW: number;
  readonly passes: number;
  /** Null when a depth was measured instead. */
  readonly through: boolean | null;
  readonly depthMm: number | null;
}

export interface DrawnCut {
  /** Index into the result's `cuts`. */
  readonly cut: number;
  readonly task: string;
  readonly aim: Aim;
  /** P(through); null when not predicted. */
  readonly probability: number | null;
  readonly depthMm: number | null;
  readonly depthLowMm: number | null;
  readonly depthHighMm: number | null;
  readonly recipe: string;
  /** Mean speed of the first pass, mm/s; null without a recipe. */
  readonly speedMmPerS: number | null;
  readonly file: string;
  readonly line: number;
  /** Chains of points x0, y0, x1, y1, … */
  readonly lines: readonly (readonly number[])[];
}

export interface DrawnArea {
  readonly task: string | null;
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
  /** Null when the power is not known. */
  readonly meanJPerMm2: number | null;
  readonly peakJPerMm2: number | null;
  readonly pitchMm: number;
  readonly file: string;
  readonly line: number;
}

/** The beam against the sheet, for the cut that is least sure to part: the fitted lens first, then the machine's others. */
export interface SectionModel {
  readonly cut: number;
  readonly task: string;
  readonly material: string;
  readonly thicknessMm: number;
  /** The one thing to do, imperative, in few words; null where nothing is to be changed. */
  readonly action: string | null;
  readonly lenses: readonly SectionLens[];
}

export interface SectionLens {
  readonly id: string;
  readonly fitted: boolean;
  readonly focalMm: number;
  /** 1/e² diameter of the beam where it leaves the lens. */
  readonly atLensMm: number;
  readonly spotMm: number;
  readonly depthOfFocusMm: number;
  readonly standoffMm: number | null;
  /** Waist above (+) or below (−) the face, by pass. */
  readonly focusMm: readonly number[];
  /** Free beam of the first pass: height above the face (negative: in the sheet) and 1/e² diameter, from above the face to below the sheet. */
  readonly beam: readonly { readonly zMm: number; readonly diameterMm: number }[];
  /** Median depth after each pass, and the last one's band. */
  readonly depthAfterPassMm: readonly number[];
  readonly depthMm: number;
  readonly depthLowMm: number;
  readonly depthHighMm: number;
  readonly probability: number;
  /** What it is held to. */
  readonly limit: number;
  readonly kerfTopMm: number | null;
  readonly kerfBottomMm: number | null;
}

/** What the person at the machine sets before the job. */
export interface SetupCard {
  readonly machine: string | null;
  readonly lens: string | null;
  readonly standoffMm: number | null;
  /** Each recipe that stands in the file, in its order; of artwork alone each that is planned or proposed. */
  readonly recipes: readonly CardRecipe[];
  /** Recipes beyond those. */
  readonly moreRecipes: number;
  readonly material: string | null;
  readonly thicknessMm: number | null;
  readonly face: 'masked' | 'bare' | null;
  readonly mirror: 'up' | 'down' | null;
  readonly bowMm: number | null;
  readonly zero: 'machine' | 'sheet-corner' | 'set-by-hand' | null;
  readonly sheet: { widthMm: number; heightMm: number } | null;
  /** Hazard of the material as the catalogue has it; null when the material is unknown. */
  readonly hazard: { readonly class: HazardClass; readonly reason: string } | null;
  /** The cut to watch first: the least sure one. */
  readonly watch: { task: string; probability: number; line: number; file: string } | null;
}

/** Settings as a person types them. */
export interface CardSettings {
  readonly setting: number | null;
  readonly powerW: number | null;
  readonly speedMmPerS: number | null;
  readonly passes: number;
  readonly focusMm: number | null;
  readonly focusStepMm: number;
}

/** One recipe of a job. */
export interface CardRecipe {
  readonly task: string;
  readonly aim: Aim;
  /** Where its first stretch begins. */
  readonly file: string;
  readonly line: number;
  /** As the file has it, or as it is planned; null where nothing is. */
  readonly stated: CardSettings | null;
  readonly airBar: number | null;
  /** What would bring it through and stands in no file; null where it stays. */
  readonly proposed: ProposedSettings | null;
}

/** Settings that stand in no file. */
export interface ProposedSettings extends CardSettings {
  /** The lens to fit for them where it is another one than the card's. */
  readonly otherLens: { readonly id: string; readonly standoffMm: number | null } | null;
}

/** Where a job's time goes, by its pieces. */
export interface PieceTimes {
  readonly alike: readonly {
    readonly task: string;
    readonly pieces: number;
    /** Number of the first of them in cutting order. */
    readonly first: number;
    readonly totalS: number;
  }[];
  /** What is too little to be listed. */
  readonly others: { readonly pieces: number; readonly totalS: number };
}
