import { scaleLinear } from 'd3-scale';
import { area } from 'd3-shape';
import type { SectionLens, SectionModel } from '../../facts/drawing/drawing-model.ts';
import { formatChance, formatDepth, formatMm, trimmed } from '../../units/format.ts';
import { escapeHtml } from '../escape.ts';
import { coordinate, type Picture, pictureFile, rectangle, straightLine, svgText } from './picture-parts.ts';

/** Lay-out of one lens's panel, px. The scale is the same across and down: nothing is stretched. */
const PANEL = { width: 264, height: 448, top: 74, bottom: 394, left: 40, right: 190 };
const MIDDLE = (PANEL.left + PANEL.right) / 2;
/** Lines of words keep this distance, px. */
const LINE = 14;

/** One lens over the sheet: envelope of the beam, waist, depth of focus, and how deep each pass reaches. */
export function sectionPanel(section: SectionModel, lens: SectionLens, id: string): Picture {
  const highest = lens.beam[0]?.zMm ?? section.thicknessMm / 2;
  const lowest = lens.beam.at(-1)?.zMm ?? -1.5 * section.thicknessMm;
  const y = scaleLinear([highest, lowest], [PANEL.top, PANEL.bottom]).clamp(true);
  const perMm = (PANEL.bottom - PANEL.top) / (highest - lowest);
  const parts = [
    svgText(PANEL.left - 30, 22, 17, `${lens.id} lens`, 't-bold'),
    svgText(
      PANEL.left - 30,
      40,
      12,
      lens.fitted ? 'fitted, as the job has it' : 'same recipe, if it were fitted',
      't-soft',
    ),
    svgText(
      PANEL.left - 30,
      56,
      12,
      `spot ${formatMm(lens.spotMm, 2)} · in focus over ${formatMm(lens.depthOfFocusMm, 1)}`,
      't-soft',
    ),
    `<clipPath id="${id}-clip">${rectangle(PANEL.left, PANEL.top, PANEL.right - PANEL.left, PANEL.bottom - PANEL.top, '')}</clipPath>`,
    ...sheetParts(section, y),
    `<g clip-path="url(#${id}-clip)">`,
    bandPart(lens, y),
    ...beamParts(lens, y, perMm),
    kerfPart(section, lens, y, perMm),
    '</g>',
    ...faceParts(section, y),
    ...depthParts(lens, y, perMm),
    ...focusParts(lens, y),
    svgText(PANEL.left - 30, PANEL.bottom + 30, 15, `${formatChance(lens.probability)} likely to part`, 't-bold'),
    svgText(
      PANEL.left - 30,
      PANEL.bottom + 46,
      12,
      `reaches ${formatDepth(lens.depthMm, lens.depthLowMm, lens.depthHighMm)} of ${formatMm(section.thicknessMm)}`,
      't-soft',
    ),
  ];
  return {
    viewBox: { x: 0, y: 0, width: PANEL.width, height: PANEL.height },
    title: `Section under the ${lens.id} lens`,
    description: lensText(section, lens),
    body: parts.join('\n'),
  };
}

/** All lenses side by side, as a file. */
export function sectionFile(section: SectionModel): string {
  const panels = section.lenses.map((lens, i) => {
    const { body } = sectionPanel(section, lens, `lens-${i + 1}`);
    return `<g transform="translate(${i * PANEL.width} 0)">\n${body}\n</g>`;
  });
  const width = Math.max(1, section.lenses.length) * PANEL.width;
  return pictureFile(
    {
      viewBox: { x: 0, y: 0, width, height: PANEL.height },
      title: `Section through ${formatMm(section.thicknessMm)} ${section.material}, task ${section.task}`,
      description: section.lenses.map((lens) => lensText(section, lens)).join(' '),
      body: panels.join('\n'),
    },
    width,
  );
}

/** What a panel shows, said in words. */
export function lensText(section: SectionModel, lens: SectionLens): string {
  const passes = lens.depthAfterPassMm.map((mm, i) => `pass ${i + 1} to ${formatMm(mm, 1)}`).join(', ');
  const kerf =
    lens.kerfTopMm === null
      ? ''
      : ` Kerf ${formatMm(lens.kerfTopMm, 2)} at the top${lens.kerfBottomMm === null ? '' : `, ${formatMm(lens.kerfBottomMm, 2)} at the bottom`}.`;
  return `${lens.id} lens${lens.fitted ? ' (fitted)' : ''}: ${passes} of ${formatMm(section.thicknessMm)}, in all ${formatDepth(lens.depthMm, lens.depthLowMm, lens.depthHighMm)}, ${formatChance(lens.probability)} likely to part; in focus over ${formatMm(lens.depthOfFocusMm, 1)}.${kerf}`;
}

