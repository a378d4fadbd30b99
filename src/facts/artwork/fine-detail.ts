import { nestContours } from '../../geometry/outlines/contours.ts';
import { narrowPlaces } from '../../geometry/outlines/distance.ts';
import { findJoints, leastWidthMm } from '../../geometry/outlines/widths.ts';
import { type Found, mapped, where } from '../../units/found.ts';
import type { JointWidth, NarrowFeature, Web } from './geometry-fact.ts';
import type { ThroughLines } from './through-lines.ts';

/** Webs and holes are listed up to so many kerfs; rules judge the narrower ones. */
const KERFS = 3;
/** Used where no kerf is predicted, mm (ACRYLITE fabrication manual: 0.25–0.51 in acrylic). */
const ORDINARY_KERF_MM = 0.25;
/** Joints are drawn for sheets; wider ones are no joints, mm. */
const WIDEST_JOINT_MM = 30;
/** Widths are told apart to this, mm. */
const SAME_WIDTH_MM = 0.05;
/** A hole longer than this many widths is a slot. */
const SLOT_RATIO = 2.5;

/**
 * Bridges of material between two cuts, up to the thickness of the sheet or a few kerfs, whichever is more; narrowest first. What
 * lies inside a hole falls out and is no bridge.
 */
export function websOf(through: ThroughLines, kerfMm: number | null, thicknessMm: number | null): Found<Web> {
  const limitMm = Math.max(KERFS * (kerfMm ?? ORDINARY_KERF_MM), thicknessMm ?? 0);
  const { around, depth } = nestContours(through.lines);
  const isVoid = (x: number, y: number) => {
    const contour = around(x, y);
    return contour >= 0 && depth[contour]! % 2 === 1;
  };
  const bridges = where(narrowPlaces(through.lines, limitMm), ({ x, y }) => !isVoid(x, y));
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
  const { depth } = nestContours(through.lines);
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

/** Slots (rectangular holes among them) and tabs by the width they are drawn with, most frequent first. */
export function jointsOf(through: ThroughLines): JointWidth[] {
  const byWidth = new Map<string, JointWidth>();
  for (const joint of findJoints(through.lines, WIDEST_JOINT_MM)) {
    const kind = joint.kind === 'tab' ? 'tab' : 'slot';
    const widthMm = Math.round(joint.widthMm / SAME_WIDTH_MM) * SAME_WIDTH_MM;
    const key = `${kind} ${widthMm.toFixed(2)}`;
    const known = byWidth.get(key);
    const location = known?.location ?? through.locationOf(through.numbers[joint.contour]!);
    byWidth.set(key, { widthMm, count: (known?.count ?? 0) + 1, kind, location });
  }
  return [...byWidth.values()].sort((a, b) => b.count - a.count || a.widthMm - b.widthMm);
}
