import { coverageOf } from '../../geometry/overlap/coverage.ts';
import { placeSegments } from '../../geometry/placement/transform.ts';
import { SegmentBuilder, segmentsOf } from '../../geometry/segments/segments.ts';
import type { Artwork } from '../../model/artwork.ts';
import type { Toolpath } from '../../model/toolpath.ts';
import { type Found, where } from '../../units/found.ts';
import type { WorkBudget } from '../../units/work.ts';
import { type LaidOver, lineOptions } from './laid-over.ts';
import type { MissingOutline } from './match-fact.ts';

/** An outline missing by more than this share of its length is missing whole: the rest is rounding at its ends. */
const WHOLE = 0.999;
/** The head runs along an outline where unpowered moves cover at least so much of it: they need not meet at its corners. */
const RUN_SHARE = 0.9;

/**
 * Outlines of the artwork that get no power on their whole length although the head runs along them; what is missing besides is not in
 * the toolpath at all.
 */
export function runUnpowered(input: {
  toolpath: Toolpath | null;
  artwork: Artwork | null;
  laid: LaidOver | null;
  missing: Found<MissingOutline>;
  work: WorkBudget;
}): Found<MissingOutline> {
  const { toolpath, artwork, laid, missing, work } = input;
  const whole = where(missing, (one) => one.lengthMm >= one.outlineLengthMm * WHOLE);
  if (!toolpath || !artwork || !laid?.placement || whole.items.length === 0 || toolpath.travels.count === 0) {
    return { items: [], endedEarly: missing.endedEarly };
  }
  const lines = whole.items.map(({ outline }) => artwork.outlines[outline]!);
  const { missing: notRun } = coverageOf(placeSegments(laid.placement, segmentsOf(lines)), travelSegments(toolpath), {
    ...lineOptions(laid.placement),
    mostWork: work.coverage,
  });
  const notRunMm = new Float64Array(lines.length);
  for (const { owner, lengthMm } of notRun.items) notRunMm[owner]! += lengthMm;
  const run = whole.items.filter((one, i) => notRunMm[i]! <= one.outlineLengthMm * (1 - RUN_SHARE));
  // A search that ended early leaves the rest neither run nor not: it is then told as not in the toolpath.
  return { items: notRun.endedEarly === null ? run : [], endedEarly: missing.endedEarly };
}

function travelSegments({ travels: { count, xy } }: Toolpath) {
  const builder = new SegmentBuilder(count);
  for (let i = 0; i < count; i++) builder.addLine(xy[4 * i]!, xy[4 * i + 1]!, xy[4 * i + 2]!, xy[4 * i + 3]!, i);
  return builder.finish();
}