type Down = (mm: number) => number;

function sheetParts(section: SectionModel, y: Down): string[] {
  const top = y(0);
  const bottom = y(-section.thicknessMm);
  return [rectangle(PANEL.left, top, PANEL.right - PANEL.left, bottom - top, 'p-sheet')];
}

function faceParts(section: SectionModel, y: Down): string[] {
  const bottom = y(-section.thicknessMm);
  const ticks = scaleLinear([0, section.thicknessMm], [0, 1]).ticks(5);
  return [
    straightLine(PANEL.left, y(0), PANEL.right, y(0), 'p-axis'),
    straightLine(PANEL.left, bottom, PANEL.right, bottom, 'p-axis'),
    ...ticks.map(
      (mm) =>
        straightLine(PANEL.left - 5, y(-mm), PANEL.left, y(-mm), 'p-axis') +
        svgText(PANEL.left - 8, y(-mm) + 4, 11, trimmed(mm, 2), 't-end t-soft'),
    ),
    svgText(PANEL.left - 8, y(0) - 10, 11, 'mm', 't-end t-soft'),
  ];
}

/** 5th to 95th percentile of the depth. */
function bandPart(lens: SectionLens, y: Down): string {
  const top = y(-lens.depthLowMm);
  return rectangle(PANEL.left, top, PANEL.right - PANEL.left, Math.max(1, y(-lens.depthHighMm) - top), 'p-band');
}

/** The slot as far as the median depth, narrowing from the kerf at the face. */
function kerfPart({ thicknessMm }: SectionModel, lens: SectionLens, y: Down, perMm: number): string {
  const top = Math.max(1, (lens.kerfTopMm ?? lens.spotMm) * perMm);
  const through = lens.depthMm >= thicknessMm;
  const bottom = through ? Math.max(1, (lens.kerfBottomMm ?? lens.kerfTopMm ?? lens.spotMm) * perMm) : 0;
  const end = y(-Math.min(lens.depthMm, thicknessMm));
  const d = `M${coordinate(MIDDLE - top / 2)} ${coordinate(y(0))}L${coordinate(MIDDLE - bottom / 2)} ${coordinate(end)}L${coordinate(MIDDLE + bottom / 2)} ${coordinate(end)}L${coordinate(MIDDLE + top / 2)} ${coordinate(y(0))}Z`;
  return `<path class="p-kerf" d="${d}"/>`;
}

/** The free beam in outline; filled as far as it gets. */
function beamParts(lens: SectionLens, y: Down, perMm: number): string[] {
  const envelope = area<SectionLens['beam'][number]>()
    .y((point) => y(point.zMm))
    .x0((point) => MIDDLE - (point.diameterMm * perMm) / 2)
    .x1((point) => MIDDLE + (point.diameterMm * perMm) / 2)
    .digits(2);
  const reached = lens.beam.filter(({ zMm }) => zMm >= -lens.depthMm);
  return [
    `<path class="p-free" d="${escapeHtml(envelope(lens.beam) ?? '')}"/>`,
    `<path class="p-beam" d="${escapeHtml(envelope(reached) ?? '')}"/>`,
  ];
}

/** A rung for each pass at the depth it reaches; labels keep apart where passes come close. */
function depthParts(lens: SectionLens, y: Down, perMm: number): string[] {
  const reach = Math.max(10, ((lens.kerfTopMm ?? lens.spotMm) * perMm) / 2 + 6);
  let lowest = Number.NEGATIVE_INFINITY;
  return lens.depthAfterPassMm.map((mm, i) => {
    const at = y(-mm);
    const rung = straightLine(MIDDLE - reach, at, MIDDLE + reach, at, 'p-line');
    const label = at - 4;
    if (label - lowest < LINE) return rung;
    lowest = label;
    return rung + svgText(MIDDLE + reach + 3, label + 8, 11, `pass ${i + 1}`, 't-bold halo');
  });
}

/** Waist and depth of focus on the right of the sheet. */
function focusParts(lens: SectionLens, y: Down): string[] {
  const x = PANEL.right + 8;
  const waist = lens.focusMm[0] ?? 0;
  const top = y(waist + lens.depthOfFocusMm / 2);
  const bottom = y(waist - lens.depthOfFocusMm / 2);
  return [
    straightLine(x, top, x, bottom, 'p-line'),
    straightLine(x - 3, top, x + 3, top, 'p-thin'),
    straightLine(x - 3, bottom, x + 3, bottom, 'p-thin'),
    straightLine(x - 6, y(waist), x + 6, y(waist), 'p-line'),
    svgText(x + 9, y(waist) - 2, 11, 'waist,'),
    svgText(x + 9, y(waist) - 2 + LINE, 11, 'in focus'),
  ];
}
