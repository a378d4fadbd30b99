import { describe, expect, it } from 'vitest';
import { MOST_RESULTS, SHOWN_RESULTS, sarif } from '../../src/report/ci/sarif.ts';
import { reportText } from '../../src/report/report-context.ts';
import { finding, job, run } from '../findings/results.ts';
import { CARD, context } from './context.ts';

const OTHER = { ...CARD, id: 'material/hazardous', why: 'x '.repeat(2000), caution: 'Ask for its data sheet.' };

function logOf(jobs: Parameters<typeof run>[0], change = {}, files: Parameters<typeof run>[1] = []) {
  const log = JSON.parse(reportText(sarif, run(jobs, files), context({ rules: [OTHER, CARD], ...change })));
  return log.runs[0];
}

describe('the SARIF report', () => {
  it('tells of all rules, also of those that found nothing', () => {
    const { rules } = logOf([job()]).tool.driver;
    expect(rules).toMatchObject([
      { id: 'material/hazardous', name: 'MaterialHazardous' },
      {
        id: 'cut/short-of-through',
        name: 'CutShortOfThrough',
        shortDescription: { text: CARD.summary },
        help: { markdown: expect.stringContaining(CARD.remedy), text: expect.stringContaining(CARD.remedy) },
        defaultConfiguration: { level: 'error' },
      },
    ]);
    expect(rules[0].fullDescription.text.length).toBeLessThanOrEqual(1024);
    expect(rules[0].help.text).toContain('Ask for its data sheet.');
  });

  it('links the page of a rule where it is known where pages are', () => {
    const { rules } = logOf([job()], { docsUrl: 'https://example.org/v1/' }).tool.driver;
    expect(rules[1].helpUri).toBe('https://example.org/v1/docs/rules/cut-short-of-through.md');
  });

  it('gives each result its rule, one full region and our fingerprint', () => {
    const run = logOf([job({ findings: [finding()] })], { rootInRepository: 'garden shed/' });
    expect(run.results).toEqual([
      {
        ruleId: 'cut/short-of-through',
        ruleIndex: 1,
        level: 'error',
        message: { text: finding().message },
        locations: [
          {
            physicalLocation: {
              artifactLocation: { uri: 'garden%20shed/signs/gate.gcode' },
              region: { startLine: 12, startColumn: 4, endLine: 12, endColumn: 8 },
            },
          },
        ],
        partialFingerprints: { 'kerflint/v1': '0123456789abcdef' },
        suppressions: [],
      },
    ]);
    expect(run.tool.driver.rules[run.results[0].ruleIndex].id).toBe(run.results[0].ruleId);
  });

  it('links related places from the message by their ids', () => {
    const related = [
      { file: 'm.machine.yaml', line: 3, column: 1, endLine: 3, endColumn: 9, message: 'the limit [50 W]' },
    ];
    const [result] = logOf([job({ findings: [finding({ related })] })]).results;
    expect(result.message.text.split('\n').at(-1)).toBe('[the limit \\[50 W\\]](1)');
    expect(result.relatedLocations).toMatchObject([
      { id: 1, physicalLocation: { artifactLocation: { uri: 'm.machine.yaml' } } },
    ]);
  });

  it('keeps what was set aside, as suppressed', () => {
    const findings = [finding({ status: 'waived', reason: 'proved on coupon 12' }), finding({ status: 'baselined' })];
    const { results } = logOf([job({ findings })]);
    expect(results.map((one: { suppressions: unknown }) => one.suppressions)).toEqual([
      [{ kind: 'external', status: 'accepted', justification: 'proved on coupon 12' }],
      [{ kind: 'external', status: 'accepted', justification: 'in the baseline' }],
    ]);
  });

  it('tells what was not checked, the same thing once', () => {
    const notApplicable = [{ rule: CARD.id, kind: 'not-applicable' as const, reason: 'no task cuts through' }];
    const failed = [{ rule: OTHER.id, kind: 'failed' as const, reason: 'no message "x"' }];
    const jobs = [
      job({ notChecked: notApplicable }),
      job({ name: 'tray', notChecked: [...notApplicable, ...failed], incomplete: ['the material is unknown'] }),
    ];
    const [invocation] = logOf(jobs, {}, [{ file: 'a b.svg', reason: 'no sidecar' }]).invocations;
    expect(invocation.executionSuccessful).toBe(false);
    expect(invocation.toolExecutionNotifications).toMatchObject([
      {
        level: 'note',
        message: {
          text: 'gate: Found no error in what was checked: the one cut is 3 % likely to part the sheet; 1 rule with nothing to look at.',
        },
      },
      { level: 'error', message: { text: 'tray: Not judged: the material is unknown (and 1 more reason).' } },
      {
        level: 'note',
        message: { text: `${CARD.id} had nothing to look at in 2 jobs: no task cuts through` },
        associatedRule: { index: 1 },
      },
      { level: 'error', message: { text: `${OTHER.id} failed in tray: no message "x"` }, associatedRule: { index: 0 } },
      { level: 'warning', locations: [{ physicalLocation: { artifactLocation: { uri: 'a%20b.svg' } } }] },
    ]);
  });

  it('keeps the worst of what may weigh more than GitHub takes, and says so', () => {
    const findings = [
      ...Array.from({ length: MOST_RESULTS }, (_, i) => finding({ severity: 'note', message: `No. ${i}.` })),
      finding({ message: 'The worst.' }),
    ];
    const text = reportText(sarif, run([job({ findings })]), context());
    const log = JSON.parse(text).runs[0];
    expect(text.length).toBeLessThan(10e6);
    expect(log.results.length).toBeGreaterThan(SHOWN_RESULTS);
    expect(log.results.some((one: { message: { text: string } }) => one.message.text === 'The worst.')).toBe(true);
    const [left, shown] = log.invocations[0].toolExecutionNotifications.map(
      (one: { message: { text: string } }) => one.message.text,
    );
    expect(left).toBe(`${25_001 - log.results.length} of 25001 results are left out, the least severe.`);
    expect(shown).toMatch(`GitHub shows 5000 of ${log.results.length} results`);
  });

  it('never has more results than GitHub takes, however short they are', () => {
    const short = finding({
      rule: 'a/b',
      severity: 'note',
      message: 'm',
      hints: [],
      location: { file: 'a', line: 1, column: 1, endLine: 1, endColumn: 1 },
    });
    const log = logOf([job({ findings: Array.from({ length: 2 * MOST_RESULTS }, () => short) })]);
    expect(log.results.length).toBeLessThanOrEqual(MOST_RESULTS);
  });

  it('is under the limit where every text is long', () => {
    const message = 'The beam does not come out on the other side. '.repeat(200);
    const text = reportText(
      sarif,
      run([job({ findings: Array.from({ length: 3000 }, () => finding({ message })) })]),
      context(),
    );
    expect(text.length).toBeLessThan(10e6);
  });

  it.each(['\ud800', '\u202e', '\u001b[31m', '##[error]x', '[x](https://example.org)', '\u0000'])(
    'stays sound with %j in any field',
    (evil) => {
      const location = { file: evil, line: 1, column: 1, endLine: 1, endColumn: 1 };
      const findings = [
        finding({
          message: evil,
          location,
          hints: [evil],
          related: [{ ...location, message: evil }],
          status: 'waived',
          reason: evil,
        }),
      ];
      const text = reportText(
        sarif,
        run([job({ name: evil, findings, incomplete: [evil] })], [{ file: evil, reason: evil }]),
        context(),
      );
      expect(text).not.toMatch(/[^\n\P{Cc}]|\p{Surrogate}|\u202e|##\[|[^\\]\]\(https/u);
      expect(JSON.stringify(JSON.parse(text))).not.toMatch(/(?<!\\)\\ud[89a-f]/);
    },
  );
});
