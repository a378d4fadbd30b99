import { type Finding, SEVERITIES, type Severity } from '../../findings/finding.ts';
import { reasonsNotJudged } from '../../findings/headline.ts';
import type { JobResult, LeftOutFile } from '../../findings/result.ts';
import { worstFirst } from '../../findings/sorting.ts';
import { unfinishedRules, unfinishedText } from '../text/unfinished.ts';

/** What stands in the place of a rule's id where no rule speaks: a job, a file or a folder was not judged. */
export const NOT_JUDGED = 'not-judged';
/** The same, where a job was judged but some of its rules did not look at everything. */
export const NOT_TO_THE_END = 'not-checked-to-the-end';

/** Something that a service marks at a line of a file: an open finding, or what was not judged. Texts are not yet escaped. */
export interface Mark {
  readonly level: Severity;
  /** The rule, or one of the two words above. */
  readonly rule: string;
  /** The finding; null where it is none. */
  readonly finding: Finding | null;
  /** It tells of a job; else of a file or folder that belongs to none. */
  readonly ofJob: boolean;
  /** The message alone; of a finding without its hints. */
  readonly message: string;
  /** Hints of a finding, further reasons of what was not judged. */
  readonly more: readonly string[];
  /** Null where no file can carry it: a folder that could not be listed. */
  readonly at: Finding['location'] | null;
}

/** The marks of a job by level, the worst first; of a level that it was not judged stands ahead of the findings. */
export function marksOfJob(job: JobResult): Mark[] {
  const open = worstFirst(job.findings.filter((finding) => finding.status === 'open'));
  return SEVERITIES.flatMap((level) => {
    const ofJob = { error: incompleteOne, warning: unfinishedOne, note: () => [] }[level](job);
    return [...ofJob, ...open.filter((finding) => finding.severity === level).map(ofFinding)];
  });
}

/** Marks of what was left out: what the run is incomplete for, then artwork that was changed and that nobody judged. */
export function marksOfLeftOut(leftOut: readonly LeftOutFile[]): Mark[] {
  return [...leftOutOnes(leftOut, true), ...leftOutOnes(leftOut, false)];
}

function ofFinding(finding: Finding): Mark {
  const { severity, rule, message, hints, location } = finding;
  return { level: severity, rule, finding, ofJob: true, message, more: hints, at: location };
}

/** A run that was not finished must show even where no finding carries the reason. */
function incompleteOne(job: JobResult): Mark[] {
  if (job.verdict !== 'incomplete') return [];
  const [, ...more] = [...reasonsNotJudged(job), ...unfinishedRules(job).map(unfinishedText)];
  const message = `${job.name}: ${job.headline}`;
  return [{ level: 'error', rule: NOT_JUDGED, finding: null, ofJob: true, message, more, at: topOf(job) }];
}

function leftOutOnes(leftOut: readonly LeftOutFile[], incomplete: boolean): Mark[] {
  return leftOut
    .filter((one) => one.incomplete === incomplete && (incomplete || (one.changed && one.kind === 'artwork')))
    .map(({ path, kind, reason }): Mark => {
      // A mark stands at a line of a file.
      const at = kind === 'folder' ? null : { file: path, line: 1, column: 1, endLine: 1, endColumn: 1 };
      const message = `${path} was not judged: ${reason}`;
      const level = incomplete ? 'error' : 'warning';
      return { level, rule: NOT_JUDGED, finding: null, ofJob: false, message, more: [], at };
    });
}

/** A job that was judged, but some of whose rules did not look at everything. */
function unfinishedOne(job: JobResult): Mark[] {
  const unfinished = unfinishedRules(job).map(unfinishedText);
  if (job.verdict === 'incomplete' || unfinished.length === 0) return [];
  const message = `${job.name}: ${unfinished.join('; ')}`;
  return [{ level: 'warning', rule: NOT_TO_THE_END, finding: null, ofJob: true, message, more: [], at: topOf(job) }];
}

function topOf(job: JobResult): Mark['at'] {
  const file = job.sidecar ?? job.files.toolpath ?? job.files.artwork;
  return file === undefined ? null : { file, line: 1, column: 1, endLine: 1, endColumn: 1 };
}
