import type { Finding } from '../../src/findings/finding.ts';
import type { RunResult } from '../../src/findings/result.ts';
import type { Rule } from '../../src/rules/rule.ts';

/** What one rule answered in one run. */
export interface Answer {
  exit: number;
  verdict: string;
  findings: { head: string; message: string; messageIds: string[]; related: string[]; hints: string[] }[];
  /** Why the rule did not judge, where it did not. */
  notChecked: string[];
}

/** What the rule answered in a run: its own findings and no other rule's. */
export function answerOf(of: Rule, exit: number, result: RunResult): Answer {
  const own = result.jobs.flatMap((job) => job.findings).filter(({ rule }) => rule === of.id);
  const notChecked = result.jobs.flatMap((job) => job.notChecked).filter(({ rule }) => rule === of.id);
  return {
    exit,
    verdict: result.verdict,
    findings: own.map((finding) => said(finding, of)),
    notChecked: notChecked.map(({ kind, reason }) => `${kind}: ${reason}`),
  };
}

/** Related places carry no message id in a result: it is told by the template that fits their text. */
function said(finding: Finding, of: Rule): Answer['findings'][number] {
  const { severity, location, messageId, message, related, hints, status } = finding;
  const mark = status === 'open' ? '' : ` (${status})`;
  return {
    head: `${severity} ${location.file}:${location.line}:${location.column}-${location.endLine}:${location.endColumn} ${messageId}${mark}`,
    message,
    messageIds: [messageId, ...related.flatMap((one) => idsOf(one.message, of))],
    related: related.map((one) => `${one.file}:${one.line}:${one.column} ${one.message}`),
    hints: [...hints],
  };
}

function idsOf(text: string, { messages }: Rule): string[] {
  return Object.keys(messages).filter((id) => patternOf(messages[id]!).test(text));
}

function patternOf(template: string): RegExp {
  const parts = template.split(/\{[A-Za-z][A-Za-z0-9]*\}/).map((part) => part.replace(/[.*+?^${}()|[\]\\]/g, '\\$&'));
  return new RegExp(`^${parts.join('[^]*')}$`);
}

/** The answer as it stands in a case's `expected.txt`. */
export function answerText({ exit, verdict, findings, notChecked }: Answer): string {
  const lines = [`exit ${exit}, ${verdict}`];
  for (const { head, message, related, hints } of findings) {
    lines.push('', head, `  ${message}`);
    for (const one of related) lines.push(`  related: ${one}`);
    for (const one of hints) lines.push(`  hint: ${one}`);
  }
  if (findings.length === 0) lines.push('', notChecked.length > 0 ? notChecked.join('\n') : 'judged, and nothing said');
  return `${lines.join('\n')}\n`;
}
