import type { DrawnArea, DrawnCut, JobDrawing } from '../../facts/drawing/drawing-model.ts';
import { formatDepth, formatMm, trimmed } from '../../units/format.ts';
import { escapeHtml } from '../escape.ts';
import { LABEL_PX, MapFrame, PHONE_GROWTH } from './map-frame.ts';
import { closing, type MapIds, type NumberedFinding, opening } from './map-links.ts';
import { mapMarks } from './map-marks.ts';
import { pins } from './map-pins.ts';
import { energyText, keptText, mapPlan } from './map-plan.ts';
import { chanceText, leastSureFirst, marginClass } from './margin-scale.ts';
import { coordinate, type Picture, svgText } from './picture-parts.ts';

/** Paths longer than this, in characters, are drawn without dashes: each dash costs, and nobody could see them. */
const DENSE = 60_000;
/** Paths longer than this, in characters, are not written a second time for pointers to hit: so much of the sheet is full of them. */
const LONG = 20_000;
/** Steps of energy per area, J/mm², at which the shading gets denser (a mark on wood takes about 0.1 to 1; common practice, no source). */
const ENERGY_STEPS = [0.1, 0.4, 1.5];

/**
 * The sheet to scale as it will lie: the work piece by piece, drawn by how surely it parts, artwork and travel faint, surface areas
 * shaded, findings pinned. Without `ids` nothing in it is a link, and its lines have real widths: a picture that stands alone.
 * @param prefix stands in front of the ids inside, which must be unique where it is shown.
 */
export function mapPicture(
  drawing: JobDrawing,
  findings: readonly NumberedFinding[],
  ids: MapIds | null,
  prefix = ids?.prefix ?? 'map',
): Picture {
  const frame = new MapFrame(drawing, ids === null ? 'file' : 'page');
  // The least sure lies on top.
  const byRisk = leastSureFirst(drawing.cuts.filter((cut) => cut.lines.length > 0)).reverse();
  const pinned = pins(drawing.pins, findings, frame, ids);
  const layout = { fontPx: LABEL_PX, growth: PHONE_GROWTH, inside: false, taken: pinned.taken };
  const { scales, numbers } = mapMarks(mapPlan(drawing), frame.shown, layout);
  // A size for all, so that a small screen can have it larger.
  const group = (css: string, inner: string) =>
    `<g class="${css}" font-size="${LABEL_PX}"${frame.px === 1 ? '' : ` transform="scale(${coordinate(frame.px)})"`}>${inner}</g>`;
  const parts = [
    ...edges(drawing, frame),
    ...drawing.areas.map((area, i) => areaPart(drawing, area, i, frame, { ids, prefix })),
    linesPart(drawing.artwork, frame, 'p-artwork'),
    linesPart(drawing.travels, frame, 'p-travel'),
    ...byRisk.map((cut) => cutPart(drawing, cut, frame, { ids, prefix })),
    group('axes', scales + keptPart(drawing, frame)),
    group('axes numbers', numbers),
    ...pinned.parts,
  ];
  return {
    viewBox: frame.viewBox,
    title: `Sheet map of ${drawing.job}`,
    description: describe(drawing),
    body: parts.filter((part) => part !== '').join('\n'),
  };
}

/** What links and ids of a part are made from. */
interface Naming {
  ids: MapIds | null;
  prefix: string;
}

/** Bed and sheet, the bed's edge heavier: it is where the axes end. */
function edges({ sheet, bed }: JobDrawing, frame: MapFrame): string[] {
  return [
    sheet === null ? '' : `<rect class="p-sheet" ${frame.rect(sheet)}/>`,
    bed === null ? '' : `<rect class="p-bed" ${frame.rect(bed)}/>`,
    sheet === null ? '' : `<rect class="p-edge" ${frame.rect(sheet)}/>`,
  ];
}

/** What stands on the picture where not every corner is drawn. */
function keptPart(drawing: JobDrawing, frame: MapFrame): string {
  const kept = keptText(drawing);
  if (kept === '') return '';
  const lower = (frame.viewBox.y + frame.viewBox.height) / frame.px;
  return svgText(0, lower - 6, LABEL_PX * 0.8, `Drawn: ${kept}`, 't-soft');
}

