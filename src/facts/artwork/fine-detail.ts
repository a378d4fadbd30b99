import { narrowPlaces } from '../../geometry/outlines/distance.ts';
import { findJoints, leastWidthMm } from '../../geometry/outlines/widths.ts';
import { type Found, mapped, where } from '../../units/found.ts';
import type { WorkBudget } from '../../units/work.ts';
import type { JointSize, NarrowFeature, Web } from './geometry-fact.ts';
import { SAME_POINT_MM, type ThroughLines } from './through-lines.ts';

/** Webs and holes are listed up to so many kerfs; rules judge the narrower ones. */
const KERFS = 3;
/** Used where no kerf is predicted, mm ([ACRYLIC-MANUAL]: 0.25–0.51 in acrylic). */
const ORDINARY_KERF_MM = 0.25;
/** Joints are drawn for sheets; wider ones are no joints, mm. */
const WIDEST_JOINT_MM = 30;
/** Joints are told apart to this, mm. */
const SAME_SIZE_MM = 0.05;
/** A hole longer than this many widths is a slot. */
const SLOT_RATIO = 2.5;

/**
 * Bridges of material between two cuts, up to the thickness of the sheet or a few kerfs, whichever is more; narrowest first. What
 * lies inside a hole falls out and is no bridge; nor is the gap where an outline misses closing, which is told as such.
 */
export function websOf(
  through: ThroughLines,
  { kerfMm, thicknessMm, work }: { kerfMm: number | null; thicknessMm: number | null; work: WorkBudget },
): Found<Web> {
  const limitMm = Math.max(KERFS * (kerfMm ?? ORDINARY_KERF_MM), thicknessMm ?? 0);
  const { around, depth } = through.nesting;
  const isVoid = (x: number, y: number) => {
    const contour = around(x, y);
    return contour >= 0 && depth[contour]! % 2 === 1;
  };
  const bridges = where(
    narrowPlaces(through.lines, limitMm, {
      touchMm: SAME_POINT_MM,
      mostWork: work.webs,
      equal: through.equal,
    }),
    ({ x, y, endOn, contourA, contourB }) => !isVoid(x, y) && !(endOn && contourA === contourB),
  );
  return mapped(bridges, (place) => ({
    widthMm: place.distanceMm,
    location: through.locationOf(through.numbers[place.contourB]!),
    other: through.locationOf(through.numbers[place.contourA]!),
    xMm: place.x,
    yMm: place.y,
  }));
}

/** Holes and slots so narrow that the kerf is a large part of them; narrowest first. */
export function narrowOf(through: ThroughLines, kerfMm: number | null): NarrowFeature[] {
  const limitMm = KERFS * (kerfMm ?? ORDINARY_KERF_MM);
  const { depth } = through.nesting;
  const narrow: NarrowFeature[] = [];
  for (const [i, line] of through.lines.entries()) {
    if (!line.closed || depth[i]! % 2 === 0) continue;
    const widthMm = leastWidthMm(line);
    if (widthMm > limitMm || widthMm === 0) continue;
    const { minX, minY, maxX, maxY } = line.box;
    narrow.push({
      widthMm,
      kind: Math.hypot(maxX - minX, maxY - minY) > SLOT_RATIO * widthMm ? 'slot' : 'hole',
      location: through.locationOf(through.numbers[i]!),
      xMm: (minX + maxX) / 2,
      yMm: (minY + maxY) / 2,
    });
  }
  return narrow.sort((a, b) => a.widthMm - b.widthMm);
}

/** Slots (rectangular holes among them) by their width and tabs by how far they stand out, most frequent first. */
export function jointsOf(through: ThroughLines): JointSize[] {
  const bySize = new Map<string, JointSize>();
  for (const joint of findJoints(through.lines, WIDEST_JOINT_MM, through.nesting)) {
    const kind = joint.kind === 'tab' ? 'tab' : 'slot';
    const drawnMm = kind === 'tab' ? joint.lengthMm : joint.widthMm;
    const sizeMm = Math.round(drawnMm / SAME_SIZE_MM) * SAME_SIZE_MM;
    const key = `${kind} ${sizeMm.toFixed(2)}`;
    const known = bySize.get(key);
    const location = known?.location ?? through.locationOf(through.numbers[joint.contour]!);
    bySize.set(key, { sizeMm, count: (known?.count ?? 0) + 1, kind, location });
  }
  return [...bySize.values()].sort((a, b) => b.count - a.count || a.sizeMm - b.sizeMm);
}
