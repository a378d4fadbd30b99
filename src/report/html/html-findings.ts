import type { JobPictures } from '../../facts/drawing/drawing-model.ts';
import type { Finding, Severity } from '../../findings/finding.ts';
import { formatCount } from '../../units/format.ts';
import { escapeHtml } from '../escape.ts';
import type { NumberedFinding } from '../pictures/map-links.ts';
import type { ReportContext, RuleMetadata } from '../report-context.ts';
import { placeText } from '../result-texts.ts';

export const SEVERITY_WORDS: Record<Severity, string> = { error: 'Error', warning: 'Warning', note: 'Note' };

/** A finding of the report, with the job it belongs to. */
export interface FindingEntry extends NumberedFinding {
  job: string;
  jobId: string;
  pinned: boolean;
  around: JobPictures['around'][number] | null;
}

/** The table of findings, with filters that a script activates. */
export function findingsSection(entries: readonly FindingEntry[], left: number): string {
  if (entries.length === 0) {
    return '<section id="findings" aria-labelledby="findings-title"><h2 id="findings-title">Findings</h2><p>None in what was checked.</p></section>';
  }
  const rules = [...new Set(entries.map(({ finding }) => finding.rule))].sort();
  const jobs = [...new Set(entries.map(({ job }) => job))];
  const severities = [...new Set(entries.map(({ finding }) => finding.severity))];
  const choice = (name: string, label: string, values: readonly string[], shown = (value: string) => value) =>
    `<label>${label} <select data-filter="${name}"><option value="">all</option>${values.map((value) => `<option value="${escapeHtml(value)}">${escapeHtml(shown(value))}</option>`).join('')}</select></label>`;
  return [
    '<section id="findings" aria-labelledby="findings-title">',
    '<h2 id="findings-title">Findings</h2>',
    `<details class="fold"><summary>${entries.length === 1 ? 'The finding' : `All ${entries.length} findings`}, with what to do and the lines of the files</summary>`,
    '<form class="filters" aria-label="Filter the findings" hidden>',
    choice('severity', 'Severity', severities, (value) => SEVERITY_WORDS[value as Severity]),
    choice('rule', 'Rule', rules),
    choice('job', 'Job', jobs),
    `<output aria-live="polite">${formatCount(entries.length, 'finding')}</output></form>`,
    '<table class="findings"><thead><tr><th scope="col">No.</th><th scope="col">What was found, where, and what to do</th></tr></thead><tbody>',
    ...entries.map(row),
    '</tbody></table>',
    left > 0 ? `<p class="aside">And ${left} more: the JSON has all.</p>` : '',
    '</details>',
    '</section>',
  ].join('\n');
}

function row(entry: FindingEntry): string {
  const { number, finding, job, jobId } = entry;
  const set = finding.status === 'open' ? '' : ` <span class="tag">${finding.status}</span>`;
  const reason =
    finding.reason === undefined ? '' : `<p class="soft">${finding.status}: ${escapeHtml(finding.reason)}</p>`;
  const map = entry.pinned ? ` · <a href="#${jobId}-pin-${number}">show on the map</a>` : '';
  return [
    `<tr id="finding-${number}" class="${finding.severity}" data-severity="${finding.severity}" data-rule="${escapeHtml(finding.rule)}" data-job="${escapeHtml(job)}">`,
    `<th scope="row">${number}<span>${SEVERITY_WORDS[finding.severity]}</span></th><td>`,
    `<p class="message">${escapeHtml(finding.message)}${set}</p>`,
    reason,
    ...finding.hints.map((hint) => `<p class="hint">${escapeHtml(hint)}</p>`),
    `<p class="soft"><span class="place">${escapeHtml(placeText(finding))}</span> · <a href="#rule-${escapeHtml(finding.rule.replace('/', '-'))}">${escapeHtml(finding.rule)}</a> · <a href="#${jobId}">${escapeHtml(job)}</a>${map}</p>`,
    sourceLines(finding, entry.around),
    ...related(finding),
    '</td></tr>',
  ].join('');
}

function related(finding: Finding): string[] {
  return finding.related
    .slice(0, 5)
    .map((one) => `<p class="soft">${escapeHtml(`${one.file}:${one.line}: ${one.message}`)}</p>`);
}

/** The lines around the place; those of the finding are marked. */
function sourceLines(finding: Finding, around: FindingEntry['around']): string {
  const startLine = around?.startLine ?? finding.excerpt?.startLine ?? 1;
  const lines = around?.lines ?? finding.excerpt?.lines ?? [];
  if (lines.every((line) => line.trim() === '')) return '';
  const { line: first, endLine } = finding.location;
  const shown = lines.map((text, i) => {
    const number = startLine + i;
    const within = number >= first && number <= endLine;
    const body = `<span class="no">${number}</span> ${escapeHtml(text)}`;
    return within ? `<mark>${body}</mark>` : body;
  });
  return `<pre><code>${shown.join('\n')}</code></pre>`;
}

/** What the rules that reported something are about: why it matters and how to put it right. */
export function rulesSection(entries: readonly FindingEntry[], { rules }: Pick<ReportContext, 'rules'>): string {
  const spoke = new Set(entries.map(({ finding }) => finding.rule));
  const cards = rules.filter((rule) => spoke.has(rule.id));
  if (cards.length === 0) return '';
  return [
    '<section class="rules" aria-labelledby="rules-title"><h2 id="rules-title">Why these rules</h2>',
    `<details class="fold"><summary>${formatCount(cards.length, 'rule')}: why each matters, and how to put it right</summary>`,
    ...cards.map(ruleCard),
    '</details>',
    '</section>',
  ].join('\n');
}

function ruleCard(rule: RuleMetadata): string {
  const caution = rule.caution === undefined ? '' : `<p>${escapeHtml(rule.caution)}</p>`;
  return [
    `<details class="rule" id="rule-${escapeHtml(rule.id.replace('/', '-'))}"><summary><code>${escapeHtml(rule.id)}</code> ${escapeHtml(rule.summary)}</summary>`,
    `<p>${escapeHtml(rule.why)}</p><p>${escapeHtml(rule.remedy)}</p>${caution}</details>`,
  ].join('');
}
