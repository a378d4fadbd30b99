import type { Location } from '../../source/place.ts';
import { roundTo } from '../../units/format.ts';
import type { ReachCurves } from '../bench/reach-model.ts';
import { couponsOf } from '../coupons/coupons-here.ts';
import type { CuredJob } from '../cure/cure-fact.ts';
import { isFromToolpath } from '../cuts/from-toolpath.ts';
import type { JobFacts } from '../facts.ts';
import type { DrawnCoupon, DrawnCut, JobDrawing, ReachGoal } from './drawing-model.ts';
import { type GivenLine, thinLines } from './drawn-lines.ts';
import { hasPlace, placed, placeOnSheet } from './drawn-places.ts';
import { drawnWork } from './drawn-work.ts';
import { sectionModel, sectionOf } from './section.ts';
import { setupCard } from './setup-card.ts';

/** Points that one job's picture may hold. Runs of many jobs share a number of points. */
const MOST_POINTS = 250_000;
const MOST_POINTS_OF_RUN = 1_200_000;
const FEWEST_POINTS = 1_500;
/** The most of them that cuts may take: artwork and travel never go without. */
const SHARE_OF_CUTS = 0.8;

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
  const work = drawnWork(facts, Math.floor(points * SHARE_OF_CUTS));
  const { cuts } = work;
  const left = points - work.detail.kept;
  const artwork = thinLines(artworkLines(facts), Math.max(2, Math.floor(left / 2)));
  const travels = thinLines(travelLines(facts), Math.max(2, left - artwork.detail.kept));
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
    bed: bedBox(facts),
    cuts,
    artwork: artwork.lines,
    areas,
    travels: travels.lines,
    detail: { cuts: work.detail, artwork: artwork.detail, travels: travels.detail },
    leftOut: facts.toolpath?.travels.dropped ?? 0,
    pieces: work.pieces,
    pieceCount: work.pieceCount,
    pieceTimes: work.pieceTimes,
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
      const at = placeOnSheet(facts, location);
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

/** The artwork under the toolpath. */
function artworkLines(facts: JobFacts): GivenLine[] {
  const { artwork } = facts;
  if (!artwork || !hasPlace(facts)) return [];
  const asCuts = new Set(facts.cuts.flatMap((cut) => (isFromToolpath(facts, cut) ? [] : [...cut.strokes])));
  return artwork.outlines.filter((_, i) => !asCuts.has(i)).map(({ xy, closed }) => ({ xy: placed(facts, xy), closed }));
}

function travelLines(facts: JobFacts): GivenLine[] {
  const travels = facts.toolpath?.travels;
  return Array.from({ length: travels?.count ?? 0 }, (_, i) => ({
    xy: travels!.xy.subarray(4 * i, 4 * i + 4),
    closed: false,
  }));
}

/** What the axes reach, in the frame of the picture. */
function bedBox({ machine, toolpath, onBed }: JobFacts): JobDrawing['bed'] {
  const bounds = toolpath?.boundsMm;
  if (!machine || !bounds || !onBed) return null;
  const minX = roundTo(bounds.minX - onBed.minX, 2);
  const minY = roundTo(bounds.minY - onBed.minY, 2);
  return { minX, minY, maxX: minX + machine.travel.xMm, maxY: minY + machine.travel.yMm };
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
