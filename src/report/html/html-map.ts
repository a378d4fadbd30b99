import type { DrawnCut, DrawnPiece, JobDrawing } from '../../facts/drawing/drawing-model.ts';
import { formatCount, formatMm, formatTime, trimmed } from '../../units/format.ts';
import { escapeHtml } from '../escape.ts';
import { PER_MM } from '../pictures/map-frame.ts';
import type { MapIds, NumberedFinding } from '../pictures/map-links.ts';
import { energyText, keptText, pageMap, pageMapText } from '../pictures/map-plan.ts';
import { GROOVE_CLASS, MARGIN_CLASSES, marginClass, UNKNOWN_CLASS } from '../pictures/margin-scale.ts';
import { pictureInPage } from '../pictures/picture-parts.ts';
import { mapPicture } from '../pictures/sheet-map.ts';

/** So many pieces stand in the list of the work, in cutting order. */
const PIECES_SHOWN = 200;
/** So many areas have their energy in the legend. */
const AREAS_SHOWN = 6;

/** The sheet map with its tools and its legend. */
export function mapFigure(drawing: JobDrawing, id: string, numbered: readonly NumberedFinding[], ids: MapIds): string {
  const data = escapeHtml(pageMapText(pageMap(drawing, PER_MM)));
  return [
    `<h3>Sheet map</h3>`,
    `<figure class="map" data-map="${data}">`,
    tools(drawing),
    `<div class="view">${pictureInPage(mapPicture(drawing, numbered, ids), `${id}-map`, 'group')}</div>`,
    `<p class="told" aria-live="polite" hidden>Point at a piece or tap it, or step through the cuts with Tab. Plus, minus and 0 zoom; arrows move.</p>`,
    `<figcaption>${legend(drawing)}<p>${escapeHtml(mapNote(drawing))}</p></figcaption>`,
    `</figure>`,
  ]
    .filter((part) => part !== '')
    .join('\n');
}

function tools({ bed, pieces }: JobDrawing): string {
  const button = (does: string, says: string) => `<button type="button" data-zoom="${does}">${says}</button>`;
  const buttons = [
    button('in', 'Zoom in'),
    button('out', 'Zoom out'),
    button('all', 'Whole sheet'),
    button('job', 'The job'),
    bed === null ? '' : button('bed', 'Whole bed'),
    pieces.length < 2 ? '' : button('before', 'Piece before') + button('next', 'Next piece'),
  ];
  return `<div class="tools" hidden>${buttons.join('')}<span class="shown soft"></span></div>`;
}

function legend(drawing: JobDrawing): string {
  const present = new Set(drawing.cuts.map((cut) => marginClass(cut).css));
  const classes = [...MARGIN_CLASSES, GROOVE_CLASS, UNKNOWN_CLASS].filter(({ css }) => present.has(css));
  const entry = (css: string, says: string) =>
    `<li><svg class="pic" viewBox="0 0 44 10" width="44" height="10" aria-hidden="true"><path class="p-cut ${css}" d="M1 5H43"/></svg> ${escapeHtml(says)}</li>`;
  const entries = classes.map(({ css, words }) => entry(css, words));
  if (drawing.artwork.length > 0) entries.push(entry('p-artwork', 'artwork'));
  if (drawing.travels.length > 0) entries.push(entry('p-travel', 'travel'));
  if (drawing.bed !== null) entries.push(entry('p-bed', 'edge of the bed'));
  if (drawing.pieces.some(({ inProgram }) => inProgram))
    entries.push(
      `<li><svg class="pic" viewBox="0 0 44 10" width="44" height="10" aria-hidden="true"><circle class="p-start" cx="22" cy="5" r="2.4"/></svg> where a piece begins, numbered in cutting order</li>`,
    );
  const areas = drawing.areas.map(
    (area) => `<li>Shaded: ${escapeHtml(`${area.task ?? 'surface'}, ${energyText(area)}`)}</li>`,
  );
  const more = areas.length - AREAS_SHOWN;
  const untold = more > 0 ? `<li>and ${more} more: point at them</li>` : '';
  return `<ul class="legend"><li class="lead">How surely each cut parts the sheet:</li>${entries.join('')}${areas.slice(0, AREAS_SHOWN).join('')}${untold}</ul>`;
}

function mapNote(drawing: JobDrawing): string {
  const kept = keptText(drawing);
  const { withinMm } = drawing.detail.cuts;
  return [
    'To scale, in mm.',
    kept === '' ? `Lines are simplified to within ${formatMm(withinMm, 2)}.` : `All lines are drawn: ${kept}.`,
    drawing.leftOut === 0 ? '' : `${formatCount(drawing.leftOut, 'travel move')} after the first ones are not drawn.`,
    drawing.sheet === null ? 'Where the sheet lies is not stated.' : '',
    drawing.bed === null && drawing.yUp ? 'Where the job lies on the bed is not known.' : '',
    drawing.pieces.some(({ inProgram }) => inProgram) ? '' : 'The order of cutting is not known: there is no toolpath.',
  ]
    .filter((part) => part !== '')
    .join(' ');
}

/** The pieces in the order in which they are cut, folded, each with what the map tells when it is pointed at. */
export function workPlan(drawing: JobDrawing, id: string): string {
  const { pieces, pieceCount, cuts } = drawing;
  const inProgram = pieces.filter((piece) => piece.inProgram);
  if (inProgram.length === 0) return '';
  const rows = inProgram
    .slice(0, PIECES_SHOWN)
    .map((piece, i) => pieceRow(drawing, piece, cuts[piece.cut ?? -1], i + 1, id));
  const more = pieceCount - rows.length;
  return [
    `<details class="cuts fold plan"><summary>Cutting order</summary><table>`,
    '<thead><tr><th scope="col">Piece</th><th scope="col">Task</th><th scope="col">Recipe</th><th scope="col">Time</th><th scope="col">Begins at, mm</th><th scope="col">Line</th></tr></thead>',
    `<tbody>${rows.join('\n')}</tbody></table>`,
    more > 0
      ? `<p class="aside">And ${more} more: the drawing file (--format drawing) lists the first ${pieces.length}.</p>`
      : '',
    '</details>',
  ].join('\n');
}

function pieceRow(
  { areas }: JobDrawing,
  piece: DrawnPiece,
  cut: DrawnCut | undefined,
  number: number,
  id: string,
): string {
  const area = piece.area === null ? undefined : areas[piece.area];
  const recipe = cut?.recipe ?? (area ? energyText(area) : '');
  const task = cut?.task ?? area?.task ?? 'surface';
  return [
    `<tr><th scope="row"><a href="#${id}-piece-${number}">${number}</a></th>`,
    `<td>${escapeHtml(task)}</td><td>${escapeHtml(recipe)}</td>`,
    `<td>${piece.timeS === null ? '–' : formatTime(piece.timeS)}</td>`,
    `<td>X ${trimmed(piece.atX, 2)} Y ${trimmed(piece.atY, 2)}</td>`,
    `<td class="place">${escapeHtml(`${piece.file}:${piece.line}`)}</td></tr>`,
  ].join('');
}
