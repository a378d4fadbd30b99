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
] as const;

/** One row a job by RFC 4180, in the order of the run; files that were not checked have rows of their own. */
export const csv: Format = (result) => {
  const rows: Cell[][] = [
    [...COLUMNS],
    ...result.jobs.map(jobRow),
    ...result.notCheckedFiles.map(({ file, reason }) => {
      const row: Cell[] = COLUMNS.map(() => null);
      row[COLUMNS.indexOf('job')] = file;
      row[COLUMNS.indexOf('verdict')] = 'not checked';
      row[COLUMNS.indexOf('not checked')] = reason;
      return row;
    }),
  ];
  return rows.map((row) => `${row.map(csvCell).join(',')}\r\n`).join('');
};

function jobRow(job: JobResult): Cell[] {
  const open = worstFirst(openFindings(job));
  const worst = open[0];
  const number = (severity: string) => open.filter((finding) => finding.severity === severity).length;
  const notChecked = [
    ...job.incomplete,
    ...job.notChecked.filter((one) => one.kind === 'failed').map((one) => `${one.rule} failed: ${one.reason}`),
    ...unfinishedRules(job).map(unfinishedText),
  ];
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
