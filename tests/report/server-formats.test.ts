// What a rule's finding, a rule that failed, a job that was not judged and a file that was left out become for the servers' formats.

import { describe, expect, it } from 'vitest';
import { CAUTION } from '../../src/findings/caution.ts';
import { withVerdicts } from '../../src/findings/run-tally.ts';
import { checkstyle } from '../../src/report/ci/checkstyle.ts';
import { codequality } from '../../src/report/ci/codequality.ts';
import { junit } from '../../src/report/ci/junit.ts';
import { reportText } from '../../src/report/report-context.ts';
import { oneline } from '../../src/report/text/oneline.ts';
import { finding, job, run } from '../findings/results.ts';
import { fitsCodeQuality } from './code-quality-schema.ts';
import { context } from './context.ts';
import { type ReadElement, readXml } from './xml-reader.ts';

const RULES = ['cut/short-of-through', 'cut/marginal', 'toolpath/tip-up', 'order/inner-last', 'focus/lens-assumed'].map(
  (id) => ({ ...context().rules[0]!, id }),
);
const FAIL_ON_WARNING = { failOn: 'warning', maxWarnings: null } as const;
const marginal = finding({
  rule: 'cut/marginal',
  severity: 'warning',
  message: 'It may part.',
  fingerprint: '1'.repeat(16),
});

const result = run([
  job({
    findings: [finding(), marginal, finding({ rule: 'toolpath/tip-up', status: 'waived', reason: 'held by tape' })],
    notChecked: [
      { rule: 'order/inner-last', kind: 'not-applicable', reason: 'nothing is cut inside another' },
      { rule: 'focus/lens-assumed', kind: 'failed', reason: 'it threw' },
    ],
  }),
  job({ name: 'tray', findings: [], incomplete: ['the material is not stated: name it in the sidecar'] }),
]);
const withLeftOut = withVerdicts({
  ...result,
  leftOut: [{ path: 'inbox/lost.nc', kind: 'toolpath', reason: 'a link: a search follows none', incomplete: true }],
});

const testsOf = (text: string, suite: string): Record<string, ReadElement> =>
  Object.fromEntries(
    readXml(text)
      .children.find(({ attributes }) => attributes['name'] === suite)!
      .children.filter(({ name }) => name === 'testcase')
      .map((test) => [test.attributes['name'], test]),
  );
const outcomes = (tests: Record<string, ReadElement>) =>
  Object.fromEntries(Object.entries(tests).map(([name, test]) => [name, test.children[0]?.name ?? 'passed']));

describe('junit', () => {
  it('has a suite a job and a test a rule: failed, not checked, with nothing to look at, or passed', () => {
    const tests = testsOf(reportText(junit, result, context({ rules: RULES })), 'gate');
    expect(outcomes(tests)).toEqual({
      judged: 'error',
      'cut/short-of-through': 'failure',
      'cut/marginal': 'system-out',
      'toolpath/tip-up': 'system-out',
      'order/inner-last': 'skipped',
      'focus/lens-assumed': 'error',
    });
    expect(tests['cut/short-of-through']!.children[0]!.text).toContain('signs/gate.gcode:12:4: error: Predicted depth');
    expect(tests['toolpath/tip-up']!.children[0]!.text).toContain('(waived: held by tape)');
  });

  it('fails from the severity on that the exit code goes by', () => {
    const tests = testsOf(reportText(junit, result, context({ rules: RULES, failLevel: FAIL_ON_WARNING })), 'gate');
    expect(outcomes(tests)['cut/marginal']).toBe('failure');
  });

  it('tells a job that was not judged as an error, with the reason', () => {
    const { judged } = testsOf(reportText(junit, result, context()), 'tray');
    expect(judged!.children[0]!.name).toBe('error');
    expect(judged!.children[0]!.text).toContain('the material is not stated');
  });

  it('tells files that the run is incomplete for, and more warnings than are allowed, in a suite of its own', () => {
    const failLevel = { failOn: 'error', maxWarnings: 0 } as const;
    const tests = testsOf(reportText(junit, withLeftOut, context({ failLevel })), 'kerflint');
    expect(outcomes(tests)).toEqual({ 'inbox/lost.nc': 'error', 'max-warnings': 'failure' });
  });

  it('counts what it holds', () => {
    const suites = readXml(reportText(junit, withLeftOut, context({ rules: RULES }))).children;
    const errors = suites.map(({ attributes, children }) => {
      const tests = children.filter(({ name }) => name === 'testcase');
      const count = (name: string) => tests.filter((test) => test.children[0]?.name === name).length;
      expect(attributes).toMatchObject({
        tests: String(tests.length),
        failures: String(count('failure')),
        errors: String(count('error')),
        skipped: String(count('skipped')),
      });
      return [attributes['name'], count('error')];
    });
    expect(errors).toEqual([
      ['gate', 2],
      ['tray', 1],
      ['kerflint', 1],
    ]);
  });
});

