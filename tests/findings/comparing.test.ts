import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareResults } from '../../src/findings/comparing/compare.ts';
import type { Comparison } from '../../src/findings/comparing/comparison.ts';
import type { Finding, Severity } from '../../src/findings/finding.ts';
import type { JobResult, RunResult } from '../../src/findings/result.ts';
import { exitCodeOf } from '../../src/findings/verdict.ts';
import { countsIn, formatCount } from '../../src/units/format.ts';
import { finding, job, run } from './results.ts';

const ONCE = new Set(['lens/assumed']);
const compare = (
  base: JobResult[],
  now: JobResult[],
  options: { gate?: Comparison['gate']; isThere?: (file: string) => boolean } = {},
) =>
  compareResults(run(base), run(now), {
    oncePerRun: ONCE,
    isThere: options.isThere ?? (() => false),
    gate: options.gate ?? 'all',
  });
const of = (before: Finding[], after: Finding[]) =>
  compare([job({ findings: before })], [job({ findings: after })]).findings;
const at = (line: number, change: Partial<Finding> = {}) =>
  finding({ location: { file: 'signs/gate.gcode', line, column: 1, endLine: line, endColumn: 2 }, ...change });
const none = { new: 0, risen: 0, changed: 0, gone: 0, same: 0 };

describe('a finding', () => {
  it('that moved is the same', () => {
    expect(of([at(12)], [at(40)])).toEqual({ ...none, same: 1 });
  });

  it('whose line was written anew is the same as long as it says the same, and a duplicate more is new', () => {
    const a = at(12, { fingerprint: 'a' });
    expect(of([a], [at(12, { fingerprint: 'b' })])).toEqual({ ...none, same: 1 });
    expect(of([a], [a, at(13, { fingerprint: 'b' })])).toEqual({ ...none, same: 1, new: 1 });
    expect(of([a, at(13, { fingerprint: 'b' })], [a])).toEqual({ ...none, same: 1, gone: 1 });
  });

  it('of another rule, another file or another place that says something else is new, and the old one gone', () => {
    const old = at(12, { fingerprint: 'a', message: 'The cut is short.' });
    for (const other of [
      at(12, { fingerprint: 'b', message: 'The cut is short.', rule: 'cut/marginal' }),
      finding({ fingerprint: 'b', message: 'The cut is short.', location: { ...old.location, file: 'x.gcode' } }),
      at(30, { fingerprint: 'b', message: 'The rim is short.', excerpt: { startLine: 30, lines: ['G1 X9'] } }),
    ])
      expect(of([old], [other])).toEqual({ ...none, new: 1, gone: 1 });
  });

  it('that says other numbers, or something else of the same line, has changed', () => {
    expect(of([finding({ message: '4.1 mm of 6.0 mm' })], [finding({ message: '3.9 mm of 6.0 mm' })])).toEqual({
      ...none,
      changed: 1,
    });
    const line = { startLine: 12, lines: ['thickness: 6 mm'] };
    const before = finding({ fingerprint: 'a', excerpt: line, message: 'Fit the 2in lens.' });
    const after = finding({ fingerprint: 'b', excerpt: line, message: 'Use thinner stock.', messageId: 'other' });
    expect(of([before], [after])).toEqual({ ...none, changed: 1 });
  });

  it.each<[string, Partial<Finding>, Partial<Finding>, 'risen' | 'changed']>([
    ['graver', { severity: 'warning' }, { severity: 'error' }, 'risen'],
    ['less grave', { severity: 'error' }, { severity: 'warning' }, 'changed'],
    ['no longer waived', { status: 'waived' }, { status: 'open' }, 'risen'],
    ['no longer in the baseline', { status: 'baselined' }, { status: 'open' }, 'risen'],
    ['waived now', { status: 'open' }, { status: 'waived' }, 'changed'],
    ['of more things', { message: '1 outline is open.' }, { message: '3 outlines are open.' }, 'risen'],
    ['of fewer things', { message: '3 outlines are open.' }, { message: '1 outline is open.' }, 'changed'],
    ['of at least more', { message: 'at least 9 webs' }, { message: 'at least 12 webs' }, 'risen'],
    ['of a greater length', { message: '3 mm are missing' }, { message: '9 mm are missing' }, 'changed'],
    ['after more passes', { message: '3 mm after 1 pass' }, { message: '5 mm after 2 passes' }, 'changed'],
  ])('that is %s', (_, before, after, change) => {
    expect(of([finding(before)], [finding(after)])).toEqual({ ...none, [change]: 1 });
  });

  it('that speaks once a run may wander to another job', () => {
    const note = finding({ rule: 'lens/assumed', severity: 'note', fingerprint: 'n' });
    const [a, b] = [job({ name: 'a', sidecar: 'a.job.yaml' }), job({ name: 'b', sidecar: 'b.job.yaml' })];
    const { findings } = compare(
      [{ ...a, findings: [note] }, b],
      [a, { ...b, findings: [{ ...note, fingerprint: 'm' }] }],
    );
    expect(findings).toEqual({ ...none, same: 1 });
    // A graver one stands in each job, and does not wander.
    const graver = { ...note, severity: 'error' as const };
    expect(compare([a, b], [a, { ...b, findings: [graver] }]).findings).toEqual({ ...none, new: 1 });
  });
});

