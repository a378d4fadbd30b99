import type { Finding, NotChecked, Severity } from '../../findings/finding.ts';
import type { RunResult, Verdict } from '../../findings/result.ts';
import { compareByPlace, worstFirst } from '../../findings/sorting.ts';
import { formatCount } from '../../units/format.ts';
import { escapeSarif, escapeTerminal, jsonText, relativeUri, wellFormed } from '../escape.ts';
import type { Format, ReportContext, ReportedFix, RuleMetadata } from '../report-context.ts';

const SCHEMA = 'https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json';
/** GitHub refuses a run with more (docs.github.com, SARIF support for code scanning). */
export const MOST_RESULTS = 25_000;
/** Of those it shows so many, the most severe (the same page). */
export const SHOWN_RESULTS = 5000;
/**
 * It refuses a file of more than 10 MB when it is zipped (the same page). How far text shrinks is not known before it is zipped: with
 * so much plain text, more results than are shown, a file stays below that whatever is in it.
 */
export const MOST_RESULT_BYTES = 9_500_000;
/** Fewer results are not weighed. */
const SURELY_FIT = 1000;
/** GitHub shows no more of a rule's full description. */
const DESCRIPTION_UNITS = 1024;

/**
 * SARIF 2.1.0 (OASIS). All rules with what they mean; each result with one full region, links to the places it is related
 * to, and a fingerprint of our own. Each job's headline and what was not checked stand as notifications of the tool; the run's headline and
 * the caution stand in the run's properties.
 */
export const sarif: Format = (result, context) => {
  const all = result.jobs.flatMap((job) => job.findings);
  const kept = keptFindings(all, context);
  const log = {
    $schema: SCHEMA,
    version: '2.1.0',
    runs: [
      {
        tool: {
          driver: {
            name: result.tool.name,
            version: result.tool.version,
            semanticVersion: result.tool.version,
            ...(context.docsUrl === null ? {} : { informationUri: `${context.docsUrl}README.md` }),
            rules: context.rules.map((rule) => ruleOf(rule, context)),
          },
        },
        columnKind: 'utf16CodeUnits',
        invocations: [
          {
            executionSuccessful: result.verdict !== 'incomplete',
            toolExecutionNotifications: [...cutNotes(all.length, kept.length), ...notifications(result, context)],
          },
        ],
        results: kept.map((finding) => resultOf(finding, context)),
        properties: { headline: escapeSarif(result.headline), caution: escapeSarif(result.caution) },
      },
    ],
  };
  const text = JSON.stringify(log, (_, value) => (typeof value === 'string' ? wellFormed(value) : value), 2);
  return `${jsonText(text)}\n`;
};

function ruleOf(rule: RuleMetadata, { docsUrl }: ReportContext) {
  const why = escapeSarif(plain(rule.why));
  const caution = rule.caution === undefined ? '' : `\n\n${rule.caution}`;
  return {
    id: rule.id,
    name: rule.id.replace(/(^|[/-])([a-z])/g, (_, _joint, letter: string) => letter.toUpperCase()),
    shortDescription: { text: escapeSarif(rule.summary) },
    fullDescription: { text: why.length > DESCRIPTION_UNITS ? `${why.slice(0, DESCRIPTION_UNITS - 1)}…` : why },
    help: {
      text: escapeSarif(`${plain(rule.why)}\n\n${plain(rule.remedy)}${caution}`),
      markdown: `${rule.why}\n\n${rule.remedy}${caution}`,
    },
    ...(docsUrl === null ? {} : { helpUri: `${docsUrl}docs/rules/${rule.id.replaceAll('/', '-')}.md` }),
    defaultConfiguration: { level: rule.severity },
    properties: { 'problem.severity': PROBLEM_SEVERITY[rule.severity], precision: 'high' },
  };
}

const PROBLEM_SEVERITY: Record<Severity, string> = { error: 'error', warning: 'warning', note: 'recommendation' };

/** Markdown paragraphs as plain text: line breaks inside a paragraph are only blanks. */
function plain(text: string): string {
  return text
    .split(/\n{2,}/)
    .map((paragraph) =>
      paragraph
        .split('\n')
        .map((line) => line.trim())
        .filter((line) => line !== '')
        .join(' '),
    )
    .join('\n\n');
}

/** The worst that a service takes, by their places. */
function keptFindings(all: readonly Finding[], context: ReportContext): Finding[] {
  const worst = all.length > SURELY_FIT ? worstFirst(all).slice(0, MOST_RESULTS) : [...all];
  if (worst.length > SURELY_FIT) {
    let bytes = 0;
    const over = worst.findIndex((finding) => {
      bytes += utf8.encode(JSON.stringify(resultOf(finding, context), null, 8)).length;
      return bytes > MOST_RESULT_BYTES;
    });
    if (over >= 0) worst.length = over;
  }
  return worst.sort(compareByPlace);
}

const utf8 = new TextEncoder();

function cutNotes(all: number, kept: number): Notification[] {
  const told: string[] = [];
  if (kept < all) told.push(`${all - kept} of ${all} results are left out, the least severe.`);
  if (kept > SHOWN_RESULTS) {
    told.push(
      `GitHub shows ${SHOWN_RESULTS} of ${kept} results, the most severe; \`kerflint check --format json\` has all.`,
    );
  }
  return told.map((text) => ({ level: 'warning', message: { text } }));
}

