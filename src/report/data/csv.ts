import { CAUTION } from '../../findings/caution.ts';
import { reasonsNotJudged } from '../../findings/headline.ts';
import type { JobResult } from '../../findings/result.ts';
import { worstFirst } from '../../findings/sorting.ts';
import { csvCell } from '../escape.ts';
import type { Format } from '../report-context.ts';
import { leastThroughProbability, openFindings, placeText } from '../result-texts.ts';
import { unfinishedRules, unfinishedText } from '../text/unfinished.ts';

type Cell = string | number | null;

const COLUMNS = [
  'job',
  'verdict',
  'errors',
  'warnings',
  'notes',
  'set aside',
  'worst rule',
  'worst message',
  'where',
  'machine',
  'lens',
  'material',
  'thickness mm',
  'least P(through)',
  'cut length mm',
  'time s',
  'at stake',
  'expected waste',
  'currency',
  'not checked',
  'sidecar',
  'toolpath',
  'artwork',
  'headline',
  'caution',
] as const;

/**
 * One row a job by RFC 4180, in the order of the run; files that were not checked have rows of their own, and so has a run without a job.
 * The caution stands in each row of a job, so that rows may be taken out of the table.
 */
export const csv: Format = {
  open() {
    let head = rowText(COLUMNS);
    let jobs = 0;
    const withHead = (text: string) => {
      const all = head + text;
      head = '';
      return all;
    };
    return {
      job(job) {
        jobs++;
        return withHead(rowText([...jobCells(job), job.headline, CAUTION]));
      },
      end({ verdict, headline, caution, notCheckedFiles }) {
        const rows = notCheckedFiles.map(({ file, reason }) =>
          rowOf({ job: file, verdict: 'not checked', 'not checked': reason }),
        );
        if (jobs === 0) rows.push(rowOf({ verdict, headline, caution }));
        return [withHead(rows.map(rowText).join(''))];
      },
    };
  },
};

function rowText(row: readonly Cell[]): string {
  return `${row.map(csvCell).join(',')}\r\n`;
}

/** A row of which only some cells are filled. */
function rowOf(filled: Partial<Record<(typeof COLUMNS)[number], string>>): Cell[] {
  return COLUMNS.map((column) => filled[column] ?? null);
}

/** All cells of a job but the last two. */
function jobCells(job: JobResult): Cell[] {
  const open = worstFirst(openFindings(job));
  const worst = open[0];
  const number = (severity: string) => open.filter((finding) => finding.severity === severity).length;
  const notChecked = [...reasonsNotJudged(job), ...unfinishedRules(job).map(unfinishedText)];
  return [
    job.name,
    job.verdict,
    number('error'),
    number('warning'),
    number('note'),
    job.findings.length - open.length,
    worst?.rule ?? null,
    worst?.message ?? null,
    worst === undefined ? null : placeText(worst),
    job.machine,
    job.lens,
    job.material,
    job.thicknessMm,
    leastThroughProbability(job),
    job.toolpath?.cutLengthMm ?? job.artwork?.lengthMm ?? null,
    job.time?.totalS ?? null,
    job.waste?.atStake ?? null,
    job.waste?.expected ?? null,
    job.waste?.currency ?? null,
    notChecked.length === 0 ? null : notChecked.join('; '),
    job.sidecar,
    job.files.toolpath ?? null,
    job.files.artwork ?? null,
  ];
}
