import { lensText, sectionPanel } from '../../report/pictures/kerf-section.ts';
import { pictureInPage } from '../../report/pictures/picture-parts.ts';
import type { TrialAnswer } from '../../trial.ts';
import { make } from '../make-element.ts';
import { chanceBar } from './chance-bar.ts';
import { comparedRows } from './what-if-words.ts';

const SIDES = ['As planned', 'What you turned'] as const;

/** The comparison as a table; what differs is in bold and marked, so that it shows without colour too. */
export function comparedTable(planned: TrialAnswer, turned: TrialAnswer): HTMLTableElement {
  const rows = comparedRows(planned, turned).map((row, index) => {
    const differs = row.planned !== row.turned;
    const cells = [row.planned, row.turned].map((text, side) => {
      const cell = make('td', side === 1 && differs ? { class: 'differs' } : {}, text);
      if (index === 0) cell.append(barOf(side === 0 ? planned : turned));
      return cell;
    });
    return make('tr', {}, make('th', { scope: 'row' }, row.label), ...cells);
  });
  return make(
    'table',
    { class: 'compared' },
    make('caption', { class: 'unseen' }, 'As planned beside what you turned'),
    make('thead', {}, make('tr', {}, make('td'), ...SIDES.map((side) => make('th', { scope: 'col' }, side)))),
    make('tbody', {}, ...rows),
  );
}

function barOf({ cut, limit }: TrialAnswer): Node {
  const chance = cut?.aim === 'through' ? cut.throughProbability : null;
  if (chance === null) return document.createTextNode('');
  const bar = svgOf(pictureInPage(chanceBar(chance, limit), ''));
  // The number beside it says the same.
  for (const name of ['id', 'role', 'aria-label']) bar.removeAttribute(name);
  bar.setAttribute('aria-hidden', 'true');
  bar.classList.add('chance');
  return bar;
}

/** The sections side by side, each under its heading. @param id stands in front of the ids inside */
export function sectionPair(planned: TrialAnswer, turned: TrialAnswer, id: string): HTMLElement[] {
  return [planned, turned].map((answer, side) => {
    const figure = make('figure', { class: 'section-side' }, make('figcaption', {}, SIDES[side]!));
    const lens = answer.section?.lenses[0];
    if (!answer.section || !lens) {
      figure.append(make('p', { class: 'soft' }, 'No section: the cut need not part the sheet, or is not predicted.'));
      return figure;
    }
    const name = `${id}-side-${side}`;
    const picture = { ...sectionPanel(answer.section, lens, name), description: '' };
    const drawn = svgOf(
      pictureInPage({ ...picture, title: `${SIDES[side]}: ${lensText(answer.section, lens)}` }, name),
    );
    figure.append(drawn);
    return figure;
  });
}

/** An element of a picture of our own making, in which every text is escaped. */
function svgOf(markup: string): Element {
  const holder = make('div');
  holder.innerHTML = markup;
  return holder.firstElementChild!;
}
