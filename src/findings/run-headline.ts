import { formatCount } from '../units/format.ts';
import { inARow } from '../units/in-a-row.ts';
import { stopped } from '../units/sentence.ts';
import { Checked } from './checked.ts';
import { FOUND_NO_ERROR, reasonText } from './headline.ts';
import { unjudgedClause } from './left-out-texts.ts';
import type { JobResult, LeftOutFile } from './result.ts';

/** So many jobs of a run are named. */
const JOBS_NAMED = 3;

/**
 * The headline of a run, from its jobs one by one: that of its job where there is only one, else over all of them; first of all what no
 * job covers.
 */
export class RunHeadline {
  readonly #checked = new Checked();
  readonly #unjudged: Some = { count: 0, named: [] };
  readonly #failing: Some = { count: 0, named: [] };
  #jobs = 0;
  #first = '';
  /** Why the first job that was not judged was not. */
  #reason = '';

  take(job: JobResult): void {
    if (this.#jobs++ === 0) this.#first = job.headline;
    if (job.verdict === 'incomplete' && this.#unjudged.count === 0) this.#reason = `${job.name}: ${reasonText(job)}`;
    if (job.verdict === 'incomplete') enter(this.#unjudged, job);
    else if (job.verdict === 'fail') enter(this.#failing, job);
    this.#checked.with(job);
  }

  text(leftOut: readonly LeftOutFile[]): string {
    const files = unjudgedClause(leftOut);
    if (files !== null && this.#unjudged.count === 0) return `${stopped(`Not judged: ${files}`)}${this.#alsoFailing()}`;
    if (this.#jobs === 0) {
      const left = leftOut.length === 0 ? '' : `; ${filesLeftOut(leftOut)}`;
      return `Nothing was judged: no job was found${left}.`;
    }
    const notJudged = leftOut.filter(({ incomplete }) => incomplete);
    const besides = notJudged.length === 0 ? '' : ` ${stopped(`Besides, ${filesLeftOut(notJudged)}`)}`;
    if (this.#jobs === 1) return `${this.#first}${besides}`;
    if (this.#unjudged.count > 0) {
      const reason = `${this.#share(this.#unjudged)}; ${this.#reason}`;
      return `${stopped(`Not judged: ${reason}`)}${this.#alsoFailing()}${besides}`;
    }
    if (this.#failing.count > 0) return `Do not run: ${this.#share(this.#failing)}.`;
    return `${FOUND_NO_ERROR}: ${formatCount(this.#jobs, 'job')}; ${this.#checked.text()}.`;
  }

  #share({ count, named }: Some): string {
    const rest = count > named.length ? [`${count - named.length} more`] : [];
    return `${count} of ${formatCount(this.#jobs, 'job')} (${inARow([...named, ...rest], 'and')})`;
  }

  #alsoFailing(): string {
    const { count } = this.#failing;
    if (count === 0) return '';
    return ` Do not run ${formatCount(count, 'other job', 'other jobs')}: errors stand in ${count === 1 ? 'it' : 'them'}.`;
  }
}

/** Jobs of one verdict: how many, and the names of the first. */
interface Some {
  count: number;
  named: string[];
}

function enter(some: Some, { name }: JobResult): void {
  some.count++;
  if (some.named.length < JOBS_NAMED) some.named.push(name);
}

function filesLeftOut(files: readonly unknown[]): string {
  return formatCount(files.length, 'file was left out', 'files were left out');
}
