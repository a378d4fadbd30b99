import { assumedText, inventedText } from '../../facts/assumed/assumed-text.ts';
import type { DrawnCut, JobDrawing, JobPictures, SectionLens } from '../../facts/drawing/drawing-model.ts';
import type { JobResult } from '../../findings/result.ts';
import { fixed, formatChance, formatMm, formatMoney, formatTime, formatWatts, trimmed } from '../../units/format.ts';
import { withoutStop } from '../../units/sentence.ts';
import { escapeHtml } from '../escape.ts';
import { reachOfJob } from '../pictures/job-reach-chart.ts';
import { lensText, sectionPanel } from '../pictures/kerf-section.ts';
import type { MapIds, NumberedFinding } from '../pictures/map-links.ts';
import { chanceText, leastSureFirst } from '../pictures/margin-scale.ts';
import { pictureInPage } from '../pictures/picture-parts.ts';
import { leastThroughProbability, machineText, sheetText } from '../result-texts.ts';
import { unfinishedRules, unfinishedText } from '../text/unfinished.ts';
import { cardSection } from './html-card.ts';
import { SEVERITY_WORDS } from './html-findings.ts';
import { mapFigure } from './html-map.ts';
import { wasteSection } from './html-waste.ts';

/** So many findings of a job stand under its name; all stand in the table. */
const FIRST_FINDINGS = 5;
/** So many cuts stand in a job's table, the least sure first. */
const CUTS_SHOWN = 200;

/** From this on a cut is likely to part, and a gain below that is no reason to change the lens. */
const LIKELY = 0.5;
const NOT_WORTH_A_LENS = 0.05;

export const VERDICT_WORDS = { fail: 'Do not run', incomplete: 'Not judged', pass: 'Found no error' } as const;

/** Everything about one job. `id` names its parts; `numbered` are its findings, worst first. */
export function jobSection(
  job: JobResult,
  id: string,
  numbered: readonly NumberedFinding[],
  pictures: JobPictures | null,
  why: string | null,
): string {
  return [
    `<section class="job" id="${id}" aria-labelledby="${id}-name">`,
    `<h2 id="${id}-name">${escapeHtml(job.name)}</h2>`,
    `<p class="verdict ${job.verdict}"><strong>${escapeHtml(job.headline)}</strong> <span>${escapeHtml(jobFacts(job))}</span></p>`,
    ...job.incomplete.slice(1).map((reason) => `<p>Not judged: ${escapeHtml(withoutStop(reason))}.</p>`),
    ...[assumedText(job), inventedText(job.machine, job.inventedMachine === true)].flatMap((said) =>
      said === '' ? [] : `<p class="aside">${escapeHtml(said)}</p>`,
    ),
    ...unfinishedRules(job).map((one) => `<p>${escapeHtml(unfinishedText(one).replace(/^not/, 'Not'))}.</p>`),
    firstFindings(numbered),
    pictures
      ? drawn(job, id, numbered, pictures.drawing)
      : `<p class="aside">${escapeHtml(why ?? 'No picture could be drawn of this job.')}</p>`,
    wasteSection(job, id, pictures?.drawing ?? null),
    pictures ? cardSection(job, id, pictures.drawing.card) : '',
    '</section>',
  ]
    .filter((part) => part !== '')
    .join('\n');
}

/** Sheet, machine, chance, time and money of a job in one line. */
export function jobFacts(job: JobResult): string {
  const through = leastThroughProbability(job);
  const { waste } = job;
  return [
    sheetText(job),
    machineText(job),
    through === null ? '' : `${formatChance(through)} likely to go through`,
    job.time === null ? '' : formatTime(job.time.totalS),
    waste === null
      ? ''
      : `at stake ${formatMoney({ amount: waste.atStake, currency: waste.currency })}, expected waste ${fixed(waste.expected, 2)}`,
  ]
    .filter((part) => part !== '')
    .join(' · ');
}

function firstFindings(numbered: readonly NumberedFinding[]): string {
  if (numbered.length === 0) return '';
  const items = numbered
    .slice(0, FIRST_FINDINGS)
    .map(
      ({ number, finding }) =>
        `<li><a href="#finding-${number}">${SEVERITY_WORDS[finding.severity]} ${number}</a> ${escapeHtml(finding.message)}</li>`,
    );
  const more =
    numbered.length > FIRST_FINDINGS
      ? `<p><a href="#findings">${numbered.length - FIRST_FINDINGS} more in the table of findings</a></p>`
      : '';
  return `<ul class="todo">${items.join('\n')}</ul>${more}`;
}

