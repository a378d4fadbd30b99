import { markdown } from './escape.ts';
import type { RuleCard } from './format.ts';

/** What a rule's page tells besides the card: its inputs, words and options. */
export interface RulePageCard extends RuleCard {
  readonly reads: readonly string[];
  readonly messages: Readonly<Record<string, string>>;
  readonly options: Readonly<
    Record<
      string,
      {
        readonly type: string;
        readonly default: number | boolean | string;
        readonly unit?: string;
        readonly minimum?: number;
        readonly maximum?: number;
        readonly description: string;
      }
    >
  >;
}

const SEVERITY_MEANS = {
  error: 'error: do not run it',
  warning: 'warning: a person should look',
  note: 'note: good to know',
} as const;

/** The page of a rule as Markdown: `docs/rules/<area>-<name>.md`, and what `explain` prints. */
export function rulePage(rule: RulePageCard): string {
  const sections = [
    `# ${rule.id}`,
    rule.summary,
    [
      '| | |',
      '|---|---|',
      `| Severity | ${SEVERITY_MEANS[rule.severity]} |`,
      `| Looks at | ${rule.reads.join(', ')} |`,
      `| Waiver | ${rule.safety ? 'only in the sidecar, with a reason and a date' : 'in the sidecar, or in a comment on the line above, with a reason'} |`,
      `| Since | ${rule.since} |`,
    ].join('\n'),
    '## Why it matters',
    rule.why,
    '## What to do',
    rule.remedy,
    ...(rule.caution === undefined ? [] : ['## Caution', rule.caution]),
    '## What it says',
    Object.values(rule.messages)
      .map(
        (message) =>
          `- ${message
            .replaceAll('{{', '{')
            .replaceAll('}}', '}')
            .replace(/\{[A-Za-z0-9]+\}/g, (slot) => `\`${slot}\``)}`,
      )
      .join('\n'),
    ...optionSection(rule),
    '## Sources',
    rule.sources.map((source) => `- ${source}`).join('\n'),
  ];
  return `${sections.map((section) => section.trim()).join('\n\n')}\n`;
}

function optionSection({ options }: RulePageCard): string[] {
  const rows = Object.entries(options).map(([name, option]) => {
    const unit = option.unit === undefined ? '' : ` ${option.unit}`;
    return `| \`${name}\` | ${option.type} | ${option.default}${unit} | ${markdown(option.description)} |`;
  });
  return rows.length === 0
    ? []
    : ['## Options', ['| option | type | default | |', '|---|---|---|---|', ...rows].join('\n')];
}
