import type { SectionLens, SectionModel } from '../../facts/drawing/drawing-model.ts';
import { formatChance, formatChanceShortOf, formatDepth, formatMm } from '../../units/format.ts';
import { opticsStrip } from './optics-strip.ts';
import { type Picture, pictureFile, svgText } from './picture-parts.ts';
import { fittedTo, PlacedWords, wrappedTo } from './placed-words.ts';
import { answerText, sheetParts } from './section-sheet.ts';

/** Lay-out, px: the answer above, the whole of the optics on the left, the sheet under a magnifier on the right. */
const PANEL = { width: 420, margin: 8 };
/** The answer is the largest of all words. */
const ANSWER = { size: 20, line: 25, first: 24 };
const BODY = { height: 250, above: 34, below: 14 };

/**
 * Does it get through, how far does it stop short, and what is to be done: one lens over the sheet, each part at one scale across and
 * down. Pure: a model in, a picture out.
 * @param id stands in front of the ids inside, which must be unique in a page.
 */
export function sectionPanel(section: SectionModel, lens: SectionLens, id: string): Picture {
  const words = wrappedTo(PANEL.width - 2 * PANEL.margin, answerText(section, lens), ANSWER.size).slice(0, 5);
  const under = ANSWER.first + words.length * ANSWER.line - 4;
  const top = under + BODY.above;
  const body = { top, bottom: top + BODY.height };
  const height = body.bottom + BODY.below;
  const room = new PlacedWords({ left: 0, top: under + 6, right: PANEL.width, bottom: height });
  const parts = [
    ...words.map((line, i) =>
      svgText(
        PANEL.margin,
        ANSWER.first + i * ANSWER.line,
        ANSWER.size,
        fittedTo(PANEL.width - PANEL.margin, line, ANSWER.size),
        't-bold',
      ),
    ),
    svgText(PANEL.margin, under, 15, fittedTo(PANEL.width - PANEL.margin, underText(lens), 15), 't-soft'),
    ...sheetParts(section, lens, { id, body, room }),
    ...opticsStrip(section, lens, { body, room }),
  ];
  return {
    viewBox: { x: 0, y: 0, width: PANEL.width, height },
    title: `Section under the ${lens.id} lens`,
    description: lensText(section, lens),
    body: parts.join('\n'),
  };
}

/** "6 % likely to part, 90 % is asked"; that the recipe was made for another lens. */
function underText({ probability, limit, fitted }: SectionLens): string {
  const asked = probability < limit ? `, ${formatChance(limit)} is asked` : '';
  return `${chanceOf(probability, limit)} likely to part${asked}${fitted ? '' : '; same recipe'}`;
}

const chanceOf = (probability: number, limit: number): string =>
  probability < limit ? formatChanceShortOf(probability, limit) : formatChance(probability);

/** All lenses side by side, as a file. */
export function sectionFile(section: SectionModel): string {
  return sectionsFile(
    section.lenses.map((lens, i) => sectionPanel(section, lens, `lens-${i + 1}`)),
    `Section through ${formatMm(section.thicknessMm)} ${section.material}, task ${section.task}`,
  );
}

/** Panels side by side, as a file: lenses, or the plan beside the change. */
export function sectionsFile(panels: readonly Picture[], title: string): string {
  const height = Math.max(1, ...panels.map(({ viewBox }) => viewBox.height));
  const width = Math.max(1, panels.length) * PANEL.width;
  // Their feet stand level: the sheets are compared.
  const shifted = panels.map(
    ({ body, viewBox }, i) => `<g transform="translate(${i * PANEL.width} ${height - viewBox.height})">\n${body}\n</g>`,
  );
  return pictureFile(
    {
      viewBox: { x: 0, y: 0, width, height },
      title,
      description: panels.map(({ description }) => description).join(' '),
      body: shifted.join('\n'),
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
  const nozzle = lens.standoffMm === null ? '' : `, nozzle ${formatMm(lens.standoffMm)} above the sheet`;
  return `${lens.id} lens${lens.fitted ? ' (fitted)' : ''}: ${passes} of ${formatMm(section.thicknessMm)}, in all ${formatDepth(lens.depthMm, lens.depthLowMm, lens.depthHighMm)}, ${formatChance(lens.probability)} likely to part; spot ${formatMm(lens.spotMm, 2)}, in focus over ${formatMm(lens.depthOfFocusMm, 1)}${nozzle}.${kerf}`;
}
