import { assumedText, inventedText } from '../../facts/assumed/assumed-text.ts';
import type { DrawnCut, JobDrawing, JobPictures } from '../../facts/drawing/drawing-model.ts';
import { CAUTION } from '../../findings/caution.ts';
import type { JobResult } from '../../findings/result.ts';
import { fixed, formatChance, formatMm, formatMoney, formatTime, trimmed } from '../../units/format.ts';
import { withoutStop } from '../../units/sentence.ts';
import { escapeHtml } from '../escape.ts';
import { PER_MM } from '../pictures/map-frame.ts';
import type { MapIds, NumberedFinding } from '../pictures/map-links.ts';
import {
  chanceText,
  GROOVE_CLASS,
  leastSureFirst,
  MARGIN_CLASSES,
  marginClass,
  UNKNOWN_CLASS,
} from '../pictures/margin-scale.ts';
import { pictureInPage } from '../pictures/picture-parts.ts';
import { energyText, mapPicture } from '../pictures/sheet-map.ts';
import type { RuleMetadata } from '../report-context.ts';
import { leastThroughProbability, machineText, placeText, sheetText } from '../result-texts.ts';
import { unfinishedRules, unfinishedText } from '../text/unfinished.ts';
import { cardSection } from './html-card.ts';
import { SEVERITY_WORDS } from './html-findings.ts';
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
  const { pictures, why, today } = shown;
  const dated = today === null ? '' : ` <small>${escapeHtml(today)}</small>`;
  return [
    `<section class="job" id="${id}" aria-labelledby="${id}-name">`,
    `<h2 id="${id}-name">${escapeHtml(job.name)}${dated}</h2>`,
    // The headline stands at the top of the page; on paper each job has its own.
    `<p class="verdict ${job.verdict}"><strong class="on-screen">${VERDICT_WORDS[job.verdict]}</strong><strong class="on-paper">${escapeHtml(job.headline)}</strong> <span>${escapeHtml(jobFacts(job))}</span></p>`,
    ...job.incomplete.slice(1).map((reason) => `<p>Not judged: ${escapeHtml(withoutStop(reason))}.</p>`),
    ...[assumedText(job), inventedText(job.machine, job.inventedMachine === true)].flatMap((said) =>
      said === '' ? [] : `<p class="aside">${escapeHtml(said)}</p>`,
    ),
    ...unfinishedRules(job).map((one) => `<p>${escapeHtml(unfinishedText(one).replace(/^not/, 'Not'))}.</p>`),
    firstFindings(shown),
    pictures
      ? drawn(job, id, shown.numbered, pictures.drawing)
      : `<p class="aside">${escapeHtml(why ?? 'No picture could be drawn of this job.')}</p>`,
    pictures ? cardSection(job, id, pictures.drawing.card, today) : '',
    `<div class="folds">`,
    ...(pictures ? folds(job, id, shown.numbered, pictures.drawing) : []),
    wasteFold(job, id, pictures?.drawing.tasks ?? []),
    '</div>',
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

/** What is decided by, side by side where the window is wide enough: the section, as it is and as it would be, and the map. */
function drawn(job: JobResult, id: string, numbered: readonly NumberedFinding[], drawing: JobDrawing): string {
  const nothing = ![drawing.artwork, drawing.travels, drawing.areas, ...drawing.cuts.map(({ lines }) => lines)].some(
    (part) => part.length > 0,
  );
  if (nothing) return '<p class="aside">There is nothing to draw: no line of toolpath or artwork could be read.</p>';
  const map = [
    '<div class="sheet">',
    `<h3>Sheet map</h3>`,
    `<figure class="map" data-map="${mapData(drawing)}">`,
    `<div class="tools" hidden><button type="button" data-zoom="in">Zoom in</button><button type="button" data-zoom="out">Zoom out</button><button type="button" data-zoom="all">Whole sheet</button><span class="shown soft"></span></div>`,
    `<div class="view">${pictureInPage(mapPicture(drawing, numbered, idsOf(id, numbered)), `${id}-map`, 'group')}</div>`,
    `<p class="told" aria-live="polite" hidden>Point at a cut, or step through them with Tab. Plus, minus and 0 zoom; arrows move.</p>`,
    `<figcaption>${legend(drawing)}<p>${escapeHtml(mapNote(drawing))}</p></figcaption>`,
    `</figure>`,
    '</div>',
  ];
  // Ahead of all that is proposed.
  const caution = job.cure ? [`<p class="cautions">${escapeHtml(CAUTION)}</p>`] : [];
  return [...caution, '<div class="decision">', ...sectionFigures(job, id, drawing), ...map, '</div>'].join('\n');
}

/** What the pictures rest on. */
function folds(job: JobResult, id: string, numbered: readonly NumberedFinding[], drawing: JobDrawing): string[] {
  return [cutTable(drawing, idsOf(id, numbered)), lensesFold(id, drawing), reachFold(id, drawing, job.thicknessMm)];
}

function legend(drawing: JobDrawing): string {
  const present = new Set(drawing.cuts.map((cut) => marginClass(cut).css));
  const classes = [...MARGIN_CLASSES, GROOVE_CLASS, UNKNOWN_CLASS].filter(({ css }) => present.has(css));
  const entry = (css: string, says: string) =>
    `<li><svg class="pic" viewBox="0 0 44 10" width="44" height="10" aria-hidden="true"><path class="p-cut ${css}" d="M1 5H43"/></svg> ${escapeHtml(says)}</li>`;
  const entries = classes.map(({ css, words }) => entry(css, words));
  if (drawing.artwork.length > 0) entries.push(entry('p-artwork', 'artwork'));
  if (drawing.travels.length > 0) entries.push(entry('p-travel', 'travel'));
  const areas = drawing.areas.map(
    (area) => `<li>Shaded: ${escapeHtml(`${area.task ?? 'surface'}, ${energyText(area)}`)}</li>`,
  );
  return `<ul class="legend"><li class="lead">How surely each cut parts the sheet:</li>${entries.join('')}${areas.slice(0, 6).join('')}</ul>`;
}

/** What the script needs to say which part of the sheet is shown: units per mm, the left edge, the top edge, where Y points. */
function mapData({ view, yUp }: JobDrawing): string {
  return [PER_MM, view.minX, yUp ? view.maxY : view.minY, yUp ? -1 : 1].join(' ');
}

function mapNote(drawing: JobDrawing): string {
  const left =
    drawing.leftOut === 0 ? '' : ` ${drawing.leftOut} lines are left out, because there are too many to draw.`;
  const sheet = drawing.sheet === null ? ' Where the sheet lies is not stated.' : '';
  return `To scale, in mm. Lines are simplified to within ${formatMm(drawing.simplifiedMm, 2)}.${left}${sheet}`;
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
    '<details class="cuts fold"><summary>The cuts, least sure first</summary><table>',
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
