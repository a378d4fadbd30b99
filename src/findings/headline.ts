import { formatChance, formatCount } from '../units/format.ts';
import { inARow } from '../units/in-a-row.ts';
import { firstSentence, inSentence, shortenedTo, stopped, withoutStop } from '../units/sentence.ts';
import type { Finding } from './finding.ts';
import { unjudgedClause } from './left-out-texts.ts';
import type { JobResult, RunResult } from './result.ts';

/** From here on a cut may be called predicted to part the sheet: what a recipe from the catalogue is held to (src/facts/cuts). */
const PREDICTED_TO_PART = 0.9;
/** So many jobs of a run are named. */
const JOBS_NAMED = 3;
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
  if (job.verdict === 'pass') return `${FOUND_NO_ERROR}: ${checkedText([job])}.`;
  const stands = openErrors(job).length === 0 ? '' : ` ${stopped(`Do not run it as it is: ${errorText(job)}`)}`;
  return `${stopped(`Not judged: ${reasonText(job)}`)}${stands}`;
}

/** The same for a run: that of its job where there is only one, else over all of them; first of all what no job covers. */
export function headlineOfRun(run: Pick<RunResult, 'verdict' | 'jobs' | 'leftOut'>): string {
  const { jobs, leftOut } = run;
  const unjudged = jobs.filter((job) => job.verdict === 'incomplete');
  const failing = jobs.filter((job) => job.verdict === 'fail');
  const files = unjudgedClause(run);
  if (files !== null && unjudged.length === 0) return `${stopped(`Not judged: ${files}`)}${alsoFailing(failing)}`;
  const [only] = jobs;
  if (only === undefined) {
    const left = leftOut.length === 0 ? '' : `; ${filesLeftOut(leftOut)}`;
    return `Nothing was judged: no job was found${left}.`;
  }
  const notJudged = leftOut.filter(({ incomplete }) => incomplete);
  const besides = notJudged.length === 0 ? '' : ` ${stopped(`Besides, ${filesLeftOut(notJudged)}`)}`;
  if (jobs.length === 1) return `${headlineOfJob(only)}${besides}`;
  if (unjudged.length > 0) {
    const [first] = unjudged;
    const reason = `${shareOf(unjudged, jobs)}; ${first!.name}: ${reasonText(first!)}`;
    return `${stopped(`Not judged: ${reason}`)}${alsoFailing(failing)}${besides}`;
  }
  if (failing.length > 0) return `Do not run: ${shareOf(failing, jobs)}.`;
  return `${FOUND_NO_ERROR}: ${formatCount(jobs.length, 'job')}; ${checkedText(jobs)}.`;
}

function filesLeftOut(files: readonly unknown[]): string {
  return formatCount(files.length, 'file was left out', 'files were left out');
}

/** What is missing first, how many more reasons there are, and how to give what is missing. */
function reasonText(job: Pick<JobResult, 'incomplete' | 'notChecked' | 'unanswered'>): string {
  const [first = 'a part of it could not be checked', ...more] = reasonsNotJudged(job);
  const others = more.length === 0 ? '' : ` (and ${formatCount(more.length, 'more reason')})`;
  const remedy = job.unanswered?.find(({ missing }) => missing === first)?.remedy;
  const missing = `${clause(first)}${others}`;
  return remedy === undefined ? missing : `${stopped(missing)} ${shortenedTo(LONGEST_SENTENCE, remedy)}`;
}

const FOUND_NO_ERROR = 'Found no error in what was checked';

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

function shareOf(some: readonly { name: string }[], all: readonly unknown[]): string {
  const named = some.slice(0, JOBS_NAMED).map(({ name }) => name);
  const rest = some.length > JOBS_NAMED ? [`${some.length - JOBS_NAMED} more`] : [];
  return `${some.length} of ${formatCount(all.length, 'job')} (${inARow([...named, ...rest], 'and')})`;
}