function resultOf(finding: Finding, { rules, rootInRepository, fixes }: ReportContext) {
  const proved = fixes?.get(finding.fingerprint) ?? [];
  const ruleIndex = rules.findIndex((rule) => rule.id === finding.rule);
  // A viewer shows a related place only where the message links to it, by its id.
  const links = finding.related.map((related, i) => `[${linkText(related.message)}](${i + 1})`);
  const text = [finding.message, ...finding.hints].map(escapeSarif).join('\n');
  return {
    ruleId: finding.rule,
    ...(ruleIndex < 0 ? {} : { ruleIndex }),
    level: finding.severity,
    message: { text: [text, ...links].join('\n') },
    locations: [{ physicalLocation: physical(finding.location, rootInRepository) }],
    ...(finding.related.length === 0
      ? {}
      : {
          relatedLocations: finding.related.map((related, i) => ({
            id: i + 1,
            physicalLocation: physical(related, rootInRepository),
            message: { text: escapeSarif(related.message) },
          })),
        }),
    partialFingerprints: { 'kerflint/v1': finding.fingerprint },
    suppressions: suppressionsOf(finding),
    ...(proved.length === 0 ? {} : { fixes: proved.map((fix) => fixOf(fix, rootInRepository)) }),
  };
}

function fixOf({ what, changes }: ReportedFix, rootInRepository: string) {
  return {
    description: { text: escapeSarif(what) },
    artifactChanges: changes.map(({ file, replacements }) => ({
      artifactLocation: { uri: relativeUri(rootInRepository + file) },
      replacements: replacements.map(({ place, text }) => ({
        deletedRegion: regionOf(place),
        // To be put into the file as it is: nothing of it is escaped for a reader.
        ...(text === '' ? {} : { insertedContent: { text } }),
      })),
    })),
  };
}

function linkText(message: string): string {
  return escapeTerminal(message).replace(/[\\[\]]/g, '\\$&');
}

function physical(at: Finding['location'], rootInRepository: string) {
  return {
    artifactLocation: { uri: relativeUri(rootInRepository + at.file) },
    region: regionOf(at),
  };
}

function regionOf({ line, column, endLine, endColumn }: Omit<Finding['location'], 'file'>) {
  return { startLine: line, startColumn: column, endLine, endColumn };
}

function suppressionsOf(finding: Finding) {
  if (finding.status === 'open') return [];
  const justification = finding.reason ?? (finding.status === 'baselined' ? 'in the baseline' : 'waived');
  return [{ kind: 'external', status: 'accepted', justification: escapeSarif(justification) }];
}

interface Notification {
  level: 'error' | 'warning' | 'note';
  message: { text: string };
  associatedRule?: { id: string; index?: number };
  locations?: { physicalLocation: { artifactLocation: { uri: string } } }[];
}

/** How it is told that a rule did not judge all that it should. */
const NOT_CHECKED: Record<NotChecked['kind'], { level: Notification['level']; words: string }> = {
  failed: { level: 'error', words: 'failed' },
  'ended-early': { level: 'warning', words: 'was not checked to the end' },
  'not-applicable': { level: 'note', words: 'had nothing to look at' },
};

/** What a viewer shows a headline as. */
const HEADLINE_LEVEL: Record<Verdict, Notification['level']> = { fail: 'error', incomplete: 'error', pass: 'note' };

/** The same thing not checked in many jobs is told once, with a count. */
function notifications(result: RunResult, { rules, rootInRepository }: ReportContext): Notification[] {
  const told: Notification[] = [];
  const jobsByRule = new Map<string, NotChecked & { jobs: string[] }>();
  for (const job of result.jobs) {
    const level = HEADLINE_LEVEL[job.verdict];
    told.push({ level, message: { text: escapeSarif(`${job.name}: ${job.headline}`) } });
    for (const reason of job.incomplete.slice(1)) {
      told.push({ level: 'error', message: { text: escapeSarif(`${job.name} was not judged: ${reason}`) } });
    }
    for (const { rule, kind, reason } of job.notChecked) {
      const key = `${rule}\n${kind}\n${reason}`;
      const entry = jobsByRule.get(key) ?? { rule, kind, reason, jobs: [] };
      entry.jobs.push(job.name);
      jobsByRule.set(key, entry);
    }
  }
  for (const { rule, kind, reason, jobs } of jobsByRule.values()) {
    const index = rules.findIndex((one) => one.id === rule);
    const where = jobs.length === 1 ? jobs[0] : formatCount(jobs.length, 'job');
    told.push({
      level: NOT_CHECKED[kind].level,
      message: { text: escapeSarif(`${rule} ${NOT_CHECKED[kind].words} in ${where}: ${reason}`) },
      ...(index < 0 ? {} : { associatedRule: { id: rule, index } }),
    });
  }
  for (const { path, reason, incomplete } of result.leftOut) {
    told.push({
      level: incomplete ? 'error' : 'warning',
      message: { text: escapeSarif(`${path} was not checked: ${reason}`) },
      locations: [{ physicalLocation: { artifactLocation: { uri: relativeUri(rootInRepository + path) } } }],
    });
  }
  return told;
}
