import { placePoint } from '../../geometry/placement/transform.ts';
import type { Location } from '../../source/place.ts';
import { formatCount, formatSpeed, formatWatts, roundTo } from '../../units/format.ts';
import type { ReachCurves } from '../bench/reach-model.ts';
import { couponsOf } from '../coupons/coupons-here.ts';
import type { CuredJob } from '../cure/cure-fact.ts';
import type { CutFact } from '../cuts/cut-fact.ts';
import { isFromToolpath } from '../cuts/from-toolpath.ts';
import type { JobFacts } from '../facts.ts';
import { contoursOfStrokes } from '../strokes/stroke-contours.ts';
import type { DrawnCoupon, DrawnCut, JobDrawing, ReachGoal } from './drawing-model.ts';
import { LineBudget } from './drawn-lines.ts';
import { placeOnSheet } from './drawn-places.ts';
import { sectionModel, sectionOf } from './section.ts';
import { setupCard } from './setup-card.ts';

/** Points that one job's picture may hold: cuts first, then artwork, then travel. Runs of many jobs share a number of points. */
const MOST_POINTS = 120_000;
const MOST_POINTS_OF_RUN = 1_200_000;
const FEWEST_POINTS = 1_500;
/** Lines are drawn to this, mm: a quarter of a fine kerf, and less than a pixel of any screen. */
const SIMPLIFY_MM = 0.05;

/** Points that each job's picture may hold in a run of so many jobs. */
export function pointsPerJob(jobs: number): number {
  return Math.max(FEWEST_POINTS, Math.min(MOST_POINTS, Math.floor(MOST_POINTS_OF_RUN / Math.max(1, jobs))));
}

/** What a drawing takes beside the facts. */
export interface DrawingRequest {
  /** Handed in, since it asks for predictions of its own. */
  reach: ReachCurves | null;
  /** What is proposed, on that chart; left out: nothing. */
  goTo?: ReachGoal | null;
  /** Whether anything is proposed at all; left out: it is. */
  proposes?: boolean;
  /** The job with the change that is shown beside the plan; left out: none is. */
  cured?: CuredJob | null;
  /** Findings that may be pinned. */
  findings: readonly { fingerprint: string; location: Location }[];
  /** Points that the picture may hold. */
  points: number;
}

/** What pictures of the job are drawn from. */
export function drawingOf(facts: JobFacts, request: DrawingRequest): JobDrawing {
  const { reach, goTo = null, cured = null, proposes = true, findings, points } = request;
  const budget = new LineBudget(points, SIMPLIFY_MM);
  const cuts = facts.cuts.map((cut, index) => drawnCut(facts, cut, index, budget));
  const artwork = drawnArtwork(facts, budget);
  const travels = drawnTravels(facts, budget);
  const sheet = sheetBox(facts);
  const drawnSection = sectionModel(facts);
  const section = drawnSection && (proposes ? drawnSection : { ...drawnSection, action: null });
  const areas = facts.areas.map((area) => ({
    task: area.task,
    minX: roundTo(area.minX, 2),
    minY: roundTo(area.minY, 2),
    maxX: roundTo(area.maxX, 2),
    maxY: roundTo(area.maxY, 2),
    meanJPerMm2: area.meanJPerMm2 === null ? null : roundTo(area.meanJPerMm2, 3),
    peakJPerMm2: area.peakJPerMm2 === null ? null : roundTo(area.peakJPerMm2, 3),
    pitchMm: roundTo(area.pitchMm, 3),
    file: area.location.file,
    line: area.location.line,
  }));
  return {
    job: facts.input.name,
    yUp: facts.toolpath !== null,
    view: viewOf(facts, sheet, cuts),
    sheet,
    cuts,
    artwork,
    areas,
    travels,
    simplifiedMm: SIMPLIFY_MM,
    leftOut: budget.leftOut + (facts.toolpath?.travels.dropped ?? 0),
    section,
    curedSection: cured && section && sectionOf(cured.facts, section.cut, []),
    reach,
    goTo: proposes ? goTo : null,
    card: setupCard(facts, { cure: cured?.cure ?? null, proposes }),
    tasks: facts.tasks.map(({ name, aim, lengthMm, timeS }) => ({
      name,
      aim,
      lengthMm: roundTo(lengthMm, 1),
      timeS: roundTo(timeS, 1),
    })),
    pins: findings.flatMap(({ fingerprint, location }) => {
      const at = placeOnSheet(facts, location, (xy) => placed(facts, xy));
      return at ? [{ fingerprint, x: roundTo(at[0], 2), y: roundTo(at[1], 2) }] : [];
    }),
    coupons: drawnCoupons(facts),
  };
}

/** Coupons of another machine or lens say nothing about this one. */
function drawnCoupons({ material, machine, lens }: JobFacts): DrawnCoupon[] {
  return (machine && material ? couponsOf(machine, material) : [])
    .filter((coupon) => coupon.lens === lens?.id)
    .map(({ thicknessMm, speedMmPerS, powerW, passes, through, depthMm }) => ({
      thicknessMm,
      speedMmPerS,
      powerW,
      passes,
      through,
      depthMm,
    }));
}

