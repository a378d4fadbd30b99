import { formatCount } from '../../units/format.ts';
import { SEVERITIES } from '../finding.ts';
import type { Change, Comparison } from './comparison.ts';

/** "Against the base: 1 new error, 2 new warnings, 1 risen finding, 3 gone." */
export function comparisonHeadline({ findings, jobs, gate, ...rest }: Omit<Comparison, 'headline'>): string {
  const of = (change: Change) => jobs.flatMap((job) => job.findings.filter((one) => one.change === change));
  const fresh = SEVERITIES.flatMap((severity) => {
    const count = of('new').filter((one) => one.severity === severity).length;
    return count === 0 ? [] : formatCount(count, `new ${severity}`);
  });
  const others = (['risen', 'changed', 'gone'] as const).flatMap((change) =>
    findings[change] === 0 ? [] : `${formatCount(findings[change], 'finding')} ${change}`,
  );
  const jobsOf = (is: string) => jobs.filter((job) => job.is === is).length;
  const moved = (['new', 'renamed', 'gone'] as const).flatMap((is) =>
    jobsOf(is) === 0 ? [] : `${formatCount(jobsOf(is), 'job')} ${is}`,
  );
  const numbers = jobs.filter((job) => job.is === 'same' && job.findings.length === 0).length;
  const all = [
    ...fresh,
    ...others,
    ...moved,
    ...(numbers === 0 ? [] : [`other numbers in ${formatCount(numbers, 'job')}`]),
  ];
  const said = all.length === 0 ? 'nothing has changed' : all.join(', ');
  const untold = rest.notInRun === 0 ? '' : ` ${formatCount(rest.notInRun, 'job')} of the base not part of this run.`;
  const gated = gate === 'new' ? ' Only what is new or risen fails the run.' : '';
  return `Against the base: ${said}.${untold}${gated}`;
}
