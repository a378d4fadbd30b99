import type { JobDrawing } from '../../facts/drawing/drawing-model.ts';
import { escapeHtml } from '../escape.ts';
import { sectionPanel } from '../pictures/kerf-section.ts';
import { type Picture, pictureInPage } from '../pictures/picture-parts.ts';
import { mapPicture } from '../pictures/sheet-map.ts';

/**
 * The maps of a job in the base and now side by side, and its sections; what looks the same is said and not drawn.
 * @param id stands in front of the ids inside, which must be unique in the page.
 */
export function bothPictures(id: string, before: JobDrawing, after: JobDrawing): string {
  const kinds = [
    { what: 'sheet map', draw: mapOf },
    { what: 'section through the least sure cut', draw: sectionOf },
  ].map(({ what, draw }, i) => pair(`${id}-${i + 1}`, what, [before, after], draw));
  const same = kinds.flatMap(({ what, looks }) => (looks === 'same' ? [what] : []));
  return [
    ...kinds.map(({ html }) => html),
    same.length === 0 ? '' : `<p class="aside">As in the base: ${escapeHtml(same.join(', '))}.</p>`,
  ].join('');
}

type Draw = (drawing: JobDrawing, id: string) => Picture | null;

const mapOf: Draw = (drawing, id) => mapPicture(drawing, [], null, id);

/** Under the fitted lens. */
const sectionOf: Draw = ({ section }, id) => {
  const lens = section?.lenses[0];
  if (!section || !lens) return null;
  const drawn = sectionPanel(section, lens, id);
  return { ...drawn, title: `${drawn.title}, task ${section.task}` };
};

function pair(id: string, what: string, sides: readonly JobDrawing[], draw: Draw) {
  // Drawn under the same id, so that only what is seen can differ.
  const [was, is] = sides.map((drawing) => JSON.stringify(draw(drawing, id)));
  if (was === is) return { what, looks: was === 'null' ? 'nothing' : 'same', html: '' };
  const figures = ['In the base', 'Now'].map((when, i) => {
    const picture = draw(sides[i]!, `${id}-${i + 1}`);
    const heading = `<h4>${when}: ${escapeHtml(what)}</h4>`;
    if (picture === null) return `<figure>${heading}<p class="aside">There is none.</p></figure>`;
    return `<figure>${heading}${pictureInPage({ ...picture, title: `${when}: ${picture.title}` }, `${id}-${i + 1}`)}</figure>`;
  });
  return { what, looks: 'changed', html: `<div class="pair both">${figures.join('\n')}</div>` };
}