function alsoFailing(failing: readonly unknown[]): string {
  return failing.length === 0
    ? ''
    : ` Do not run ${formatCount(failing.length, 'other job', 'other jobs')}: errors stand in ${failing.length === 1 ? 'it' : 'them'}.`;
}

/** What was checked in these jobs and what was not: cuts and their least chance, engravings, what was set aside, rules. */
function checkedText(jobs: readonly JudgedJob[]): string {
  const all = jobs.flatMap(({ findings }) => findings);
  const open = all.filter(({ status }) => status === 'open');
  const aside = all.filter(({ status, severity }) => status !== 'open' && severity !== 'note').length;
  const warnings = open.filter(({ severity }) => severity === 'warning').length;
  const skipped = jobs.flatMap(({ notChecked }) => notChecked);
  const early = new Set(skipped.filter(({ kind }) => kind === 'ended-early').map(({ rule }) => rule)).size;
  const idle = jobs.length > 1 ? 0 : skipped.filter(({ kind }) => kind === 'not-applicable').length;
  const engraved = jobs.flatMap(({ tasks }) => tasks).filter(({ aim }) => aim !== 'through').length;
  return [
    cutsText(jobs),
    engraved === 0 ? '' : `${formatCount(engraved, 'engraving')} not judged for depth`,
    aside === 0 ? '' : `${formatCount(aside, 'finding')} waived or in the baseline`,
    warnings === 0 ? '' : `${formatCount(warnings, 'warning')} to look at`,
    early === 0 ? '' : `${formatCount(early, 'rule')} not checked to the end`,
    idle === 0 ? '' : `${formatCount(idle, 'rule')} with nothing to look at`,
  ]
    .filter((part) => part !== '')
    .join('; ');
}

/** "both cuts are predicted to part the sheet, 94 %"; that nothing is meant to, where nothing is. */
function cutsText(jobs: readonly JudgedJob[]): string {
  const through = throughCuts(jobs);
  if (through.length === 0) {
    return jobs.every(onlyEngraves) ? NOTHING_THROUGH : 'no cut that is to go through was found';
  }
  const chances = through.flatMap(({ throughProbability }) => throughProbability ?? []);
  const unknown = through.length - chances.length;
  const engraving = jobs.filter(onlyEngraves).length;
  return [
    chances.length === 0 ? '' : likelyText(chances, through.length),
    unknown === 0 ? '' : `${formatCount(unknown, 'cut is', 'cuts are')} without a prediction`,
    engraving === 0 ? '' : `${NOTHING_THROUGH} in ${formatCount(engraving, 'job')}`,
  ]
    .filter((part) => part !== '')
    .join('; ');
}

const NOTHING_THROUGH = 'nothing is meant to go through';

function throughCuts(jobs: readonly JudgedJob[]): JobResult['cuts'] {
  return jobs.flatMap(({ cuts }) => cuts).filter(({ aim }) => aim === 'through');
}

function onlyEngraves({ tasks }: JudgedJob): boolean {
  return tasks.length > 0 && tasks.every(({ aim }) => aim !== 'through');
}

function likelyText(chances: readonly number[], cuts: number): string {
  const least = chances.reduce((a, b) => Math.min(a, b));
  const chance = formatChance(least);
  if (least < PREDICTED_TO_PART) {
    const which = cuts === 1 ? 'the one cut' : `the least sure of ${cuts} cuts`;
    return `${which} is ${chance} likely to part the sheet`;
  }
  const orMore = chances.every((one) => formatChance(one) === chance) ? '' : ' or more';
  return `${countOf(chances.length, cuts)} predicted to part the sheet, ${chance}${orMore}`;
}

function countOf(some: number, all: number): string {
  if (some < all) return `${some} of ${all} cuts ${some === 1 ? 'is' : 'are'}`;
  if (all === 1) return 'the one cut is';
  return all === 2 ? 'both cuts are' : `all ${all} cuts are`;
}
