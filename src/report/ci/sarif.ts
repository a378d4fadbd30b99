import type { Finding, NotChecked, Severity } from '../../findings/finding.ts';
import type { JobResult, RunEnd, Verdict } from '../../findings/result.ts';
import { compareByPlace, compareWorstFirst, type Ordered } from '../../findings/sorting.ts';
import { FirstKept } from '../../units/first-kept.ts';
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
export const sarif: Format = {
  open(context, { tool }) {
    const results = new KeptResults(context);
    const notifications = new Notifications(context);
    return {
      job(job) {
        for (const finding of job.findings) results.take(finding);
        notifications.take(job);
        return '';
      },
      *end(run) {
        const { kept, all } = results;
        const log = {
          $schema: SCHEMA,
          version: '2.1.0',
          runs: [
            {
              tool: {
                driver: {
                  name: tool.name,
                  version: tool.version,
                  semanticVersion: tool.version,
                  ...(context.docsUrl === null ? {} : { informationUri: `${context.docsUrl}README.md` }),
                  rules: context.rules.map((rule) => ruleOf(rule, context)),
                },
              },
              columnKind: 'utf16CodeUnits',
              invocations: [
                {
                  executionSuccessful: run.verdict !== 'incomplete',
                  toolExecutionNotifications: [],
                },
              ],
              properties: { headline: escapeSarif(run.headline), caution: escapeSarif(run.caution) },
              results: [],
            },
          ],
        };
        // Both lists are written one by one in the places of the empty ones. Inside a text their quotation marks would be escaped.
        const [opening, between, closing] = lines(log).split(/(?<="(?:toolExecutionNotifications|results)": )\[\]/);
        yield opening!;
        const told = function* () {
          for (const one of [...cutNotes(all, kept), ...notifications.all(run)])
            yield itemText(one, NOTIFICATION_INDENT);
        };
        yield* listText(told(), NOTIFICATION_INDENT);
        yield between!;
        yield* listText(results.texts(), RESULT_INDENT);
        yield `${closing}\n`;
      },
    };
  },
};

/** Before each line of a result; what it takes counts in the size of the file. */
const RESULT_INDENT = '        ';
/** Likewise of a notification. */
const NOTIFICATION_INDENT = '            ';

/** One item of a list, with the line break ahead of it. */
function itemText(item: unknown, indent: string): string {
  return `\n${lines(item)}`.replaceAll('\n', `\n${indent}`);
}

/** A list of such items, piece by piece. */
function* listText(items: Iterable<string>, indent: string): Iterable<string> {
  let mark = '[';
  for (const item of items) {
    yield mark + item;
    mark = ',';
  }
  yield mark === '[' ? '[]' : `\n${indent.slice(2)}]`;
}

function lines(value: unknown): string {
  return jsonText(JSON.stringify(value, (_, one) => (typeof one === 'string' ? wellFormed(one) : one), 2));
}

/** The worst results that a service takes, as text; the others are counted. */
class KeptResults {
  readonly #context: ReportContext;
  readonly #worst = new FirstKept<KeptResult>(MOST_RESULTS, (a, b) => compareWorstFirst(a.ordered, b.ordered));
  /** The first by their order that did not fit: nothing behind it is shown, though there were room. */
  #cutAt: Ordered | null = null;
  #bytes = 0;
  /** How many there were. */
  all = 0;

  constructor(context: ReportContext) {
    this.#context = context;
  }

  take(finding: Finding): void {
    this.all++;
    if (this.#cutAt !== null && compareWorstFirst(finding, this.#cutAt) >= 0) return;
    const bytes = utf8.encode(itemText(resultOf(finding, this.#context), RESULT_INDENT));
    this.#bytes += bytes.length;
    const { status, severity, location, rule, messageId, message } = finding;
    const added = this.#worst.add({ ordered: { status, severity, location, rule, messageId, message }, bytes });
    for (let out = added ?? this.#overflow(); out !== null; out = this.#overflow()) {
      this.#bytes -= out.bytes.length;
      this.#cutAt = out.ordered;
    }
  }

  #overflow(): KeptResult | null {
    return this.all > SURELY_FIT && this.#bytes > MOST_RESULT_BYTES ? this.#worst.dropLast() : null;
  }

  get kept(): number {
    return this.#worst.size;
  }

  /** By their places. */
  *texts(): Iterable<string> {
    const kept = this.#worst.sorted().sort((a, b) => compareByPlace(a.ordered, b.ordered));
    for (const { bytes } of kept) yield utf8Text.decode(bytes);
  }
}

/** One of thousands: of the finding no more is kept than its order rests on. */
interface KeptResult {
  ordered: Ordered;
  /** What it takes in the file, with the line break ahead of it. As a text it would take twice as much. */
  bytes: Uint8Array;
}

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

const utf8 = new TextEncoder();
const utf8Text = new TextDecoder('utf-8', { ignoreBOM: true });

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

/** What is told of jobs, rules and files. The same thing not checked in many jobs is told once, with a count. */
class Notifications {
  readonly #context: ReportContext;
  readonly #ofJobs: Notification[] = [];
  readonly #notChecked = new Map<string, NotChecked & { job: string; jobs: number }>();

  constructor(context: ReportContext) {
    this.#context = context;
  }

  take(job: JobResult): void {
    const level = HEADLINE_LEVEL[job.verdict];
    this.#ofJobs.push({ level, message: { text: escapeSarif(`${job.name}: ${job.headline}`) } });
    for (const reason of job.incomplete.slice(1)) {
      this.#ofJobs.push({ level: 'error', message: { text: escapeSarif(`${job.name} was not judged: ${reason}`) } });
    }
    for (const { rule, kind, reason } of job.notChecked) {
      const key = `${rule}\n${kind}\n${reason}`;
      const entry = this.#notChecked.get(key);
      if (entry) entry.jobs++;
      else this.#notChecked.set(key, { rule, kind, reason, job: job.name, jobs: 1 });
    }
  }

  all({ leftOut }: Pick<RunEnd, 'leftOut'>): Notification[] {
    const { rules, rootInRepository } = this.#context;
    const ofRules = [...this.#notChecked.values()].map(({ rule, kind, reason, job, jobs }): Notification => {
      const index = rules.findIndex((one) => one.id === rule);
      const where = jobs === 1 ? job : formatCount(jobs, 'job');
      return {
        level: NOT_CHECKED[kind].level,
        message: { text: escapeSarif(`${rule} ${NOT_CHECKED[kind].words} in ${where}: ${reason}`) },
        ...(index < 0 ? {} : { associatedRule: { id: rule, index } }),
      };
    });
    const ofFiles = leftOut.map(
      ({ path, reason, incomplete }): Notification => ({
        level: incomplete ? 'error' : 'warning',
        message: { text: escapeSarif(`${path} was not checked: ${reason}`) },
        locations: [{ physicalLocation: { artifactLocation: { uri: relativeUri(rootInRepository + path) } } }],
      }),
    );
    return [...this.#ofJobs, ...ofRules, ...ofFiles];
  }
}
