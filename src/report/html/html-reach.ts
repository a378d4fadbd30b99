import type { JobDrawing } from '../../facts/drawing/drawing-model.ts';
import { formatWatts } from '../../units/format.ts';
import { escapeHtml } from '../escape.ts';
import { reachOfJob } from '../pictures/job-reach-chart.ts';
import { pictureInPage } from '../pictures/picture-parts.ts';

/** The chart of reach, folded. On a narrow window it is scrolled sideways: its words keep their size, and the page its width. */
export function reachFold(id: string, drawing: JobDrawing, thicknessMm: number | null): string {
  const reach = reachOfJob(drawing, thicknessMm);
  if (reach === null) return '';
  return [
    '<details class="fold"><summary>Reach by speed</summary>',
    `<figure class="reach"><div class="wide" tabindex="0" role="group" aria-label="Chart of reach">${pictureInPage(reach, `${id}-reach`)}</div>`,
    `<figcaption><p>${escapeHtml(legend(drawing))}</p></figcaption></figure>`,
    '</details>',
  ].join('\n');
}

function legend({ reach, goTo, coupons }: JobDrawing): string {
  const published = reach?.published.length ?? 0;
  return [
    'Bold: what each lens parts with 90 %. Thin: its median. Shade: the 5 to 95 % band of the lens that is fitted.',
    'Large dot: the least sure cut of this job at the sheet’s thickness, its bar the band of its own depth; small dots: the other cuts.',
    goTo === null ? '' : 'Ring: what is proposed; it stands in no file.',
    goTo !== null && goTo.points.length > 0 ? 'Dotted: what parts with 90 % as proposed.' : '',
    coupons.length === 0 ? '' : 'Square: a test cut that parted. Cross: one that did not, or its measured depth.',
    published === 0
      ? ''
      : `Diamond: a cut that others published, its speed scaled to ${formatWatts(reach!.powerW)}; full where it parted, empty where it did not. Point at one for its source.`,
    'Predicted: prove a setting on a scrap of the same sheet.',
  ]
    .filter((part) => part !== '')
    .join(' ');
}
