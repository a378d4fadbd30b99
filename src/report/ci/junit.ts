import { CAUTION } from '../../findings/caution.ts';
import { gatedCounts, gatedFindings } from '../../findings/comparing/brought.ts';
import { type Finding, SEVERITIES } from '../../findings/finding.ts';
import { reasonsNotJudged } from '../../findings/headline.ts';
import type { JobResult, LeftOutFile, RunEnd } from '../../findings/result.ts';
import { formatCount } from '../../units/format.ts';
import { escapeXml } from '../escape.ts';
import type { Format, ReportContext } from '../report-context.ts';
import { placeText } from '../result-texts.ts';

/**
 * The XML that servers read as test results: a suite a job, in it a test a rule. A rule fails where an open finding of it is at or
 * above `--fail-on`; lesser findings, and those set aside, stand in the output of a test that passes. A rule that failed or did not look
 * at everything, and a job that could not be judged, are errors; a rule with nothing to look at was skipped. The last suite is that of the
 * run: its headline, and what belongs to no job. There is no official schema; `docs/ci.md` says whose reading this is held against.
 */
export const junit: Format = {
  open(context, start) {
    const gated = gatedFindings(start);
    let opening = '<?xml version="1.0" encoding="UTF-8"?>\n<testsuites name="kerflint">\n';
    let jobs = 0;
    const opened = (text: string) => {
      const all = opening + text;
      opening = '';
      return all;
    };
    return {
      job(job) {
        jobs++;
        return opened(suiteText(suiteOfJob(job, gated, context)));
      },
      end: (run) => [opened(suiteText(suiteOfRun(run, jobs, context))), '</testsuites>\n'],
    };
  },
};

function suiteText({ name, headline, tests }: Suite): string {
  const properties = `<properties>\n      <property name="headline" value="${escapeXml(headline)}"/>\n      <property name="caution" value="${escapeXml(CAUTION)}"/>\n    </properties>`;
  const texts = tests.map((test) => testText(name, test)).join('');
  return `  <testsuite name="${escapeXml(name)}" ${countsOf(tests)}>\n    ${properties}\n${texts}  </testsuite>\n`;
}

interface Suite {
  readonly name: string;
  readonly headline: string;
  readonly tests: readonly Test[];
}

interface Test {
  readonly name: string;
  readonly file: string | null;
  readonly outcome: 'passed' | 'failure' | 'error' | 'skipped';
  /** One line, for a list of tests. */
  readonly message: string;
  readonly lines: readonly string[];
}

type Gated = ReturnType<typeof gatedFindings>;

function suiteOfJob(job: JobResult, gated: Gated, { rules, failLevel }: ReportContext): Suite {
  const home = job.sidecar ?? job.files.toolpath ?? job.files.artwork ?? null;
  const ids = new Set([
    ...rules.map(({ id }) => id),
    ...job.findings.map(({ rule }) => rule),
    ...job.notChecked.map(({ rule }) => rule),
  ]);
  const reached = SEVERITIES.slice(0, SEVERITIES.indexOf(failLevel.failOn) + 1);
  const judged = reasonsNotJudged(job);
  const whole: Test = {
    name: 'judged',
    file: home,
    outcome: job.verdict === 'incomplete' ? 'error' : 'passed',
    message: job.headline,
    lines: job.verdict === 'incomplete' ? judged : [job.headline],
  };
  const { name, headline } = job;
  const fails = (one: Finding) => gated(job, one) && reached.includes(one.severity);
  return { name, headline, tests: [whole, ...[...ids].map((rule) => testOfRule(rule, job, home, fails))] };
}

function testOfRule(name: string, job: JobResult, home: string | null, fails: (one: Finding) => boolean): Test {
  const findings = job.findings.filter(({ rule }) => rule === name);
  const failing = findings.filter(fails);
  const missed = job.notChecked.find(({ rule }) => rule === name);
  const lines = [...findings.map(findingText), ...(missed ? [missed.reason] : [])];
  const file = (failing[0] ?? findings[0])?.location.file ?? home;
  if (failing.length > 0) {
    const more = failing.length > 1 ? ` (and ${failing.length - 1} more)` : '';
    return { name, file, outcome: 'failure', message: `${failing[0]!.message}${more}`, lines };
  }
  if (missed === undefined) return { name, file, outcome: 'passed', message: '', lines };
  return { name, file, outcome: missed.kind === 'not-applicable' ? 'skipped' : 'error', message: missed.reason, lines };
}

function findingText(finding: Finding): string {
  const aside = finding.status === 'open' ? '' : ` (${finding.status}${finding.reason ? `: ${finding.reason}` : ''})`;
  return `${placeText(finding)}: ${finding.severity}: ${[finding.message, ...finding.hints].join(' ')}${aside}`;
}

/** What belongs to no job: the headline, files that were not judged, and more warnings than are allowed. */
function suiteOfRun(run: RunEnd, jobs: number, { failLevel }: ReportContext): Suite {
  const { leftOut, headline, verdict } = run;
  const { maxWarnings } = failLevel;
  const tests: Test[] = leftOut.filter(({ incomplete, changed }) => incomplete || changed).map(testOfLeftOut);
  if (maxWarnings !== null) {
    const { warning: warnings } = gatedCounts(run);
    const message = `${formatCount(warnings, 'warning')}, ${maxWarnings} allowed`;
    const outcome = warnings > maxWarnings ? 'failure' : 'passed';
    tests.push({ name: 'max-warnings', file: null, outcome, message, lines: [message] });
  }
  if (jobs === 0) {
    const outcome = verdict === 'incomplete' ? 'error' : 'skipped';
    tests.push({ name: 'judged', file: null, outcome, message: headline, lines: [headline] });
  }
  return { name: 'kerflint', headline, tests };
}

function testOfLeftOut({ path, reason, incomplete }: LeftOutFile): Test {
  const outcome = incomplete ? 'error' : 'skipped';
  const message = `${path} was not judged: ${reason}`;
  return { name: path, file: path, outcome, message, lines: [message] };
}

function countsOf(tests: readonly Test[]): string {
  const count = (outcome: Test['outcome']) => tests.filter((test) => test.outcome === outcome).length;
  return `tests="${tests.length}" failures="${count('failure')}" errors="${count('error')}" skipped="${count('skipped')}" time="0"`;
}

function testText(suite: string, { name, file, outcome, message, lines }: Test): string {
  const at = file === null ? '' : ` file="${escapeXml(file)}"`;
  const open = `    <testcase name="${escapeXml(name)}" classname="${escapeXml(suite)}"${at} time="0"`;
  const body = lines.map(escapeXml).join('\n');
  if (outcome === 'skipped') return `${open}>\n      <skipped message="${escapeXml(message)}"/>\n    </testcase>\n`;
  if (outcome === 'passed') {
    return lines.length === 0 ? `${open}/>\n` : `${open}>\n      <system-out>${body}</system-out>\n    </testcase>\n`;
  }
  const kind = `<${outcome} message="${escapeXml(message)}" type="${escapeXml(name)}">${body}</${outcome}>`;
  return `${open}>\n      ${kind}\n    </testcase>\n`;
}