describe('a job', () => {
  const named = (name: string, change: Partial<JobResult> = {}) =>
    job({
      name,
      sidecar: `${name}.job.yaml`,
      files: { toolpath: `${name}.gcode` },
      findings: [
        finding({
          location: { file: `${name}.gcode`, line: 3, column: 1, endLine: 3, endColumn: 2 },
          message: `${name}.gcode: 4.1 mm of 6.0 mm`,
          fingerprint: `of ${name}`,
        }),
      ],
      ...change,
    });

  it('that was renamed is known by what is in its files, and so are its findings', () => {
    const { jobs, findings } = compare([named('gate')], [named('signs/entrance')]);
    expect(jobs).toMatchObject([{ name: 'signs/entrance', is: 'renamed', baseName: 'gate', findings: [] }]);
    expect(findings).toEqual({ ...none, same: 1 });
  });

  it('that was changed and moved to another folder is known by its name, unless several bear it', () => {
    const changed = { thicknessMm: 4 };
    expect(compare([named('a/gate')], [named('b/gate', changed)]).jobs).toMatchObject([{ is: 'renamed' }]);
    const two = compare([named('a/gate')], [named('b/gate', changed), named('c/gate', { thicknessMm: 3 })]);
    expect(two.jobs.map(({ name, is }) => [name, is])).toEqual([
      ['a/gate', 'gone'],
      ['b/gate', 'new'],
      ['c/gate', 'new'],
    ]);
  });

  it('that is new or gone brings and takes its findings; a copy is new', () => {
    expect(compare([], [named('gate')])).toMatchObject({ jobs: [{ is: 'new', before: null }], findings: { new: 1 } });
    expect(compare([named('gate')], [])).toMatchObject({ jobs: [{ is: 'gone', after: null }], findings: { gone: 1 } });
    const copied = compare([named('gate')], [named('gate'), named('gate2')]);
    expect(copied.jobs).toMatchObject([{ name: 'gate2', is: 'new' }]);
    expect(copied.findings).toEqual({ ...none, same: 1, new: 1 });
  });

  it('that is still there and was not part of the run is no loss', () => {
    const { jobs, notInRun, findings } = compare(
      [named('gate'), named('labels', { thicknessMm: 3 })],
      [named('gate')],
      {
        isThere: (file) => file === 'labels.job.yaml',
      },
    );
    expect({ jobs, notInRun, findings }).toEqual({ jobs: [], notInRun: 1, findings: { ...none, same: 1 } });
  });

  it('of which only numbers differ is told with both', () => {
    const slower = job();
    const { jobs, unchangedJobs, headline } = compare(
      [job()],
      [{ ...slower, toolpath: { ...slower.toolpath!, cutLengthMm: 9 } }],
    );
    expect(unchangedJobs).toBe(0);
    expect(jobs).toMatchObject([{ before: { lengthMm: 1812.4 }, after: { lengthMm: 9 }, findings: [] }]);
    expect(headline).toBe('Against the base: other numbers in 1 job.');
  });
});

