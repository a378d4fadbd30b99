import type { Comparison } from '../../findings/comparing/comparison.ts';
import { formatCount } from '../../units/format.ts';
import { changedMeasures, changePlace, changeWords, fateText, inReadingOrder } from '../comparison-texts.ts';

/** So many jobs, and of each so many findings, are told; JSON has all. */
const JOBS_SHOWN = 20;
const FINDINGS_SHOWN = 20;

/** A line of the text report: its words, how deep it stands, and whether it matters less. */
export interface ComparisonLine {
  indent: number;
  words: string;
  dim?: true;
}

/** What has changed since the base, job by job; not yet escaped. */
export function comparisonLines({ headline, jobs }: Comparison): ComparisonLine[] {
  const lines: ComparisonLine[] = [{ indent: 0, words: headline }];
  for (const job of jobs.slice(0, JOBS_SHOWN)) {
    const fate = fateText(job);
    lines.push({ indent: 2, words: `${job.name}${fate === '' ? '' : ` (${fate})`}` });
    for (const words of changedMeasures(job)) lines.push({ indent: 4, words });
    const findings = inReadingOrder(job.findings);
    for (const one of findings.slice(0, FINDINGS_SHOWN)) {
      lines.push({ indent: 4, words: `${changeWords(one)}  ${changePlace(one)}  ${one.rule}` });
      // What is new stands in full among the findings below.
      if (one.change === 'new') continue;
      if (one.before !== undefined && one.before.message !== one.message)
        lines.push({ indent: 6, words: `was: ${one.before.message}`, dim: true });
      lines.push({ indent: 6, words: one.message, dim: true });
    }
    const left = findings.length - FINDINGS_SHOWN;
    if (left > 0)
      lines.push({ indent: 4, words: `… and ${formatCount(left, 'more finding')}: --format json lists all.` });
  }
  const left = jobs.length - JOBS_SHOWN;
  if (left > 0) lines.push({ indent: 2, words: `… and ${formatCount(left, 'more job')}: --format json lists all.` });
  return lines;
}
