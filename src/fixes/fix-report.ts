import { CAUTION, materialCaution } from '../findings/caution.ts';
import type { Finding } from '../findings/finding.ts';
import type { Location } from '../source/place.ts';
import { formatCount } from '../units/format.ts';
import type { Mended } from './mend.ts';

/** What became of a job that was mended, for people: what was done and what was left alone, the difference, and what is still found. */
export function fixReport(mended: Mended, diffs: readonly string[], outcome: string): string {
  const { before, after, done, declined, material } = mended;
  const made = done.map(({ fix, what, location }) => `mended: ${placeText(location)}: ${what}. [${fix}]`);
  const left = declined.map(
    ({ fix, what, location, why }) =>
      `left alone: ${placeText(location)}: ${what}: ${why}.${fix === null ? '' : ` [${fix}]`}`,
  );
  const parts = [
    [`${before.name}: ${outcome}`, ...made, ...left].join('\n'),
    ...diffs.map((diff) => diff.trimEnd()),
    [
      `Before: ${before.headline}`,
      ...(done.length === 0 ? [] : [`Now: ${after.headline}`]),
      ...remaining(after.findings),
    ].join('\n'),
    `${materialCaution(material)}\n${CAUTION}`,
  ];
  return `${parts.join('\n\n')}\n`;
}

function remaining(findings: readonly Finding[]): string[] {
  const open = findings.filter(({ status }) => status === 'open');
  if (open.length === 0) return ['Left: nothing that is found.'];
  const told = open.map(({ severity, rule, location }) => `  ${severity}  ${placeText(location)}  ${rule}`);
  return [`Left: ${formatCount(open.length, 'finding')}; kerflint check tells more.`, ...told];
}

function placeText({ file, line }: Location): string {
  return `${file}:${line}`;
}
