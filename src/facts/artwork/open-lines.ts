import { joinChains } from '../../geometry/outlines/chains.ts';
import type { Polyline } from '../../geometry/outlines/outline.ts';
import { sameWay } from '../../geometry/outlines/same-way.ts';
import type { NearlyClosedOutline, OpenOutline } from './geometry-fact.ts';
import { SAME_POINT_MM, STRAY_MM, type ThroughLines } from './through-lines.ts';

/** Gaps up to this are meant to be closed: no part is held by less, mm. */
const NEARLY_MM = 1;

/** Open lines that do not join others into a closed contour, and those that all but do. */
export function openLines(through: ThroughLines): { open: OpenOutline[]; nearlyClosed: NearlyClosedOutline[] } {
  const open = through.numbers.filter((i) => {
    const outline = through.artwork.outlines[i]!;
    return !outline.closed && outline.xy.length >= 4 && outline.lengthMm >= STRAY_MM;
  });
  const n = open.length;
  const ends = {
    count: n,
    x0: new Float64Array(n),
    y0: new Float64Array(n),
    x1: new Float64Array(n),
    y1: new Float64Array(n),
  };
  for (const [k, i] of open.entries()) {
    const { xy } = through.artwork.outlines[i]!;
    ends.x0[k] = xy[0]!;
    ends.y0[k] = xy[1]!;
    ends.x1[k] = xy[xy.length - 2]!;
    ends.y1[k] = xy[xy.length - 1]!;
  }
  const outlineOf = (k: number) => through.artwork.outlines[open[k]!]!;
  const chains = joinChains(ends, SAME_POINT_MM, {
    lengthOf: (k) => outlineOf(k).lengthMm,
    leaveTogether: (end, other) =>
      sameWay(...firstChord(outlineOf(end >> 1), end), ...firstChord(outlineOf(other >> 1), other)),
  });
  const outlines: OpenOutline[] = [];
  const nearlyClosed: NearlyClosedOutline[] = [];
  for (let c = 0; c < chains.count; c++) {
    if (chains.closed[c]) continue;
    let lengthMm = 0;
    let first = Infinity;
    for (let k = chains.start[c]!; k < chains.start[c + 1]!; k++) {
      const i = open[chains.item[k]!]!;
      lengthMm += through.artwork.outlines[i]!.lengthMm;
      first = Math.min(first, i);
    }
    const gapMm = chains.gapMm[c]!;
    const location = through.locationOf(first);
    if (gapMm <= NEARLY_MM && lengthMm > 10 * gapMm) {
      nearlyClosed.push({ outline: first, location, gapMm });
    } else outlines.push({ outline: first, location, gapMm, lengthMm });
  }
  return { open: outlines, nearlyClosed };
}

/** The chord with which an outline leaves its start, or its end where the number is odd, mm along x and y. */
function firstChord({ xy }: Polyline, end: number): [x: number, y: number] {
  const [from, to] = end & 1 ? [xy.length - 2, xy.length - 4] : [0, 2];
  return [xy[to]! - xy[from]!, xy[to + 1]! - xy[from + 1]!];
}
