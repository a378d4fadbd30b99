import { arcExtent } from '../../geometry/segments/arc.ts';
import type { Sidecar } from '../../job/model.ts';
import type { Strokes } from '../../model/strokes.ts';
import type { Toolpath } from '../../model/toolpath.ts';

/** Strokes along the very edge of the sheet are on it: rounding, mm. */
const ON_EDGE_MM = 0.05;

/** How the toolpath's powered motion fits the sheet that the sidecar states. */
export interface SheetFitFact {
  /** How far it reaches beyond the edge, or how much longer it is than the sheet, mm; 0 or less where it fits. */
  readonly byMm: number;
  /** The axis along which it is the most. */
  readonly axis: 'X' | 'Y';
  /** Of the motion along that axis, mm. */
  readonly sizeMm: number;
  /** True: where the sheet lies is left to the person, so that only the sizes were compared. */
  readonly sizeOnly: boolean;
  /** Strokes and raster areas that reach beyond the edge; 0 where only the sizes were compared. */
  readonly beyond: number;
  /** Source line of the first of them; null where there is none. */
  readonly line: number | null;
}

interface Edges {
  minX: number;
  minY: number;
  maxX: number;
  maxY: number;
}

/**
 * Holds the powered motion against the sheet. Null without a toolpath that fires, without a sheet, and where the place of the work is
 * not known although `zero` is stated (`unfollowed`).
 */
export function toolpathOnSheet(
  sidecar: Sidecar | null,
  toolpath: Toolpath | null,
  unfollowed: unknown,
): SheetFitFact | null {
  const sheet = sidecar?.sheet ?? null;
  const box = toolpath?.poweredBoundsMm ?? null;
  if (sidecar === null || sheet === null || toolpath === null || box === null || unfollowed !== null) return null;
  const width = box.maxX - box.minX;
  const height = box.maxY - box.minY;
  if (sidecar.zero === null || sidecar.zero === 'set-by-hand') {
    const [overX, overY] = [width - sheet.widthMm, height - sheet.heightMm];
    const byX = overX >= overY;
    const fit = byX
      ? { byMm: overX, axis: 'X' as const, sizeMm: width }
      : { byMm: overY, axis: 'Y' as const, sizeMm: height };
    return { ...fit, sizeOnly: true, beyond: 0, line: null };
  }
  const [minX, minY] = sidecar.zero === 'machine' ? [sheet.atXMm, sheet.atYMm] : [0, 0];
  const edges = { minX, minY, maxX: minX + sheet.widthMm, maxY: minY + sheet.heightMm };
  const overX = Math.max(edges.minX - box.minX, box.maxX - edges.maxX);
  const overY = Math.max(edges.minY - box.minY, box.maxY - edges.maxY);
  const byX = overX >= overY;
  return {
    byMm: byX ? overX : overY,
    axis: byX ? 'X' : 'Y',
    sizeMm: byX ? width : height,
    sizeOnly: false,
    ...beyondEdges(toolpath, edges),
  };
}

function beyondEdges({ strokes, areas }: Toolpath, edges: Edges): Pick<SheetFitFact, 'beyond' | 'line'> {
  let beyond = 0;
  let line = Number.POSITIVE_INFINITY;
  for (let i = 0; i < strokes.count; i++) {
    if (!reachesOut(strokes, i, edges)) continue;
    beyond++;
    line = Math.min(line, strokes.line[i]!);
  }
  for (const area of areas) {
    if (area.poweredMm === 0 || !isOutside(area.minX, area.minY, area.maxX, area.maxY, edges)) continue;
    beyond++;
    line = Math.min(line, area.place.line);
  }
  return { beyond, line: beyond > 0 ? line : null };
}

function reachesOut(strokes: Strokes, i: number, edges: Edges): boolean {
  const [x0, y0, x1, y1] = [strokes.startX[i]!, strokes.startY[i]!, strokes.endX[i]!, strokes.endY[i]!];
  const sweepRad = strokes.sweepRad[i]!;
  if (sweepRad === 0) {
    return isOutside(Math.min(x0, x1), Math.min(y0, y1), Math.max(x0, x1), Math.max(y0, y1), edges);
  }
  const [centreA, centreB] = [strokes.centreX[i]!, strokes.centreY[i]!];
  const radius = Math.hypot(x0 - centreA, y0 - centreB);
  return isOutside(...arcExtent(x0, y0, x1, y1, { centreA, centreB, radius, sweepRad }), edges);
}

function isOutside(minX: number, minY: number, maxX: number, maxY: number, edges: Edges): boolean {
  return (
    minX < edges.minX - ON_EDGE_MM ||
    minY < edges.minY - ON_EDGE_MM ||
    maxX > edges.maxX + ON_EDGE_MM ||
    maxY > edges.maxY + ON_EDGE_MM
  );
}
