import type { JobDrawing, SectionLens, SectionModel } from '../../facts/drawing/drawing-model.ts';
import type { JobResult, TimeResult, WasteResult } from '../../findings/result.ts';
import { fixed, formatChance, formatMm, formatMoney, formatTime } from '../../units/format.ts';
import { stopped } from '../../units/sentence.ts';
import { escapeHtml } from '../escape.ts';
import { lensText, sectionPanel } from '../pictures/kerf-section.ts';
import { pictureInPage } from '../pictures/picture-parts.ts';

/** From this on a cut is likely to part, and a gain below that is no reason to change the lens. */
const LIKELY = 0.5;
const NOT_WORTH_A_LENS = 0.05;

/** The section as planned and, beside it, with the change that would bring it through. */
export function sectionFigures(job: JobResult, id: string, { section, curedSection }: JobDrawing): string[] {
  const planned = section?.lenses[0];
  if (!section || !planned) return [];
  const before = figure(section, planned, {
    id: `${id}-planned`,
    heading: job.files.toolpath === undefined ? 'As planned' : 'As the file has it',
    numbers: numbersText(job),
    ahead: job.noCure === undefined ? '' : `No change is proposed: ${stopped(job.noCure)}`,
  });
  const cured = curedSection?.lenses[0];
  if (!curedSection || !cured || !job.cure) return [before];
  const after = figure(curedSection, cured, {
    id: `${id}-cured`,
    heading: 'With the change: not in this file',
    numbers: numbersText(job.cure),
    ahead: '',
  });
  return [before, after];
}

interface FigureText {
  id: string;
  heading: string;
  numbers: string;
  /** What is to be read ahead of the picture. */
  ahead: string;
}

function figure(section: SectionModel, lens: SectionLens, { id, heading, numbers, ahead }: FigureText): string {
  return [
    `<figure class="section" aria-labelledby="${id}-head">`,
    `<h3 id="${id}-head">${escapeHtml(heading)}</h3>`,
    numbers === '' ? '' : `<p class="numbers-line">${escapeHtml(numbers)}</p>`,
    ahead === '' ? '' : `<p class="cautions">${escapeHtml(ahead)}</p>`,
    pictureInPage(sectionPanel(section, lens, id), `${id}-picture`),
    '</figure>',
  ]
    .filter((part) => part !== '')
    .join('\n');
}

/** "1 min 6 s · expected waste 3.40 of 3.63 EUR". */
function numbersText({ time, waste }: { time: TimeResult | null; waste: WasteResult | null }): string {
  const lost =
    waste &&
    `expected waste ${fixed(waste.expected, 2)} of ${formatMoney({ amount: waste.atStake, currency: waste.currency })}`;
  return [time && formatTime(time.totalS), lost].filter((part) => part !== null).join(' · ');
}

/** How to read the section, and the same recipe under the machine's other lenses. */
export function lensesFold(id: string, { section }: JobDrawing): string {
  if (!section || section.lenses.length === 0) return '';
  const [, ...others] = section.lenses;
  const panels = others.map((lens, i) =>
    pictureInPage(sectionPanel(section, lens, `${id}-lens-${i + 2}`), `${id}-section-${i + 2}`),
  );
  return [
    '<details class="fold"><summary>Section and lenses</summary>',
    `<p>Task ${escapeHtml(section.task)}, the least sure, in ${formatMm(section.thicknessMm)} ${escapeHtml(section.material)}. ${escapeHtml(lensAnswer(section.lenses))}</p>`,
    '<p>Each drawing has one scale across and down: on the left lens, nozzle, cone and sheet, on the right the sheet under a magnifier. The outlined slot goes down to the median depth, the hatching is what stays uncut, the bar beside the sheet is where the last pass may end, 5 to 95 %. How wide lens and nozzle are is in no profile.</p>',
    panels.length === 0 ? '' : `<figure class="lenses">${panels.join('\n')}</figure>`,
    `<ul>${section.lenses.map((lens) => `<li>${escapeHtml(lensText(section, lens))}</li>`).join('')}</ul>`,
    '</details>',
  ]
    .filter((part) => part !== '')
    .join('\n');
}

/** Would another lens part the sheet? Differences smaller than the doubt do not count. */
function lensAnswer(lenses: readonly SectionLens[]): string {
  const fitted = lenses.find((lens) => lens.fitted);
  const others = lenses.filter((lens) => !lens.fitted);
  if (others.length === 0 || !fitted) return 'This machine has no other lens.';
  const best = others.reduce((a, b) => (b.probability > a.probability ? b : a));
  const surer = best.probability > fitted.probability + NOT_WORTH_A_LENS;
  if (Math.max(best.probability, fitted.probability) < LIKELY) {
    return 'With this recipe no lens of this machine is likely to part it: another lens alone will not do.';
  }
  return surer
    ? `Another lens helps: with this recipe ${formatChance(best.probability)} under the ${best.id} lens, against ${formatChance(fitted.probability)} under the ${fitted.id}.`
    : `No other lens of this machine is clearly surer with this recipe (the ${best.id}: ${formatChance(best.probability)}, against ${formatChance(fitted.probability)}).`;
}
