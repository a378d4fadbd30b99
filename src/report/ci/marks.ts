import { broughtFindings } from '../../findings/comparing/brought.ts';
import { type Finding, SEVERITIES, type Severity } from '../../findings/finding.ts';
import { reasonsNotJudged } from '../../findings/headline.ts';
import type { JobResult, RunResult } from '../../findings/result.ts';
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
  /** The change brought it, as the comparison with a base has it. */
  readonly brought: boolean;
  /** The message alone; of a finding without its hints. */
  readonly message: string;
  /** Hints of a finding, further reasons of what was not judged. */
  readonly more: readonly string[];
  /** Null where no file can carry it: a folder that could not be listed. */
  readonly at: Finding['location'] | null;
}

/** All marks of a run by level, the worst first; of a level what was not judged stands ahead of the findings, and these go by worst first. */
export function marksOf(result: RunResult): Mark[] {
  const open = worstFirst(result.jobs.flatMap((job) => job.findings.filter((finding) => finding.status === 'open')));
  const isBrought = broughtFindings(result);
  const brought = new Set(result.jobs.flatMap((job) => job.findings.filter((finding) => isBrought(job, finding))));
  return SEVERITIES.flatMap((level) => {
    const ofJobs = { error: incompleteOnes, warning: unfinishedOnes, note: () => [] }[level](result);
    const ofFiles = level === 'note' ? [] : leftOutOnes(result, level === 'error');
    return [
      ...ofJobs,
      ...ofFiles,
      ...open.filter((finding) => finding.severity === level).map((one) => ofFinding(one, brought.has(one))),
    ];
  });
}

function ofFinding(finding: Finding, brought: boolean): Mark {
  const { severity, rule, message, hints, location } = finding;
  return { level: severity, rule, finding, brought, message, more: hints, at: location };
}

/** A run that was not finished must show even where no finding carries the reason. */
function incompleteOnes(result: RunResult): Mark[] {
  return result.jobs
    .filter((job) => job.verdict === 'incomplete')
    .map((job): Mark => {
      const [, ...more] = [...reasonsNotJudged(job), ...unfinishedRules(job).map(unfinishedText)];
      const message = `${job.name}: ${job.headline}`;
      return { level: 'error', rule: NOT_JUDGED, finding: null, brought: false, message, more, at: topOf(job) };
    });
}

/** What the run is incomplete for; or artwork that was changed and that nobody judged. */
function leftOutOnes({ leftOut }: RunResult, incomplete: boolean): Mark[] {
  return leftOut
    .filter((one) => one.incomplete === incomplete && (incomplete || (one.changed && one.kind === 'artwork')))
    .map(({ path, kind, reason }): Mark => {
      // A mark stands at a line of a file.
      const at = kind === 'folder' ? null : { file: path, line: 1, column: 1, endLine: 1, endColumn: 1 };
      const message = `${path} was not judged: ${reason}`;
      return {
        level: incomplete ? 'error' : 'warning',
        rule: NOT_JUDGED,
        finding: null,
        brought: false,
        message,
        more: [],
        at,
      };
    });
}

/** Jobs that were judged, but some of whose rules did not look at everything. */
function unfinishedOnes(result: RunResult): Mark[] {
  return result.jobs.flatMap((job): Mark[] => {
    const unfinished = unfinishedRules(job).map(unfinishedText);
    if (job.verdict === 'incomplete' || unfinished.length === 0) return [];
    const message = `${job.name}: ${unfinished.join('; ')}`;
    return [
      { level: 'warning', rule: NOT_TO_THE_END, finding: null, brought: false, message, more: [], at: topOf(job) },
    ];
  });
}

function topOf(job: JobResult): Mark['at'] {
  const file = job.sidecar ?? job.files.toolpath ?? job.files.artwork;
  return file === undefined ? null : { file, line: 1, column: 1, endLine: 1, endColumn: 1 };
}
