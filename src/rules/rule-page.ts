import { docsPath } from '../findings/reporter.ts';
import type { Rule, RuleOption } from './rule.ts';

/** How the severities read on a page. */
const SEVERITY_MEANS: Record<Rule['severity'], string> = {
  error: 'error (do not run it)',
  warning: 'warning (a person should look)',
  note: 'note (good to know)',
};

/** The page of one rule as Markdown: what `kerflint explain` prints and `docs/rules/` holds. `formats`: those that files come in, by name. */
export function rulePage(rule: Rule, formats: readonly string[]): string {
  const facts = [
    `- Severity: ${SEVERITY_MEANS[rule.severity]}`,
    `- Since: ${rule.since}`,
    `- Reads: ${rule.reads.join(', ')}`,
  ];
  if (rule.oncePerRun === true) facts.push('- Reported once a run');
  const parts = [
    `# ${rule.id}`,
    rule.summary,
    facts.join('\n'),
    rule.caution === undefined ? '' : `> **Caution.** ${rule.caution}`,
    `## Why it matters\n\n${rule.why}`,
    `## How to put it right\n\n${rule.remedy}`,
    `## What it says\n\nFor instance:\n\n> ${rule.example}\n\nAll its messages, with what is filled in in braces:\n\n${messages(rule)}`,
    `## Options\n\n${options(rule)}`,
    `## Waiving it\n\n${waiving(rule, formats)}`,
    `## Sources\n\n${rule.sources.map((source) => `- ${source}`).join('\n')}${keysExplained(rule.sources)}`,
  ];
  return `${parts.filter((part) => part !== '').join('\n\n')}\n`;
}

/** The list of all rules as Markdown, by area. */
export function ruleIndexPage(rules: readonly Rule[]): string {
  const areas = [...new Set(rules.map((rule) => areaOf(rule.id)))];
  const tables = areas.map((area) => {
    const rows = rules
      .filter((rule) => areaOf(rule.id) === area)
      .map(
        (rule) =>
          `| [${rule.id}](${docsPath(rule.id).replace('docs/', '')}) | ${rule.severity} | ${cell(rule.summary)} |`,
      );
    return `## ${area}\n\n| rule | severity | what it reports |\n|---|---|---|\n${rows.join('\n')}`;
  });
  const opening = `# Rules\n\n${rules.length} rules. \`kerflint explain cut/marginal\` prints that rule’s page without a network, and so for each. A rule that found nothing has found nothing in what it checked; it judges nothing else.`;
  return `${[opening, ...tables].join('\n\n')}\n`;
}

/** Where the keys in brackets lead, if a source has one. */
function keysExplained(sources: readonly string[]): string {
  return sources.some((source) => /\[[A-Z]/.test(source)) ? '\n\nKeys in brackets stand in docs/sources.md.' : '';
}

function areaOf(id: string): string {
  return id.slice(0, id.indexOf('/'));
}

function messages(rule: Rule): string {
  return Object.entries(rule.messages)
    .map(([id, template]) => `- \`${id}\`: ${template}`)
    .join('\n');
}

function options(rule: Rule): string {
  const rows = Object.entries(rule.options).map(
    ([name, option]) =>
      `| \`${name}\` | ${option.type} | ${defaultOf(option)} | ${range(option)} | ${cell(option.description)} |`,
  );
  if (rows.length === 0) return 'None.';
  return `Set under \`rules\` in the \`.kerflint.yaml\` of the shop or the root.\n\n| option | type | default | range | meaning |\n|---|---|---|---|---|\n${rows.join('\n')}`;
}

function defaultOf(option: RuleOption): string {
  return option.unit === undefined ? `${option.default}` : `${option.default} ${option.unit}`;
}

function range(option: RuleOption): string {
  const ends = [
    option.minimum === undefined ? '' : `from ${option.minimum}`,
    option.maximum === undefined ? '' : `to ${option.maximum}`,
  ];
  return ends.filter((end) => end !== '').join(' ') || 'any';
}

function waiving(rule: Rule, formats: readonly string[]): string {
  const date = rule.safety === true ? ', until: 2027-03-01' : '';
  const entry = `\`\`\`yaml\nwaive:\n  - { rule: ${rule.id}, reason: "why it may stand"${date} }\n\`\`\``;
  return rule.safety === true
    ? `Only in the sidecar, with a reason and a date; the finding stays, marked waived.\n\n${entry}`
    : `In the sidecar, with a reason; or in a comment of the ${formats.join(' or ')}: \`kerflint-waive ${rule.id}: reason\` for its own and the next line, \`kerflint-waive-file ${rule.id}: reason\` for the file. The finding stays, marked waived.\n\n${entry}`;
}

function cell(text: string): string {
  return text.replaceAll('|', '\\|');
}