function linesPart(lines: readonly (readonly number[])[], frame: MapFrame, css: string): string {
  if (lines.length === 0) return '';
  const d = lines.map((line) => frame.path(line)).join('');
  const dense = d.length > DENSE / 4 ? ' dense' : '';
  return `<path class="${css}${dense}" d="${d}"/>`;
}

/** A path for each piece, one for what is not told apart, and all of it wide and transparent, so that pointer and finger can hit it. */
function cutPart(drawing: JobDrawing, cut: DrawnCut, frame: MapFrame, { ids, prefix }: Naming): string {
  const { css } = marginClass(cut);
  const paths = cut.lines.map((line) => frame.path(line));
  const all = paths.join('');
  const dense = all.length > DENSE ? ' dense' : '';
  const seen = ids === null ? [`<path d="${all}"/>`] : piecePaths(drawing, cut, paths, prefix);
  const hit = ids === null || all.length > LONG ? '' : `<path class="p-hit" d="${all}"/>`;
  return [
    opening(`class="cut"`, ids?.cut(cut), cutLabel(cut)),
    `<g class="p-cut ${css}${dense}" id="${prefix}-path-${cut.cut + 1}">${seen.join('')}</g>`,
    hit,
    closing(ids),
  ].join('');
}

function piecePaths(drawing: JobDrawing, { cut }: DrawnCut, paths: readonly string[], prefix: string): string[] {
  const own = new Map<number, number>();
  for (const [i, piece] of drawing.pieces.entries())
    if (piece.cut === cut && piece.drawnBy !== null && !own.has(piece.drawnBy)) own.set(piece.drawnBy, i + 1);
  const rest = paths.filter((_, i) => !own.has(i)).join('');
  const named = [...own].map(
    ([drawnBy, number]) =>
      `<path class="piece" id="${prefix}-piece-${number}" data-piece="${number}" d="${paths[drawnBy]}"/>`,
  );
  return rest === '' ? named : [`<path d="${rest}"/>`, ...named];
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

function areaPart(
  drawing: JobDrawing,
  area: DrawnArea,
  index: number,
  frame: MapFrame,
  { ids, prefix }: Naming,
): string {
  const id = `${prefix}-shade-${index + 1}`;
  const { px } = frame;
  const energy = area.meanJPerMm2;
  const step = energy === null ? 0 : ENERGY_STEPS.filter((end) => energy >= end).length;
  const spacing = (11 - 2.5 * step) * px;
  const label = `Surface ${area.task ?? 'without a task'}: ${energyText(area)}, lines ${trimmed(area.pitchMm, 3)} mm apart; ${area.file}:${area.line}`;
  const piece = drawing.pieces.findIndex((one) => one.area === index) + 1;
  const named = ids === null || piece === 0 ? '' : ` class="piece" id="${prefix}-piece-${piece}" data-piece="${piece}"`;
  return [
    `<g${named} role="img" aria-label="${escapeHtml(label)}"><title>${escapeHtml(label)}</title>`,
    `<pattern id="${id}" width="${coordinate(spacing)}" height="${coordinate(spacing)}" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">`,
    `<path class="p-area-hatch" stroke-width="${coordinate((1 + 0.8 * step) * px)}" d="M0 0V${coordinate(spacing)}"/></pattern>`,
    `<rect class="p-area" fill="url(#${id})" ${frame.rect(area)}/></g>`,
  ].join('');
}

function describe(drawing: JobDrawing): string {
  const cuts = leastSureFirst(drawing.cuts).slice(0, 12);
  const more = drawing.cuts.length - cuts.length;
  return [
    `${drawing.cuts.length} cuts drawn to scale, lines simplified to ${formatMm(drawing.detail.cuts.withinMm, 2)}.`,
    ...cuts.map((cut) => `${cutLabel(cut)}.`),
    more > 0 ? `And ${more} more.` : '',
  ]
    .filter((part) => part !== '')
    .join(' ');
}
