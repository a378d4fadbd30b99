import type { CardRecipe, CardSettings, ProposedSettings, SetupCard } from '../../facts/drawing/drawing-model.ts';
import { CAUTION, materialCaution } from '../../findings/caution.ts';
import type { JobResult } from '../../findings/result.ts';
import {
  formatBar,
  formatChance,
  formatCount,
  formatFocus,
  formatMm,
  formatPercent,
  formatSizeMm,
  formatSpeed,
  formatWatts,
} from '../../units/format.ts';
import { escapeHtml } from '../escape.ts';

const ZERO_WORDS = {
  machine: 'machine zero: home the machine, and lay the sheet where the job has it',
  'sheet-corner': "the sheet's corner: set X0 Y0 there",
  'set-by-hand': 'set by hand: jog to the origin of the drawing and set X0 Y0',
} as const;

/**
 * One printed page for the person at the machine. For a material that must never be cut it gives no setting at all.
 * @param today ISO date of the run; null where it is not known.
 */
export function cardSection(job: JobResult, id: string, card: SetupCard, today: string | null = null): string {
  const title = { job, id, today };
  if (card.hazard?.class === 'never') {
    const stop = `<p class="stop"><strong>${escapeHtml(cardCaution(card))}</strong></p>`;
    return framed(title, [stop, '<p>No settings are given for it.</p>']);
  }
  const stop =
    job.verdict === 'pass' ? '' : `<p class="stop on-paper"><strong>${escapeHtml(job.headline)}</strong></p>`;
  const caution = `<p><strong>${escapeHtml(cardCaution(card))}</strong></p>`;
  const checks = [...fitting(card), ...sheetRows(card), ...conduct(card)].map(
    ([name, text], i) =>
      `<li><input type="checkbox" id="${id}-check-${i}"><label for="${id}-check-${i}"><strong>${escapeHtml(name)}</strong> <span>${escapeHtml(text)}</span></label></li>`,
  );
  return framed(title, [stop, caution, `<ul class="checks">${checks.join('\n')}</ul>`, recipeTable(job, card)]);
}

function framed(
  { job, id, today }: { job: JobResult; id: string; today: string | null },
  parts: readonly string[],
): string {
  const dated = today === null ? '' : ` <small>${escapeHtml(today)}</small>`;
  return [
    `<section class="card" aria-labelledby="${id}-card">`,
    `<h3 id="${id}-card">Set-up card: ${escapeHtml(job.name)}${dated}</h3>`,
    // Ahead of all settings: it holds for each of them.
    `<p class="cautions">${escapeHtml(CAUTION)}</p>`,
    ...parts,
    '</section>',
  ]
    .filter((part) => part !== '')
    .join('\n');
}

type Row = [name: string, text: string];

function fitting(card: SetupCard): Row[] {
  const rows: Row[] = [];
  if (card.machine !== null) rows.push(['Machine', card.machine]);
  if (card.lens !== null) rows.push(['Lens', lensText(card.lens, card.standoffMm)]);
  return rows;
}

const lensText = (id: string, standoffMm: number | null): string =>
  `${id}; ${standoffMm === null ? 'its standoff is not stated in the profile' : `nozzle ${formatMm(standoffMm)} above the sheet`}`;

function sheetRows(card: SetupCard): Row[] {
  const rows: Row[] = [];
  const sheet = [
    card.thicknessMm === null ? '' : formatMm(card.thicknessMm),
    card.material ?? 'material not known',
    card.sheet === null ? '' : formatSizeMm(card.sheet.widthMm, card.sheet.heightMm),
  ].filter((part) => part !== '');
  rows.push(['Sheet', `${sheet.join(', ')}; measure it before it goes in`]);
  const face = [
    card.face === 'masked' ? 'leave the masking on' : card.face === 'bare' ? 'bare' : '',
    card.mirror === null ? '' : `mirror side ${card.mirror}`,
  ].filter((part) => part !== '');
  if (face.length > 0) rows.push(['Face', face.join('; ')]);
  rows.push(['Zero', card.zero === null ? 'the job does not say what X0 Y0 means: ask' : ZERO_WORDS[card.zero]]);
  rows.push([
    'Hold-down',
    card.bowMm !== null && card.bowMm > 0
      ? `the sheet bows by ${formatMm(card.bowMm)}: press it flat at the edges, clear of the head's way`
      : 'flat on the bed; clamps and weights clear of the head',
  ]);
  return rows;
}

