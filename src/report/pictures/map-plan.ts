import type { DrawnArea, DrawnPiece, JobDrawing } from '../../facts/drawing/drawing-model.ts';
import type { Box } from '../../geometry/outlines/outline.ts';
import { formatMm, formatPercent, formatTime, significant, trimmed } from '../../units/format.ts';
import type { MapPlan } from './map-marks.ts';

/** What is written beside the lines of a job's map. */
export function mapPlan({ yUp, sheet, bed, areas, pieces }: JobDrawing): MapPlan {
  return {
    yUp,
    sheet,
    bed,
    areas: areas.flatMap((area) =>
      area.meanJPerMm2 === null
        ? []
        : {
            x: (area.minX + area.maxX) / 2,
            y: (area.minY + area.maxY) / 2,
            width: area.maxX - area.minX,
            height: area.maxY - area.minY,
            says: `${significant(area.meanJPerMm2)} J/mm²`,
          },
    ),
    starts: startsOf(pieces),
  };
}

/** What is only planned comes last, and has no place in an order. */
function startsOf(pieces: readonly ToldPiece[]): MapPlan['starts'] {
  return pieces.filter(({ inProgram }) => inProgram).map(({ atX, atY }) => ({ x: atX, y: atY }));
}

/** What the beam works on: all cuts and areas; null where there are none. */
export function workedBox({ cuts, areas }: JobDrawing): Box | null {
  const box = { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity };
  const put = (x: number, y: number) => {
    box.minX = Math.min(box.minX, x);
    box.minY = Math.min(box.minY, y);
    box.maxX = Math.max(box.maxX, x);
    box.maxY = Math.max(box.maxY, y);
  };
  for (const { lines } of cuts)
    for (const line of lines) for (let i = 0; i + 1 < line.length; i += 2) put(line[i]!, line[i + 1]!);
  for (const { minX, minY, maxX, maxY } of areas) {
    put(minX, minY);
    put(maxX, maxY);
  }
  return box.minX <= box.maxX ? box : null;
}

/** What an area gets per mm². */
export function energyText({ meanJPerMm2, peakJPerMm2 }: DrawnArea): string {
  if (meanJPerMm2 === null) return 'energy not known';
  const peak = peakJPerMm2 === null ? '' : `, ${significant(peakJPerMm2)} at its densest`;
  return `${significant(meanJPerMm2)} J/mm²${peak}`;
}

/** How much of the lines is drawn, where that is less than the eye could see; else empty. */
export function keptText({ detail }: JobDrawing): string {
  const parts = [
    { name: 'cuts', of: detail.cuts },
    { name: 'artwork', of: detail.artwork },
    { name: 'travel', of: detail.travels },
  ];
  return parts
    .filter(({ of }) => of.withinMm > FINE_MM && of.corners > 0)
    .map(
      ({ name, of }) => `${name} ${formatPercent(of.kept / of.corners, 0)} of corners, to ${formatMm(of.withinMm, 2)}`,
    )
    .join(' · ');
}

/** Lines that are drawn to this have lost nothing that could be seen. */
const FINE_MM = 0.05;

/** What a page needs beside the picture to say which part is shown, to write its marks anew and to tell of a piece. */
export interface PageMap {
  readonly plan: MapPlan;
  /** What the job works on, the part to look at when one looks at the job. */
  readonly worked: Box | null;
  /** What the picture shows at first, and its units per mm. */
  readonly view: Box;
  readonly perMm: number;
  readonly pieces: readonly ToldPiece[];
  /** Pieces of the job; more than are told of one by one where there are very many. */
  readonly pieceCount: number;
}

/** What is told of a piece. */
export type ToldPiece = Pick<DrawnPiece, 'atX' | 'atY' | 'lengthMm' | 'timeS' | 'line' | 'inProgram' | 'cut' | 'area'>;

/** {@link PageMap} of a job, for a page whose map has so many units per mm. */
export function pageMap(drawing: JobDrawing, perMm: number): PageMap {
  const { view, pieces, pieceCount } = drawing;
  return { plan: mapPlan(drawing), worked: workedBox(drawing), view, perMm, pieces, pieceCount };
}

/** As the value of an attribute, which {@link readPageMap} reads. */
export function pageMapText({ plan, worked, view, perMm, pieces, pieceCount }: PageMap): string {
  const rows = pieces.map((one) => [
    one.atX,
    one.atY,
    one.lengthMm,
    one.timeS,
    one.line,
    one.inProgram ? 1 : 0,
    one.cut,
    one.area,
  ]);
  return JSON.stringify([{ ...plan, starts: [] }, worked, view, perMm, rows, pieceCount]);
}

/** Reads what {@link pageMapText} wrote. */
export function readPageMap(text: string): PageMap {
  const [plan, worked, view, perMm, rows, pieceCount] = JSON.parse(text);
  const pieces = (rows as (number | null)[][]).map(
    ([atX, atY, lengthMm, timeS, line, inProgram, cut, area]): ToldPiece => ({
      atX: atX ?? 0,
      atY: atY ?? 0,
      lengthMm: lengthMm ?? 0,
      timeS: timeS ?? null,
      line: line ?? 0,
      inProgram: inProgram === 1,
      cut: cut ?? null,
      area: area ?? null,
    }),
  );
  return { plan: { ...plan, starts: startsOf(pieces) }, worked, view, perMm, pieces, pieceCount };
}

/** Time, place and line of a piece, in words. */
export function pieceText(
  { atX, atY, lengthMm, timeS, line, inProgram }: ToldPiece,
  number: number,
  count: number,
): string {
  const what = inProgram ? `Piece ${number} of ${count}` : 'Planned, in no program';
  const time = timeS === null ? '' : `${formatTime(timeS)} for `;
  return `${what}: ${time}${trimmed(lengthMm, 1)} mm, from X ${trimmed(atX, 2)} Y ${trimmed(atY, 2)}, line ${line}.`;
}
