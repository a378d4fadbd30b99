import type { SetupCard } from '../../facts/drawing/drawing-model.ts';
import { CAUTION, materialCaution } from '../../findings/caution.ts';
import type { JobResult } from '../../findings/result.ts';
import {
  formatBar,
  formatChance,
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

const COLUMNS = ['Power', 'Speed', 'Passes', 'Waist', 'Air'];

/** One printed page for the person at the machine. For a material that must never be cut it gives no setting at all. */
export function cardSection(job: JobResult, id: string, card: SetupCard): string {
  if (card.hazard?.class === 'never') {
    const stop = `<p class="stop"><strong>${escapeHtml(cardCaution(card))}</strong></p>`;
    return framed(job, id, [stop, '<p>No settings are given for it.</p>']);
  }
  const rows = [...fitting(card), ...sheetRows(card), ...conduct(card)];
  const stop = job.verdict === 'pass' ? '' : `<p class="stop"><strong>${escapeHtml(job.headline)}</strong></p>`;
  const list = `<dl>${rows.map(([name, text]) => `<div><dt>${escapeHtml(name)}</dt><dd>${escapeHtml(text)}</dd></div>`).join('\n')}</dl>`;
  return framed(job, id, [stop, list, taskTable(card)]);
}

function framed(job: JobResult, id: string, parts: readonly string[]): string {
  return [
    `<section class="card" aria-labelledby="${id}-card">`,
    `<h3 id="${id}-card">Set-up card: ${escapeHtml(job.name)}</h3>`,
    ...parts,
    `<p class="cautions">${escapeHtml(CAUTION)}</p>`,
    '</section>',
  ]
    .filter((part) => part !== '')
    .join('\n');
}

type Row = [name: string, text: string];

function fitting(card: SetupCard): Row[] {
  const rows: Row[] = [];
  if (card.machine !== null) rows.push(['Machine', card.machine]);
  if (card.lens !== null) {
    const standoff =
      card.standoffMm === null
        ? 'its standoff is not stated in the profile'
        : `nozzle ${formatMm(card.standoffMm)} above the sheet`;
    rows.push(['Lens to fit', `${card.lens}; ${standoff}`]);
  }
  return rows;
}

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
  const rows: Row[] = [];
  rows.push(['Extraction', 'running before the beam'], ['Material', cardCaution(card)]);
  if (card.watch !== null) {
    const { task, probability, file, line } = card.watch;
    rows.push([
      'Watch first',
      `${task}, from ${file}:${line}: ${formatChance(probability)} likely to part. Where the sheet parts, smoke and sparks leave below; where they come back up, it is not parting: stop.`,
    ]);
  }
  return rows;
}

function taskTable(card: SetupCard): string {
  if (card.tasks.length === 0) return '';
  const rows = card.tasks.map((task) => {
    const power = [
      task.setting === null ? '' : formatPercent(task.setting),
      task.powerW === null ? '' : `(${formatWatts(task.powerW)})`,
    ].filter((part) => part !== '');
    const cells = [
      power.join(' ') || '–',
      task.speedMmPerS === null ? '–' : formatSpeed(task.speedMmPerS),
      String(task.passes),
      waistText(task.focusMm, task.focusStepMm),
      task.airBar === null ? 'not stated' : formatBar(task.airBar),
    ];
    return `<tr><th scope="row">${escapeHtml(task.name)}</th>${cells.map((cell, i) => `<td data-is="${COLUMNS[i]}">${escapeHtml(cell)}</td>`).join('')}</tr>`;
  });
  return `<table><thead><tr><th scope="col">Task</th>${COLUMNS.map((name) => `<th scope="col">${name}</th>`).join('')}</tr></thead><tbody>${rows.join('')}</tbody></table>`;
}

function cardCaution({ material, hazard }: SetupCard): string {
  return materialCaution(hazard && { name: material ?? 'this material', hazard });
}

function waistText(focusMm: number | null, stepMm: number): string {
  if (focusMm === null) return 'not stated';
  const first = formatFocus(focusMm);
  if (stepMm === 0) return first;
  return `${first}, then ${stepMm < 0 ? 'down' : 'up'} ${formatMm(Math.abs(stepMm))} a pass`;
}
