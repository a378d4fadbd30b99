import { polylineLengthMm } from '../../geometry/outlines/contours.ts';
import { roundTo } from '../../units/format.ts';
import type { CutFact } from '../cuts/cut-fact.ts';
import { isFromToolpath } from '../cuts/from-toolpath.ts';
import { planOutlines } from '../cuts/planned-outlines.ts';
import type { JobFacts } from '../facts.ts';
import { contourKey } from '../strokes/contour-key.ts';
import { contoursOfStrokes } from '../strokes/stroke-contours.ts';
import { strokeLengthMm } from '../strokes/stroke-geometry.ts';
import type { PieceTimes } from './drawing-model.ts';
import type { GivenLine } from './drawn-lines.ts';
import { hasPlace, placed } from './drawn-places.ts';

/** One piece of the work: a contour with all its passes, or a shaded area. */
export interface Piece {
  /** Index into the job's cuts; null for an area. */
  readonly cut: number | null;
  /** Index into the job's areas; null for a line. */
  readonly area: number | null;
  readonly task: string;
  readonly line: GivenLine;
  /** The toolpath cuts it; false where it is planned and there is no program for it. */
  readonly inProgram: boolean;
  /** Where the beam begins on it, mm in the frame of the picture. */
  readonly atX: number;
  readonly atY: number;
  /** Of one run along it, mm. */
  readonly lengthMm: number;
  /** All passes, s; null where no speed is known. */
  readonly timeS: number | null;
  readonly file: string;
  readonly sourceLine: number;
}

/** The pieces in the order in which the toolpath begins them, then what is planned and not in it, as it is drawn, task by task. */
export function piecesOf(facts: JobFacts): Piece[] {
  const planned = facts.cuts.flatMap((cut, index) =>
    isFromToolpath(facts, cut) ? [] : plannedPieces(facts, cut, index),
  );
  const ran = facts.cuts.flatMap((cut, index) => (isFromToolpath(facts, cut) ? ranPieces(facts, cut, index) : []));
  const shaded = facts.areas.map((_, area) => shadedPiece(facts, area));
  // A program is run in the order of its lines, and what stands on one line in the order of its strokes.
  const inOrder = [...ran.sort((a, b) => a.first - b.first).map(({ piece }) => piece), ...shaded].sort(
    (a, b) => a.sourceLine - b.sourceLine,
  );
  return [...inOrder, ...planned];
}

interface RanPiece {
  /** Number of its first stroke in the program. */
  first: number;
  piece: Piece;
}

function ranPieces(facts: JobFacts, cut: CutFact, index: number): RanPiece[] {
  const { strokes } = facts.toolpath!;
  const runs = new Map<string, { xy: Float64Array; closed: boolean; first: number; timeS: number }>();
  for (const contour of contoursOfStrokes(strokes, cut.strokes)) {
    const key = contourKey(contour, polylineLengthMm(contour));
    if (key === null) continue;
    let first = contour.strokes[0]!;
    let timeS = 0;
    for (const i of contour.strokes) {
      first = Math.min(first, i);
      const speed = strokes.reachedMmPerS[i]!;
      if (speed > 0) timeS += strokeLengthMm(strokes, i) / speed;
    }
    const known = runs.get(key);
    if (known === undefined) runs.set(key, { xy: contour.xy, closed: contour.closed, first, timeS });
    else {
      known.first = Math.min(known.first, first);
      known.timeS += timeS;
    }
  }
  return [...runs.values()].map(({ xy, closed, first, timeS }) => ({
    first,
    piece: {
      cut: index,
      area: null,
      task: cut.task,
      line: { xy, closed },
      inProgram: true,
      atX: strokes.startX[first]!,
      atY: strokes.startY[first]!,
      lengthMm: polylineLengthMm({ xy, closed }),
      timeS,
      file: cut.location.file,
      sourceLine: strokes.line[first]!,
    },
  }));
}

function shadedPiece(facts: JobFacts, area: number): Piece {
  const { task, location, minX, minY, maxX, maxY } = facts.areas[area]!;
  const raster = facts.toolpath!.areas[area]!;
  return {
    cut: null,
    area,
    task: task ?? 'surface',
    line: { xy: [minX, minY, maxX, minY, maxX, maxY, minX, maxY], closed: true },
    inProgram: true,
    atX: minX,
    atY: minY,
    lengthMm: raster.poweredMm,
    timeS: raster.timeS,
    file: location.file,
    sourceLine: location.line,
  };
}

function plannedPieces(facts: JobFacts, cut: CutFact, index: number): Piece[] {
  const { artwork, machine } = facts;
  if (!artwork || !hasPlace(facts)) return [];
  const planned = facts.tasks[cut.taskIndex]?.planned ?? null;
  return Array.from(cut.strokes).flatMap((i) => {
    const outline = artwork.outlines[i];
    if (!outline || outline.xy.length < 2) return [];
    const xy = placed(facts, outline.xy);
    const speed = planned?.speedMmPerS ?? 0;
    const plan = machine && planned && speed > 0 ? planOutlines(artwork, machine, planned, Uint32Array.of(i)) : null;
    return {
      cut: index,
      area: null,
      task: cut.task,
      line: { xy, closed: outline.closed },
      inProgram: false,
      atX: xy[0]!,
      atY: xy[1]!,
      lengthMm: outline.lengthMm,
      timeS: plan?.timeS ?? null,
      file: facts.input.files.artwork ?? cut.location.file,
      sourceLine: artwork.elements[outline.element]?.place.line ?? cut.location.line,
    };
  });
}

/** Times of alike pieces together: a task's pieces of one length and time, the longest sums first. */
export function timesOf(pieces: readonly Piece[], most: number): PieceTimes {
  const groups = new Map<string, { task: string; pieces: number; first: number; totalS: number }>();
  for (const [i, { cut, area, task, lengthMm, timeS }] of pieces.entries()) {
    if (timeS === null) continue;
    const key = [task, cut ?? `a${area}`, roundTo(lengthMm, 1), roundTo(timeS, 1)].join('|');
    const group = groups.get(key);
    if (group === undefined) groups.set(key, { task, pieces: 1, first: i + 1, totalS: timeS });
    else {
      group.pieces++;
      group.totalS += timeS;
    }
  }
  // Those of the same sum stay in the order in which they are begun.
  const longest = [...groups.values()].sort((a, b) => b.totalS - a.totalS);
  const rest = longest.slice(most);
  return {
    alike: longest.slice(0, most).map((group) => ({ ...group, totalS: roundTo(group.totalS, 2) })),
    others: {
      pieces: rest.reduce((sum, group) => sum + group.pieces, 0),
      totalS: roundTo(
        rest.reduce((sum, group) => sum + group.totalS, 0),
        2,
      ),
    },
  };
}
