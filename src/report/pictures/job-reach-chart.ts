import type { ReachCurves } from '../../facts/bench/reach-model.ts';
import type { DrawnCut, JobDrawing } from '../../facts/drawing/drawing-model.ts';
import type { PublishedDot } from '../../facts/evidence/published-dots.ts';
import { formatCount, formatDepth, formatMm, formatPercent, formatSpeed, formatWatts } from '../../units/format.ts';
import { chanceText, leastSureFirst } from './margin-scale.ts';
import { type Picture, svgText } from './picture-parts.ts';
import { fittedTo } from './placed-words.ts';
import { axisParts, curveParts, goalCurve, lensLabels } from './reach-curves.ts';
import { couponPart, cutDots, goalPart, herePart, publishedPart } from './reach-dots.ts';
import { PLOT, type Scales, scalesOf } from './reach-scales.ts';

/**
 * Which speed parts which thickness: the machine's lenses in the job's material, with the job's own cuts and where they should go, test cuts and
 * published ones. Null without a model or a thickness.
 */
export function reachOfJob(drawing: JobDrawing, thicknessMm: number | null): Picture | null {
  const model = drawing.reach;
  if (!model || thicknessMm === null || model.lenses.length === 0) return null;
  const cuts = leastSureFirst(
    drawing.cuts.filter(
      ({ aim, depthMm, speedMmPerS }) => aim === 'through' && depthMm !== null && (speedMmPerS ?? 0) > 0,
    ),
  );
  const scales = scalesOf(drawing, model, cuts, thicknessMm);
  const published = publishedOnChart(model, scales);
  const [here, ...others] = cuts;
  const { goTo } = drawing;
  // Words are placed in the order in which they matter, and drawn over the curves.
  const words = [
    ...(here ? herePart(here, thicknessMm, scales) : []),
    ...(goTo ? goalPart(goTo, thicknessMm, scales) : []),
    ...sheetWords(thicknessMm, scales),
    ...lensLabels(model, scales),
    ...cutDots(others, here ?? null, thicknessMm, scales),
  ];
  const parts = [
    svgText(PLOT.left - 46, 20, 15, fittedTo(PLOT.width - 24, headText(model), 15), 't-bold'),
    svgText(PLOT.left - 46, 38, 13, fittedTo(PLOT.width - 24, `basis: ${model.basis}`, 13), 't-soft'),
    ...curveParts(model, scales),
    ...(goTo ? goalCurve(goTo, scales) : []),
    ...axisParts(model, thicknessMm, scales),
    ...published.map((dot) => publishedPart(dot, scales)),
    ...drawing.coupons.map((coupon) => couponPart(coupon, scales)),
    ...words,
  ];
  return {
    viewBox: { x: 0, y: 0, width: PLOT.width, height: PLOT.height },
    title: `Reach of ${model.machine} in ${model.material}`,
    description: describe(drawing, model, { cuts, thicknessMm, published: published.length }),
    body: parts.filter((part) => part !== '').join('\n'),
  };
}

function headText({ passes, setting, powerW }: ReachCurves): string {
  return `${formatCount(passes, 'pass', 'passes')} at ${formatPercent(setting)}, ${formatWatts(powerW)}`;
}

function describe(
  { goTo }: JobDrawing,
  model: ReachCurves,
  shown: { cuts: readonly DrawnCut[]; thicknessMm: number; published: number },
): string {
  const floor = model.floorMmPerS;
  return [
    `With ${headText(model)}, ${floor === null ? 'at the slowest speed shown' : `at the clean-speed floor of ${formatSpeed(floor)}`}:`,
    ...model.lenses.map(
      ({ id, greatest }) =>
        `the ${id} lens parts ${formatMm(greatest.sureMm, 1)} with 90 %, median ${formatDepth(greatest.depthMm, greatest.lowMm, greatest.highMm)};`,
    ),
    `the sheet has ${formatMm(shown.thicknessMm)}.`,
    ...(shown.published === 0 ? [] : [`${formatCount(shown.published, 'published cut')} beside it.`]),
    ...shown.cuts
      .slice(0, 20)
      .map((cut) => `Cut ${cut.cut + 1}: ${formatSpeed(cut.speedMmPerS ?? 0)}, ${chanceText(cut)}.`),
    ...(goTo === null
      ? []
      : [
          `Proposed: ${formatCount(goTo.passes, 'pass', 'passes')} at ${formatSpeed(goTo.speedMmPerS)} under the ${goTo.lens} lens.`,
        ]),
  ].join(' ');
}

function sheetWords(thicknessMm: number, { y, room }: Scales): string[] {
  const at = y(thicknessMm);
  return [
    room.place({ text: `this sheet, ${formatMm(thicknessMm)}`, size: 13, classes: 't-end t-bold halo' }, [
      { x: PLOT.right - 4, y: at - 6 },
      { x: PLOT.right - 4, y: at + 16 },
      { x: PLOT.right - 200, y: at - 6 },
    ]),
  ];
}

/** Published cuts that lie on the chart: it is laid out for the job's own. */
function publishedOnChart(model: ReachCurves, { x, highestMm }: Scales): PublishedDot[] {
  const [first = 0, last = 0] = x.domain();
  return model.published.filter(
    ({ speedMmPerS, cut }) => speedMmPerS >= first && speedMmPerS <= last && cut.thicknessMm <= highestMm,
  );
}