function conduct(card: SetupCard): Row[] {
  const rows: Row[] = [['Extraction', 'running before the beam']];
  if (card.watch !== null) {
    const { task, probability, file, line } = card.watch;
    rows.push([
      'Watch first',
      `${task}, ${file}:${line}, ${formatChance(probability)} likely to part. Smoke and sparks leave below where the sheet parts; where they come back up, stop.`,
    ]);
  }
  return rows;
}

/** A row for each recipe: what the file says, and beside it what would bring it through. */
function recipeTable(job: JobResult, card: SetupCard): string {
  const { recipes, moreRecipes } = card;
  if (recipes.length === 0) return '';
  const proposes = recipes.some(({ proposed }) => proposed !== null);
  const heads = [
    'Recipe',
    job.files.toolpath === undefined ? 'As planned' : 'In the file',
    ...(proposes ? ['Not in this file'] : []),
  ];
  const rows = recipes.map((recipe) => recipeRow(job, recipe, heads));
  const more =
    moreRecipes === 0
      ? ''
      : `<p class="aside">And ${formatCount(moreRecipes, 'more recipe')}: see the table of cuts.</p>`;
  const note = proposes
    ? `<p class="aside">${escapeHtml(`Not in this file: what is predicted to bring the cuts through${job.cure ? `, ${formatChance(job.cure.throughProbability)} likely` : ''}. Change the file and check it again; prove it on a scrap of the same sheet.`)}</p>`
    : '';
  return `<table><thead><tr>${heads.map((head) => `<th scope="col">${head}</th>`).join('')}</tr></thead><tbody>${rows.join('\n')}</tbody></table>${more}${note}`;
}

function recipeRow({ files }: JobResult, recipe: CardRecipe, heads: readonly string[]): string {
  const { task, file, line, stated, airBar, proposed } = recipe;
  const [, inFile, notInFile] = heads;
  const place = file === (files.toolpath ?? files.artwork) ? `line ${line}` : `${file}:${line}`;
  const name = `<th scope="row">${escapeHtml(task)} <span class="place soft">${escapeHtml(place)}</span></th>`;
  const own = `<td data-is="${inFile}">${escapeHtml(stated === null ? 'no settings' : settingsText(stated, airBar))}</td>`;
  if (notInFile === undefined) return `<tr>${name}${own}</tr>`;
  const cured = proposed === null ? 'as it is' : `<strong>${escapeHtml(proposedText(proposed))}</strong>`;
  return `<tr>${name}${own}<td data-is="${notInFile}">${cured}</td></tr>`;
}

function proposedText(proposed: ProposedSettings): string {
  const { otherLens } = proposed;
  const lens = otherLens === null ? '' : `Lens ${lensText(otherLens.id, otherLens.standoffMm)} · `;
  return `${lens}${settingsText(proposed, null)}`;
}

function settingsText(settings: CardSettings, airBar: number | null): string {
  const { setting, powerW, speedMmPerS, passes } = settings;
  const power = [
    setting === null ? '' : formatPercent(setting),
    powerW === null ? '' : setting === null ? formatWatts(powerW) : `(${formatWatts(powerW)})`,
  ].filter((part) => part !== '');
  return [
    power.join(' '),
    speedMmPerS === null ? 'no speed stated' : formatSpeed(speedMmPerS),
    formatCount(passes, 'pass', 'passes'),
    waistText(settings),
    airBar === null ? '' : `air ${formatBar(airBar)}`,
  ]
    .filter((part) => part !== '')
    .join(' · ');
}

function cardCaution({ material, hazard }: SetupCard): string {
  return materialCaution(hazard && { name: material ?? 'this material', hazard });
}

function waistText({ focusMm, focusStepMm }: CardSettings): string {
  if (focusMm === null) return 'waist not stated';
  const first = `waist ${formatFocus(focusMm)}`;
  if (focusStepMm === 0) return first;
  return `${first}, then ${focusStepMm < 0 ? 'down' : 'up'} ${formatMm(Math.abs(focusStepMm))} a pass`;
}
