import { formatCount } from '../units/format.ts';
import { firstSentence, inSentence, shortenedTo, stopped, withoutStop } from '../units/sentence.ts';
import { Checked } from './checked.ts';
import type { Finding } from './finding.ts';
import type { JobResult } from './result.ts';

/** A sentence of a message or a reason is repeated up to this length, UTF-16 units. */
const LONGEST_SENTENCE = 200;

/** A job before its headline is made. */
type JudgedJob = Omit<JobResult, 'headline'>;

/**
 * What is to be known of a job, as one sentence in one of three forms: "Do not run: …", "Not judged: …" with what is missing, or "Found no
 * error in what was checked: …" with what that was. It never says that anything is safe.
 */
export function headlineOfJob(job: JudgedJob): string {
  if (job.verdict === 'fail') return stopped(`Do not run: ${errorText(job)}`);
  if (job.verdict === 'pass') return `${FOUND_NO_ERROR}: ${new Checked().with(job).text()}.`;
  const stands = openErrors(job).length === 0 ? '' : ` ${stopped(`Do not run it as it is: ${errorText(job)}`)}`;
  return `${stopped(`Not judged: ${reasonText(job)}`)}${stands}`;
}

/** What is missing first, how many more reasons there are, and how to give what is missing. */
export function reasonText(job: Pick<JobResult, 'incomplete' | 'notChecked' | 'unanswered'>): string {
  const [first = 'a part of it could not be checked', ...more] = reasonsNotJudged(job);
  const others = more.length === 0 ? '' : ` (and ${formatCount(more.length, 'more reason')})`;
  const remedy = job.unanswered?.find(({ missing }) => missing === first)?.remedy;
  const missing = `${clause(first)}${others}`;
  return remedy === undefined ? missing : `${stopped(missing)} ${shortenedTo(LONGEST_SENTENCE, remedy)}`;
}

export const FOUND_NO_ERROR = 'Found no error in what was checked';

/** Why a job could not be judged, in words: what is missing first, then rules that failed. */
export function reasonsNotJudged(job: Pick<JobResult, 'incomplete' | 'notChecked'>): string[] {
  const failed = job.notChecked.filter(({ kind }) => kind === 'failed');
  return [...job.incomplete, ...failed.map(({ rule, reason }) => `${rule} failed: ${reason}`)];
}

function openErrors({ findings }: Pick<JobResult, 'findings'>): Finding[] {
  return findings.filter(({ status, severity }) => status === 'open' && severity === 'error');
}

/** The first error in its own words, and how many more there are. */
function errorText(job: Pick<JobResult, 'findings'>): string {
  const [first, ...more] = openErrors(job);
  if (first === undefined) return 'an error stands';
  const others = more.length === 0 ? '' : ` (and ${formatCount(more.length, 'more error')})`;
  return `${clause(inSentence(firstSentence(first.message)))}${others}`;
}

function clause(text: string): string {
  return shortenedTo(LONGEST_SENTENCE, withoutStop(text));
}
