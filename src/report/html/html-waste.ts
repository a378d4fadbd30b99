import { scaleLinear } from 'd3-scale';
import type { JobDrawing } from '../../facts/drawing/drawing-model.ts';
import type { JobResult } from '../../findings/result.ts';
import { fixed, formatCount, formatMoney, formatPercent, formatTime } from '../../units/format.ts';
import { escapeHtml } from '../escape.ts';

/** What failing would cost, and where the time goes, folded. */
export function wasteFold(job: JobResult, id: string, drawing: JobDrawing | null): string {
  const parts = [costTable(job, id), timeTable(job, id, drawing)].filter((part) => part !== '');
  return parts.length === 0
    ? ''
    : `<details class="fold"><summary>Waste and time</summary><div class="pair">${parts.join('\n')}</div></details>`;
}

function costTable({ waste }: JobResult, id: string): string {
  if (waste === null)
    return '<p class="aside">Nothing is priced: the sheet\'s price and the machine\'s rates are not stated.</p>';
  const share = waste.atStake > 0 ? Math.min(1, waste.expected / waste.atStake) : 0;
  const rows = (['sheet', 'machine', 'operator', 'tube', 'energy'] as const)
    .map((name) => ({ name, amount: waste[name] }))
    .filter(({ amount }) => amount > 0)
    .map(({ name, amount }) => ({ name, shown: fixed(amount, 2), size: amount }));
  return barTable(`At stake, ${waste.currency}`, `${id}-cost`, rows, {
    name: 'all at stake',
    shown: fixed(waste.atStake, 2),
    after: `Expected waste ${formatMoney({ amount: waste.expected, currency: waste.currency })}: ${formatPercent(share, 0)} of what is at stake.`,
  });
}

/** Time by piece; alike ones stand together, so that three hundred labels are one row. */
function timeTable({ time }: JobResult, id: string, drawing: JobDrawing | null): string {
  if (time === null) return '';
  const { alike = [], others = { pieces: 0, totalS: 0 } } = drawing?.pieceTimes ?? {};
  const rows = [
    ...alike.map(({ task, pieces, first, totalS }) => ({
      name: pieces === 1 ? `${task}, piece ${first}` : `${task}, ${pieces} alike from piece ${first}`,
      shown: pieces === 1 ? formatTime(totalS) : `${formatTime(totalS)}, ${formatTime(totalS / pieces)} each`,
      size: totalS,
    })),
    { name: formatCount(others.pieces, 'other piece'), shown: formatTime(others.totalS), size: others.totalS },
    { name: 'travel', shown: formatTime(time.travelS), size: time.travelS },
    { name: 'standing still', shown: formatTime(time.dwellS), size: time.dwellS },
  ].filter(({ size }) => size > 0);
  return barTable('Time by piece', `${id}-time`, rows, {
    name: 'all',
    shown: formatTime(time.totalS),
    after: `Reckoned from the ${time.basis}.`,
  });
}

interface Bar {
  name: string;
  shown: string;
  size: number;
}

function barTable(
  caption: string,
  id: string,
  rows: readonly Bar[],
  total: { name: string; shown: string; after: string },
): string {
  const width = scaleLinear([0, Math.max(...rows.map(({ size }) => size), Number.MIN_VALUE)], [0, 100]);
  const bar = (size: number) =>
    `<svg class="pic" viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true"><rect class="p-ink" width="${width(size).toFixed(1)}" height="10"/></svg>`;
  return [
    `<div><table class="bars" id="${id}"><caption>${escapeHtml(caption)}</caption><tbody>`,
    ...rows.map(
      ({ name, shown, size }) =>
        `<tr><th scope="row">${escapeHtml(name)}</th><td class="bar">${bar(size)}</td><td class="number">${escapeHtml(shown)}</td></tr>`,
    ),
    `<tr class="total"><th scope="row">${escapeHtml(total.name)}</th><td class="bar"></td><td class="number">${escapeHtml(total.shown)}</td></tr>`,
    `</tbody></table><p class="soft">${escapeHtml(total.after)}</p></div>`,
  ].join('');
}
