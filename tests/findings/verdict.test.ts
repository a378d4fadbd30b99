import { describe, expect, it } from 'vitest';
import type { Finding, Severity } from '../../src/findings/finding.ts';
import { sortAndDedupe, worstFirst } from '../../src/findings/sorting.ts';
import { exitCodeOf } from '../../src/findings/verdict.ts';
import { finding, job, run } from './results.ts';

const at = (file: string, line: number, change: Partial<Finding> = {}) =>
  finding({ location: { file, line, column: 1, endLine: line, endColumn: 1 }, ...change });

describe('order', () => {
  it('is by file, line, column, then rule', () => {
    const sorted = sortAndDedupe([at('b', 1), at('a', 10), at('a', 9, { rule: 'z/z' }), at('a', 9, { rule: 'a/a' })]);
    expect(sorted.map((one) => [one.location.file, one.location.line, one.rule])).toEqual([
      ['a', 9, 'a/a'],
      ['a', 9, 'z/z'],
      ['a', 10, 'cut/short-of-through'],
      ['b', 1, 'cut/short-of-through'],
    ]);
  });

  it('says once what was said twice at one place', () => {
    expect(sortAndDedupe([at('a', 1), at('a', 1), at('a', 1, { message: 'another' })])).toHaveLength(2);
  });

  it('for people puts open before set aside, and errors first', () => {
    const sorted = worstFirst([
      at('a', 1, { status: 'waived' }),
      at('a', 2, { severity: 'note' }),
      at('a', 3, { severity: 'warning' }),
      at('a', 4),
    ]);
    expect(sorted.map((one) => one.location.line)).toEqual([4, 3, 2, 1]);
  });
});

describe('the verdict', () => {
  it.each<[string, Parameters<typeof job>[0], string]>([
    ['no findings', {}, 'pass'],
    ['an open error', { findings: [finding()] }, 'fail'],
    ['a waived error', { findings: [finding({ status: 'waived' })] }, 'pass'],
    ['a baselined error', { findings: [finding({ status: 'baselined' })] }, 'pass'],
    ['an open warning', { findings: [finding({ severity: 'warning' })] }, 'pass'],
    ['a rule that did not apply', { notChecked: [{ rule: 'a/b', kind: 'not-applicable', reason: 'no lens' }] }, 'pass'],
    ['a rule not checked to the end', { notChecked: [{ rule: 'a/b', kind: 'ended-early', reason: 'x' }] }, 'pass'],
    ['a rule that failed', { notChecked: [{ rule: 'a/b', kind: 'failed', reason: 'x' }] }, 'incomplete'],
    [
      'an error and a reason for being incomplete',
      { findings: [finding()], incomplete: ['material unknown'] },
      'incomplete',
    ],
  ])('with %s', (_, change, verdict) => {
    expect(run([job(change), job()])).toMatchObject({ verdict, jobs: [{ verdict }, { verdict: 'pass' }] });
  });

  it('counts open findings, and apart from them what was set aside or not checked', () => {
    const findings = [
      finding(),
      finding({ severity: 'warning' }),
      finding({ status: 'waived' }),
      finding({ status: 'baselined' }),
    ];
    const notChecked = [{ rule: 'a/b', kind: 'not-applicable' as const, reason: 'no lens' }];
    expect(run([job({ findings, notChecked })], [{ file: 'x.svg', reason: 'no sidecar' }]).summary).toEqual({
      jobs: 1,
      errors: 1,
      warnings: 1,
      notes: 0,
      waived: 1,
      baselined: 1,
      notChecked: 2,
    });
  });
});

describe('the exit code', () => {
  const only = (severity: Severity) => run([job({ findings: [finding({ severity })] })]);
  it.each<[string, ReturnType<typeof run>, Severity, number | null, number]>([
    ['nothing', run([job()]), 'error', null, 0],
    ['no job at all', run([]), 'error', null, 0],
    ['an error', only('error'), 'error', null, 1],
    ['a warning', only('warning'), 'error', null, 0],
    ['a warning, failing on warnings', only('warning'), 'warning', null, 1],
    ['a note, failing on warnings', only('note'), 'warning', null, 0],
    ['a note, failing on notes', only('note'), 'note', null, 1],
    ['an error, failing on notes', only('error'), 'note', null, 1],
    ['a warning where none is borne', only('warning'), 'error', 0, 1],
    ['a warning where one is borne', only('warning'), 'error', 1, 0],
    ['incomplete without findings', run([job({ incomplete: ['x'] })]), 'error', null, 3],
    ['incomplete with an error', run([job({ incomplete: ['x'], findings: [finding()] })]), 'note', 0, 3],
  ])('for %s', (_, result, failOn, maxWarnings, code) => {
    expect(exitCodeOf(result, { failOn, maxWarnings })).toBe(code);
  });
});