function drawnCut(facts: JobFacts, cut: CutFact, index: number, budget: LineBudget): DrawnCut {
  const lines: number[][] = [];
  if (isFromToolpath(facts, cut)) {
    for (const contour of contoursOfStrokes(facts.toolpath!.strokes, cut.strokes)) {
      budget.add(lines, contour.xy, contour.closed);
    }
  } else if (facts.artwork && hasPlace(facts)) {
    for (const i of cut.strokes) {
      const outline = facts.artwork.outlines[i];
      if (outline) budget.add(lines, placed(facts, outline.xy), outline.closed);
    }
  }
  const { prediction } = cut;
  const first = cut.passes[0];
  return {
    cut: index,
    task: cut.task,
    aim: cut.aim,
    probability: prediction?.throughProbability ?? null,
    depthMm: prediction?.depthMm ?? null,
    depthLowMm: prediction?.depthLowMm ?? null,
    depthHighMm: prediction?.depthHighMm ?? null,
    recipe: first
      ? `${formatCount(cut.passes.length, 'pass', 'passes')}, ${formatWatts(first.powerW)}, ${formatSpeed(first.speedMmPerS)}`
      : 'no recipe',
    speedMmPerS: first ? roundTo(first.speedMmPerS, 2) : null,
    file: cut.location.file,
    line: cut.location.line,
    lines,
  };
}

/** Artwork that was not found in the toolpath has no place to be drawn in. */
function hasPlace(facts: JobFacts): boolean {
  return facts.toolpath === null || (facts.match?.placement ?? null) !== null;
}

/** Points of the artwork in the frame of the picture. */
function placed(facts: JobFacts, xy: Float64Array): ArrayLike<number> {
  const placement = facts.match?.placement;
  if (!facts.toolpath || !placement) return xy;
  const place = { ...placement, flippedY: true, dx: placement.dxMm, dy: placement.dyMm };
  const moved = new Float64Array(xy.length);
  for (let i = 0; i + 1 < xy.length; i += 2) {
    const [x, y] = placePoint(place, xy[i]!, xy[i + 1]!);
    moved[i] = x;
    moved[i + 1] = y;
  }
  return moved;
}

/** The artwork under the toolpath. */
function drawnArtwork(facts: JobFacts, budget: LineBudget): number[][] {
  const lines: number[][] = [];
  if (!facts.artwork || !hasPlace(facts)) return lines;
  const asCuts = new Set(facts.cuts.flatMap((cut) => (isFromToolpath(facts, cut) ? [] : [...cut.strokes])));
  for (const [i, outline] of facts.artwork.outlines.entries()) {
    if (!asCuts.has(i)) budget.add(lines, placed(facts, outline.xy), outline.closed);
  }
  return lines;
}

function drawnTravels(facts: JobFacts, budget: LineBudget): number[][] {
  const lines: number[][] = [];
  const travels = facts.toolpath?.travels;
  if (!travels) return lines;
  for (let i = 0; i < travels.count; i++) budget.add(lines, travels.xy.subarray(4 * i, 4 * i + 4), false);
  return lines;
}

function sheetBox(facts: JobFacts): JobDrawing['sheet'] {
  const sidecar = facts.input.sidecar;
  const sheet = sidecar?.sheet;
  if (!sheet) return null;
  const atMachine = facts.toolpath !== null && sidecar.zero === 'machine';
  const known = facts.toolpath === null || sidecar.zero === 'machine' || sidecar.zero === 'sheet-corner';
  if (!known) return null;
  const minX = atMachine ? sheet.atXMm : 0;
  const minY = atMachine ? sheet.atYMm : 0;
  return { minX, minY, maxX: minX + sheet.widthMm, maxY: minY + sheet.heightMm };
}

function viewOf(facts: JobFacts, sheet: JobDrawing['sheet'], cuts: readonly DrawnCut[]): JobDrawing['view'] {
  const bounds = facts.toolpath ? facts.toolpath.boundsMm : (facts.artwork?.boundsMm ?? null);
  const box = { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity };
  for (const one of [sheet, bounds]) {
    if (!one) continue;
    box.minX = Math.min(box.minX, one.minX);
    box.minY = Math.min(box.minY, one.minY);
    box.maxX = Math.max(box.maxX, one.maxX);
    box.maxY = Math.max(box.maxY, one.maxY);
  }
  for (const line of cuts.flatMap((cut) => cut.lines)) {
    for (let i = 0; i + 1 < line.length; i += 2) {
      box.minX = Math.min(box.minX, line[i]!);
      box.maxX = Math.max(box.maxX, line[i]!);
      box.minY = Math.min(box.minY, line[i + 1]!);
      box.maxY = Math.max(box.maxY, line[i + 1]!);
    }
  }
  if (!(box.minX <= box.maxX)) return { minX: 0, minY: 0, maxX: 1, maxY: 1 };
  return {
    minX: roundTo(box.minX, 2),
    minY: roundTo(box.minY, 2),
    maxX: roundTo(box.maxX, 2),
    maxY: roundTo(box.maxY, 2),
  };
}