function drawn(job: JobResult, id: string, numbered: readonly NumberedFinding[], drawing: JobDrawing): string {
  const ids: MapIds = {
    prefix: id,
    cut: (cut) => `${id}-cut-${cut.cut + 1}`,
    finding: (fingerprint) =>
      `finding-${numbered.find(({ finding }) => finding.fingerprint === fingerprint)?.number ?? 0}`,
  };
  const reach = reachOfJob(drawing, job.thicknessMm);
  const nothing = ![drawing.artwork, drawing.travels, drawing.areas, ...drawing.cuts.map(({ lines }) => lines)].some(
    (part) => part.length > 0,
  );
  if (nothing) return '<p class="aside">There is nothing to draw: no line of toolpath or artwork could be read.</p>';
  return [
    mapFigure(drawing, id, numbered, ids),
    cutTable(drawing, ids),
    sectionFigures(drawing, id),
    reach === null
      ? ''
      : `<h3>Reach</h3><figure>${pictureInPage(reach, `${id}-reach`)}<figcaption><p>Line: median depth at each speed. Shade: the 5 to 95 % band. A ring stands for a cut of this job at the sheet's thickness, its bar for the band of that cut's own depth.${drawing.coupons.length > 0 ? ' Square: a test cut that parted. Cross: one that did not, or its measured depth.' : ''}${publishedLegend(drawing)} Predicted: prove a setting on a scrap of the same sheet.</p></figcaption></figure>`,
  ]
    .filter((part) => part !== '')
    .join('\n');
}

function publishedLegend({ reach }: JobDrawing): string {
  if (reach === null || reach.published.length === 0) return '';
  return ` Diamond: a cut that others published, its speed scaled to ${formatWatts(reach.powerW)}; full where it parted, empty where it did not. Point at one for its source.`;
}

function cutTable(drawing: JobDrawing, ids: MapIds): string {
  if (drawing.cuts.length === 0) return '';
  const byRisk = leastSureFirst(drawing.cuts);
  const rows = byRisk
    .slice(0, CUTS_SHOWN)
    .map(
      (cut) =>
        `<tr id="${ids.cut(cut)}"><th scope="row">${cut.cut + 1}</th><td>${escapeHtml(cut.task)}</td><td>${escapeHtml(chanceText(cut))}</td><td>${depthCell(cut)}</td><td>${escapeHtml(cut.recipe)}</td><td class="place">${escapeHtml(`${cut.file}:${cut.line}`)}</td></tr>`,
    );
  const more = byRisk.length - rows.length;
  return [
    '<details class="cuts" open><summary>The cuts, least sure first</summary><table>',
    '<thead><tr><th scope="col">Cut</th><th scope="col">Task</th><th scope="col">Margin</th><th scope="col">Depth, mm</th><th scope="col">Recipe</th><th scope="col">Line</th></tr></thead>',
    `<tbody>${rows.join('\n')}</tbody></table>`,
    more > 0 ? `<p class="aside">And ${more} more: the JSON has all.</p>` : '',
    '</details>',
  ].join('\n');
}

function depthCell({ depthMm, depthLowMm, depthHighMm }: DrawnCut): string {
  if (depthMm === null || depthLowMm === null || depthHighMm === null) return '–';
  return `${trimmed(depthMm, 2)} <span class="soft">(${trimmed(depthLowMm, 2)} to ${trimmed(depthHighMm, 2)})</span>`;
}

function sectionFigures(drawing: JobDrawing, id: string): string {
  const { section } = drawing;
  if (!section || section.lenses.length === 0) return '';
  const panels = section.lenses.map((lens, i) =>
    pictureInPage(sectionPanel(section, lens, `${id}-lens-${i + 1}`), `${id}-section-${i + 1}`),
  );
  return [
    '<h3>Section through the cut</h3>',
    `<p>Task ${escapeHtml(section.task)}, the least sure, in ${formatMm(section.thicknessMm)} ${escapeHtml(section.material)}. ${escapeHtml(lensAnswer(section.lenses))}</p>`,
    `<figure class="lenses">${panels.join('\n')}<figcaption><p>True proportion: nothing is stretched. Dashed: the free beam, narrowest at its waist. Filled: as far as it gets. Outlined: the slot down to the median depth. Broad shade: where the last pass ends, 5 to 95 %.</p></figcaption></figure>`,
    `<ul class="unseen">${section.lenses.map((lens) => `<li>${escapeHtml(lensText(section, lens))}</li>`).join('')}</ul>`,
  ].join('\n');
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
