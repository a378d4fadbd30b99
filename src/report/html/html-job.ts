import { assumedText, inventedText } from '../../facts/assumed/assumed-text.ts';
import type { DrawnCut, JobDrawing, JobPictures } from '../../facts/drawing/drawing-model.ts';
import { CAUTION } from '../../findings/caution.ts';
import type { JobResult } from '../../findings/result.ts';
import { fixed, formatChance, formatMoney, formatTime, trimmed } from '../../units/format.ts';
import { withoutStop } from '../../units/sentence.ts';
import { escapeHtml } from '../escape.ts';
import type { MapIds, NumberedFinding } from '../pictures/map-links.ts';
import { chanceText, leastSureFirst } from '../pictures/margin-scale.ts';
import type { RuleMetadata } from '../report-context.ts';
import { leastThroughProbability, machineText, placeText, sheetText } from '../result-texts.ts';
import { unfinishedRules, unfinishedText } from '../text/unfinished.ts';
import { cardSection } from './html-card.ts';
import { SEVERITY_WORDS } from './html-findings.ts';
import { mapFigure, workPlan } from './html-map.ts';
import { reachFold } from './html-reach.ts';
import { lensesFold, sectionFigures } from './html-section.ts';
import { wasteFold } from './html-waste.ts';

/** So many findings of a job stand under its name; all stand in the table. */
const FIRST_FINDINGS = 5;
/** So many cuts stand in a job's table, the least sure first. */
const CUTS_SHOWN = 200;

export const VERDICT_WORDS = { fail: 'Do not run', incomplete: 'Not judged', pass: 'Found no error' } as const;

/** What a job's section is made from besides its result. */
export interface JobShown {
  /** Its findings, worst first. */
  readonly numbered: readonly NumberedFinding[];
  readonly pictures: JobPictures | null;
  /** Why there are none; null where there are. */
  readonly why: string | null;
  /** ISO date of the run; null where it is not known. */
  readonly today: string | null;
  readonly rules: readonly RuleMetadata[];
}

/** Everything about one job: what is to be decided on one screen, then the card, then folded what it rests on. `id` names its parts. */
export function jobSection(job: JobResult, id: string, shown: JobShown): string {
  const { pictures, today } = shown;
  const dated = today === null ? '' : ` <small>${escapeHtml(today)}</small>`;
  return [
    `<section class="job" id="${id}" aria-labelledby="${id}-name">`,
    `<h2 id="${id}-name">${escapeHtml(job.name)}${dated}</h2>`,
    decision(job, id, shown),
    pictures ? cardSection(job, id, pictures.drawing.card, today) : '',
    `<div class="folds">`,
    ...(pictures ? folds(job, id, shown.numbered, pictures.drawing) : []),
    wasteFold(job, id, pictures?.drawing ?? null),
    '</div>',
    '</section>',
  ]
    .filter((part) => part !== '')
    .join('\n');
}

/** What is decided by, on one screen: the verdict, the worst findings, the section as it is and as it would be; beside it the map. */
function decision(job: JobResult, id: string, shown: JobShown): string {
  const { pictures, why, numbered } = shown;
  const drawing = pictures?.drawing ?? null;
  const sections = drawing === null ? [] : sectionFigures(job, id, drawing);
  const lead = [
    // The headline stands at the top of the page; on paper each job has its own.
    `<p class="verdict ${job.verdict}"><strong class="on-screen">${VERDICT_WORDS[job.verdict]}</strong><strong class="on-paper">${escapeHtml(job.headline)}</strong> <span>${escapeHtml(jobFacts(job))}</span></p>`,
    ...job.incomplete.slice(1).map((reason) => `<p>Not judged: ${escapeHtml(withoutStop(reason))}.</p>`),
    ...[assumedText(job), inventedText(job.machine, job.inventedMachine === true)].flatMap((said) =>
      said === '' ? [] : `<p class="aside">${escapeHtml(said)}</p>`,
    ),
    ...unfinishedRules(job).map((one) => `<p>${escapeHtml(unfinishedText(one).replace(/^not/, 'Not'))}.</p>`),
    firstFindings(shown),
    // Ahead of all that is proposed.
    job.cure ? `<p class="cautions">${escapeHtml(CAUTION)}</p>` : '',
    sections.length === 0 ? '' : `<div class="sections of-${sections.length}">${sections.join('\n')}</div>`,
    drawing ? '' : `<p class="aside">${escapeHtml(why ?? 'No picture could be drawn of this job.')}</p>`,
  ].filter((part) => part !== '');
  const map = drawing === null ? '' : `<div class="sheet">${sheetMap(drawing, id, numbered)}</div>`;
  return `<div class="decision beside-${sections.length}"><div class="lead">${lead.join('\n')}</div>${map}</div>`;
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
      : `expected waste ${fixed(waste.expected, 2)} of ${formatMoney({ amount: waste.atStake, currency: waste.currency })}`,
  ]
    .filter((part) => part !== '')
    .join(' · ');
}

/** The worst findings by what their rule is about and where they are; their own words stand in the table, and the first one's in the headline. */
function firstFindings({ numbered, rules }: JobShown): string {
  if (numbered.length === 0) return '';
  const items = numbered.slice(0, FIRST_FINDINGS).map(({ number, finding }) => {
    const summary = rules.find(({ id }) => id === finding.rule)?.summary ?? finding.rule;
    return `<li><a href="#finding-${number}">${SEVERITY_WORDS[finding.severity]} ${number}</a> ${escapeHtml(summary)} <span class="place soft">${escapeHtml(placeText(finding))}</span></li>`;
  });
  const more =
    numbered.length > FIRST_FINDINGS
      ? `<p><a href="#findings">${numbered.length - FIRST_FINDINGS} more in the table of findings</a></p>`
      : '';
  return `<ul class="todo">${items.join('\n')}</ul>${more}`;
}

function idsOf(id: string, numbered: readonly NumberedFinding[]): MapIds {
  return {
    prefix: id,
    cut: (cut) => `${id}-cut-${cut.cut + 1}`,
    finding: (fingerprint) =>
      `finding-${numbered.find(({ finding }) => finding.fingerprint === fingerprint)?.number ?? 0}`,
  };
}

function sheetMap(drawing: JobDrawing, id: string, numbered: readonly NumberedFinding[]): string {
  const nothing = ![drawing.artwork, drawing.travels, drawing.areas, ...drawing.cuts.map(({ lines }) => lines)].some(
    (part) => part.length > 0,
  );
  return nothing
    ? '<p class="aside">There is nothing to draw: no line of toolpath or artwork could be read.</p>'
    : mapFigure(drawing, id, numbered, idsOf(id, numbered));
}

/** What the pictures rest on. */
function folds(job: JobResult, id: string, numbered: readonly NumberedFinding[], drawing: JobDrawing): string[] {
  return [
    cutTable(drawing, idsOf(id, numbered)),
    workPlan(drawing, id),
    lensesFold(id, drawing),
    reachFold(id, drawing, job.thicknessMm),
  ];
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
    '<details class="cuts fold"><summary>Cuts by risk</summary><table>',
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