describe('codequality', () => {
  it('has an issue for each open finding and for what was not judged, errors as critical, warnings as major', () => {
    const issues = JSON.parse(reportText(codequality, withLeftOut, context({ rootInRepository: 'shop/' })));
    expect(fitsCodeQuality(issues), JSON.stringify(fitsCodeQuality.errors)).toBe(true);
    expect(issues.map((one: Record<string, unknown>) => [one['check_name'], one['severity']])).toEqual([
      ['not-judged', 'critical'],
      ['cut/short-of-through', 'critical'],
      ['cut/marginal', 'major'],
      ['not-judged', 'critical'],
      ['not-judged', 'critical'],
    ]);
    expect(issues[2].location).toEqual({ path: 'shop/signs/gate.gcode', lines: { begin: 12 } });
    expect(issues[2].content.body).toContain(CAUTION);
  });

  it('keeps two findings of one fingerprint apart', () => {
    const issues = JSON.parse(
      reportText(codequality, run([job({ findings: [finding()] }), job({ findings: [finding()] })]), context()),
    );
    expect(new Set(issues.map((one: { fingerprint: string }) => one.fingerprint)).size).toBe(2);
  });
});

describe('checkstyle', () => {
  it('has the errors of a file under the file, job by job', () => {
    const root = readXml(reportText(checkstyle, withLeftOut, context()));
    expect(root.children.map(({ attributes, children }) => [attributes['name'], children.length])).toEqual([
      ['signs/gate.job.yaml', 1],
      ['signs/gate.gcode', 2],
      ['signs/gate.job.yaml', 1],
      ['inbox/lost.nc', 1],
    ]);
    expect(root.children[1]!.children[1]!.attributes).toEqual({
      line: '12',
      column: '4',
      severity: 'warning',
      message: 'It may part.',
      source: 'kerflint.cut/marginal',
    });
  });

  it('has a comment that two hyphens do not end', () => {
    const text = reportText(checkstyle, run([job({ name: 'a--b', incomplete: ['it--is -->'] })]), context());
    expect(readXml(text).name).toBe('checkstyle');
  });
});

describe('oneline', () => {
  it('writes what compilers write', () => {
    const lines = reportText(oneline, withLeftOut, context()).trimEnd().split('\n');
    expect(lines).toContain('signs/gate.gcode:12:4: warning: It may part. [cut/marginal]');
    expect(lines).toContain(
      'inbox/lost.nc:1:1: error: inbox/lost.nc was not judged: a link: a search follows none [not-judged]',
    );
    // The problem matcher of docs/ci.md.
    const matcher = /^(.+):(\d+):(\d+): (error|warning|note): (.*) \[([^\]]+)\]$/;
    expect(lines.slice(0, -2).every((line) => matcher.test(line))).toBe(true);
    expect(lines.at(-2)).toBe(`kerflint: ${withLeftOut.headline}`);
  });
});
