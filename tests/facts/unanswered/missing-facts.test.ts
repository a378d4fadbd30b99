import { describe, expect, it } from 'vitest';
import { missingFacts } from '../../../src/facts/unanswered/missing-facts.ts';
import { eachOnce } from '../../../src/facts/unanswered/unanswered.ts';
import { at, plannedTask, sidecar } from '../../rules/build-job.ts';

const NOTHING = { machine: null, material: null, thickness: null };
const ALL = { machine: 'shed-60w', material: 'mdf', thickness: { mm: 3, plusMinusMm: null, nominal: false } };

/** A job found with a sidecar, with one that could not be read (null), or with bare files (undefined). */
const found = (value: ReturnType<typeof sidecar> | null | undefined) => ({
  name: 'coaster',
  sidecar: value === undefined ? null : { file: 'coaster.job.yaml', value, problems: [], placeOf: sidecar().placeOf },
  sidecarSource: null,
  toolpath: null,
  artwork: null,
  beside: [],
  machinePath: null,
  problems: [],
});

describe('what every job must state', () => {
  it('is given by an option or a sidecar where the files are bare', () => {
    expect(missingFacts(found(undefined), NOTHING)).toEqual([
      {
        fact: 'machine',
        what: 'what the machine does, and whether the sheet parts',
        missing: 'no machine is named',
        remedy: 'Give `--machine <id>`, or write a sidecar (`kerflint init`).',
      },
      {
        fact: 'material',
        what: 'what the sheet gives off, and whether the sheet parts',
        missing: 'no material is named',
        remedy: 'Give `--material <id>`, or write a sidecar (`kerflint init`).',
      },
      {
        fact: 'thickness',
        what: 'whether the sheet parts',
        missing: 'no thickness is given',
        remedy: 'Measure the sheet: give `--thickness "6.0 mm"`, or write a sidecar (`kerflint init`).',
      },
    ]);
  });

  it('is written in the sidecar where that has no such line, and filled in where the line waits', () => {
    const unfilled = [
      { key: 'task 1, power', location: at('coaster.job.yaml', 9) },
      { key: 'material', location: at('coaster.job.yaml', 4) },
      { key: 'thickness', location: at('coaster.job.yaml', 5) },
    ];
    expect(missingFacts(found(sidecar({ unfilled })), NOTHING).map(({ remedy }) => remedy)).toEqual([
      'Write `machine: <id>` in coaster.job.yaml.',
      'Fill in `material:` on line 4 of coaster.job.yaml.',
      'Measure the sheet: fill in `thickness:` on line 5 of coaster.job.yaml.',
    ]);
    expect(missingFacts(found(sidecar()), NOTHING)[2]!.remedy).toBe(
      'Measure the sheet: write `thickness: 6.0 mm` in coaster.job.yaml.',
    );
  });

  it('is asked for only as far as it is missing', () => {
    const facts = (stated: Parameters<typeof missingFacts>[1]) =>
      missingFacts(found(sidecar()), stated).map(({ fact }) => fact);
    expect(facts(ALL)).toEqual([]);
    expect(facts({ ...ALL, machine: null })).toEqual(['machine']);
    expect(facts({ ...ALL, material: null })).toEqual(['material']);
    expect(facts({ ...ALL, thickness: null })).toEqual(['thickness']);
  });

  it('is not asked for of a sidecar that cannot be read: that is said already', () => {
    expect(missingFacts(found(null), NOTHING)).toEqual([]);
  });

  it('is no thickness where all tasks only mark areas', () => {
    const mark = plannedTask({ aim: 'surface' });
    const facts = (...tasks: ReturnType<typeof plannedTask>[]) =>
      missingFacts(found(sidecar({ tasks })), NOTHING).map(({ fact }) => fact);
    expect(facts(mark, mark)).toEqual(['machine', 'material']);
    expect(facts(mark, plannedTask())).toContain('thickness');
    expect(facts(plannedTask({ aim: 'groove' }))).toContain('thickness');
    expect(facts()).toContain('thickness');
  });
});

it('a fact that is missing is told once, with the first question that hangs on it', () => {
  const one = { fact: 'lens', what: 'the spot', missing: 'no lens is named', remedy: 'Name it.' } as const;
  const other = { ...one, missing: 'no tube is named' };
  expect(eachOnce([one, other, { ...one, what: 'the depth' }])).toEqual([one, other]);
});