describe('any run', () => {
  const findings = fc.array(
    fc
      .record({
        rule: fc.constantFrom('cut/marginal', 'cut/short-of-through', 'toolpath/open-cut'),
        severity: fc.constantFrom<Severity>('error', 'warning', 'note'),
        status: fc.constantFrom<Finding['status']>('open', 'waived', 'baselined'),
        line: fc.integer({ min: 1, max: 5 }),
        message: fc.constantFrom('3 webs are thin.', '4 webs are thin.', 'The rim is short.', '__proto__'),
      })
      .map(({ line, ...one }) => at(line, one)),
    { maxLength: 8 },
  );
  const jobs = fc
    .uniqueArray(fc.record({ name: fc.constantFrom('a', 'b', 'c', 'x/a', '__proto__'), findings }), {
      selector: ({ name }) => name,
    })
    .map((all) =>
      all
        .sort((a, b) => (a.name < b.name ? -1 : 1))
        .map(({ name, findings }) =>
          // As the reporter hands them out: each once in a job.
          job({
            name,
            sidecar: `${name}.job.yaml`,
            findings: findings.map((one, i) => ({ ...one, fingerprint: `${i % 4}${one.rule}` })),
          }),
        ),
    );

  it('has not changed since itself', () => {
    fc.assert(
      fc.property(jobs, (all) => {
        const { jobs, findings, headline } = compare(all, all);
        expect({ jobs, headline }).toEqual({ jobs: [], headline: 'Against the base: nothing has changed.' });
        expect(findings).toEqual({ ...none, same: all.flatMap((one) => one.findings).length });
      }),
    );
  });

  it('counts each finding of both runs once', () => {
    fc.assert(
      fc.property(jobs, jobs, (before, after) => {
        const { findings } = compare(before, after);
        const kept = findings.risen + findings.changed + findings.same;
        expect(findings.new + kept).toBe(after.flatMap((one) => one.findings).length);
        expect(findings.gone + kept).toBe(before.flatMap((one) => one.findings).length);
      }),
    );
  });
});

describe('where only what is new fails a run', () => {
  const level = { failOn: 'error', maxWarnings: null } as const;
  const exit = (
    base: JobResult[],
    now: JobResult[],
    limits: { failOn: Severity; maxWarnings: number | null } = level,
  ) => {
    const result: RunResult = { ...run(now), comparison: compare(base, now, { gate: 'new' }) };
    return exitCodeOf(result, limits);
  };
  const bad = job({ findings: [finding()] });

  it('what stood before does not, and without that option it does', () => {
    expect(exit([bad], [bad])).toBe(0);
    expect(exitCodeOf({ ...run([bad]), comparison: compare([bad], [bad]) }, level)).toBe(1);
    expect(exitCodeOf(run([bad]), level)).toBe(1);
  });

  it('what is new, graver or more often there does', () => {
    expect(exit([job()], [bad])).toBe(1);
    expect(exit([job({ findings: [finding({ severity: 'warning' })] })], [bad])).toBe(1);
    expect(exit([job({ findings: [finding({ status: 'waived' })] })], [bad])).toBe(1);
    expect(exit([bad], [job({ findings: [finding(), at(3, { fingerprint: 'b' })] })])).toBe(1);
    const webs = (count: number) => job({ findings: [finding({ message: `${count} webs are thin.` })] });
    expect([exit([webs(3)], [webs(4)]), exit([webs(4)], [webs(3)])]).toEqual([1, 0]);
  });

  it('what is new and waived, or below the level, does not', () => {
    expect(exit([job()], [job({ findings: [finding({ status: 'waived' })] })])).toBe(0);
    const warned = job({ findings: [finding({ severity: 'warning' })] });
    expect(exit([job()], [warned])).toBe(0);
    expect(exit([job()], [warned], { failOn: 'warning', maxWarnings: null })).toBe(1);
    expect(exit([job()], [warned], { failOn: 'error', maxWarnings: 0 })).toBe(1);
    expect(exit([warned], [warned], { failOn: 'error', maxWarnings: 0 })).toBe(0);
  });

  it('what could not be judged stays incomplete', () => {
    const unjudged = job({ incomplete: ['the material is unknown'] });
    expect(exit([unjudged], [unjudged])).toBe(3);
  });
});

describe('counts in a message', () => {
  it('are read back as they were written', () => {
    for (const [one, many] of [['web'], ['hole or slot', 'holes or slots'], ['patch', 'patches'], ['piece']] as const)
      for (const count of [0, 1, 2, 12345])
        expect([...countsIn(`There: ${formatCount(count, one, many)} here.`).values()]).toEqual([count]);
    expect(countsIn('6.0 mm of 4 W at 12 mm/s, 3.0–5 mm, 2 passes')).toEqual(new Map());
  });
});
