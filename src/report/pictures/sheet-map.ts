import type { DrawnArea, DrawnCut, JobDrawing } from '../../facts/drawing/drawing-model.ts';
import { formatDepth, formatMm, significant, trimmed } from '../../units/format.ts';
import { escapeHtml } from '../escape.ts';
import { axes, MapFrame, sheetOutline } from './map-frame.ts';
import { closing, type MapIds, type NumberedFinding, opening } from './map-links.ts';
import { pins } from './map-pins.ts';
import { chanceText, leastSureFirst, marginClass } from './margin-scale.ts';
import { coordinate, type Picture } from './picture-parts.ts';

/** Paths longer than this, in characters, are drawn without dashes: each dash costs, and nobody could see them. */
const DENSE = 60_000;
/** Paths longer than this are hit by the boxes of their lines. */
const LONG = 20_000;
/** Steps of energy per area, J/mm², at which the shading gets denser (a mark on wood takes about 0.1 to 1; common practice, no source). */
const ENERGY_STEPS = [0.1, 0.4, 1.5];

/**
 * The sheet to scale as it will lie: toolpath by margin, artwork and travel faint, surface areas shaded, findings pinned.
 * Without `ids` nothing in it is a link: a picture that stands alone.
 */
export function mapPicture(drawing: JobDrawing, findings: readonly NumberedFinding[], ids: MapIds | null): Picture {
  const frame = new MapFrame(drawing);
  // The least sure lies on top.
  const byRisk = leastSureFirst(drawing.cuts.filter((cut) => cut.lines.length > 0)).reverse();
  const parts = [
    ...axes(frame),
    ...sheetOutline(drawing, frame),
    ...drawing.areas.map((area, i) => areaPart(area, i, frame, ids)),
    linesPart(drawing.artwork, frame, 'p-artwork'),
    linesPart(drawing.travels, frame, 'p-travel'),
    ...byRisk.map((cut) => cutPart(cut, frame, ids)),
    ...pins(drawing.pins, findings, frame, ids),
  ];
  return {
    viewBox: frame.viewBox,
    title: `Sheet map of ${drawing.job}`,
    description: describe(drawing),
    body: parts.filter((part) => part !== '').join('\n'),
  };
}

function linesPart(lines: readonly (readonly number[])[], frame: MapFrame, css: string): string {
  if (lines.length === 0) return '';
  const d = lines.map((line) => frame.path(line)).join('');
  const dense = d.length > DENSE / 4 ? ' dense' : '';
  return `<path class="${css}${dense}" vector-effect="non-scaling-stroke" d="${d}"/>`;
}

/** The path twice: as it is seen, and wide and transparent so that pointer and finger can hit it. */
function cutPart(cut: DrawnCut, frame: MapFrame, ids: MapIds | null): string {
  const id = `${ids?.prefix ?? 'map'}-path-${cut.cut + 1}`;
  const { css } = marginClass(cut);
  const d = cut.lines.map((line) => frame.path(line)).join('');
  const label = cutLabel(cut);
  const dense = d.length > DENSE ? ' dense' : '';
  return [
    opening(`class="cut"`, ids?.cut(cut), label),
    `<path class="p-cut ${css}${dense}" id="${id}" vector-effect="non-scaling-stroke" d="${d}"/>`,
    `<path class="p-hit" vector-effect="non-scaling-stroke" d="${hitPath(cut, frame, d)}"/>`,
    closing(ids),
  ].join('');
}

/** What a pointer can hit: the path itself, or the boxes of its lines where the path is too long to be written twice. */
function hitPath(cut: DrawnCut, frame: MapFrame, d: string): string {
  if (d.length < LONG) return d;
  return cut.lines
    .map((line) => {
      const xs = line.filter((_, i) => i % 2 === 0).map((mm) => frame.x(mm));
      const ys = line.filter((_, i) => i % 2 === 1).map((mm) => frame.y(mm));
      const left = xs.reduce((a, b) => Math.min(a, b));
      const top = ys.reduce((a, b) => Math.min(a, b));
      return `M${left} ${top}H${xs.reduce((a, b) => Math.max(a, b))}V${ys.reduce((a, b) => Math.max(a, b))}H${left}z`;
    })
    .join('');
}

/** Everything that the tooltip of a cut says. */
function cutLabel(cut: DrawnCut): string {
  const { depthMm, depthLowMm, depthHighMm } = cut;
  const depth =
    depthMm === null || depthLowMm === null || depthHighMm === null
      ? 'depth not predicted'
      : `depth ${formatDepth(depthMm, depthLowMm, depthHighMm)}`;
  return `Cut ${cut.cut + 1}, ${cut.task}: ${cut.recipe}; ${depth}; ${chanceText(cut)}; ${cut.file}:${cut.line}`;
}

function areaPart(area: DrawnArea, index: number, frame: MapFrame, ids: MapIds | null): string {
  const id = `${ids?.prefix ?? 'map'}-shade-${index + 1}`;
  const { px } = frame;
  const energy = area.meanJPerMm2;
  const step = energy === null ? 0 : ENERGY_STEPS.filter((end) => energy >= end).length;
  const spacing = (11 - 2.5 * step) * px;
  const x = frame.x(area.minX);
  const y = Math.min(frame.y(area.minY), frame.y(area.maxY));
  const width = frame.x(area.maxX) - x;
  const height = Math.abs(frame.y(area.maxY) - frame.y(area.minY));
  const label = `Surface ${area.task ?? 'without a task'}: ${energyText(area)}, lines ${trimmed(area.pitchMm, 3)} mm apart; ${area.file}:${area.line}`;
  return [
    `<g role="img" aria-label="${escapeHtml(label)}"><title>${escapeHtml(label)}</title>`,
    `<pattern id="${id}" width="${coordinate(spacing)}" height="${coordinate(spacing)}" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">`,
    `<path class="p-area-hatch" stroke-width="${coordinate((1 + 0.8 * step) * px)}" d="M0 0V${coordinate(spacing)}"/></pattern>`,
    `<rect class="p-area" vector-effect="non-scaling-stroke" fill="url(#${id})" x="${x}" y="${y}" width="${width}" height="${height}"/></g>`,
  ].join('');
}

export function energyText({ meanJPerMm2, peakJPerMm2 }: DrawnArea): string {
  if (meanJPerMm2 === null) return 'energy not known';
  const peak = peakJPerMm2 === null ? '' : `, ${significant(peakJPerMm2)} at its densest`;
  return `${significant(meanJPerMm2)} J/mm²${peak}`;
}

function describe(drawing: JobDrawing): string {
  const cuts = leastSureFirst(drawing.cuts).slice(0, 12);
  const more = drawing.cuts.length - cuts.length;
  return [
    `${drawing.cuts.length} cuts drawn to scale, lines simplified to ${formatMm(drawing.simplifiedMm, 2)}.`,
    ...cuts.map((cut) => `${cutLabel(cut)}.`),
    more > 0 ? `And ${more} more.` : '',
  ]
    .filter((part) => part !== '')
    .join(' ');
}
