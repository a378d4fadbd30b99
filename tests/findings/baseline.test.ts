import { describe, expect, it } from 'vitest';
import {
  type Baseline,
  BaselineCounts,
  baselineText,
  covered,
  prunedBaseline,
  readBaseline,
  renewedBaseline,
  unusedCount,
} from '../../src/findings/baseline.ts';
import { finding, job, run } from './results.ts';

const SAFETY = new Set(['material/hazardous']);
const at = (file: string, line: number, rule = 'cut/marginal') =>
  finding({ rule, location: { file, line, column: 1, endLine: line, endColumn: 1 } });
const RESULT = run([job({ findings: [at('a', 1), at('a', 9), at('b', 1), at('b', 2, 'material/hazardous')] })]);
const statuses = (result: typeof RESULT) => result.jobs.flatMap((one) => one.findings.map((each) => each.status));

function counted({ jobs }: typeof RESULT): BaselineCounts {
  const counts = new BaselineCounts(SAFETY);
  for (const one of jobs) counts.take(one);
  return counts;
}

function applyBaseline(result: typeof RESULT, baseline: Baseline): typeof RESULT {
  const { present } = counted(result);
  return run(result.jobs.map((one) => covered(one, baseline, present)));
}

function baseline(counts: Record<string, Record<string, number>>) {
  const parsed = readBaseline(JSON.stringify({ kerflint: 1, findings: counts }));
  if (!parsed.ok) throw new Error(parsed.problem);
  return parsed.value;
}

describe('a baseline', () => {
  it('bears what it counts, wherever in the file it stands', () => {
    const borne = applyBaseline(RESULT, baseline({ a: { 'cut/marginal': 2 } }));
    expect(statuses(borne)).toEqual(['baselined', 'baselined', 'open', 'open']);
    expect(borne.summary).toMatchObject({ errors: 2, baselined: 2 });
  });

  it('bears nothing of a rule that has more findings than it counts', () => {
    expect(statuses(applyBaseline(RESULT, baseline({ a: { 'cut/marginal': 1 } })))).toEqual([
      'open',
      'open',
      'open',
      'open',
    ]);
  });

  it('never bears a rule of safety', () => {
    const borne = applyBaseline(RESULT, baseline({ b: { 'material/hazardous': 9 } }));
    expect(statuses(borne)).toEqual(['open', 'open', 'open', 'open']);
    expect(baselineText(counted(RESULT).present)).not.toContain('hazardous');
  });

  it('leaves a waived finding waived, with its reason, and does not count it', () => {
    const waived = { ...at('a', 1), status: 'waived' as const, reason: 'proved on coupon 12' };
    const result = run([job({ findings: [waived, at('a', 9)] })]);
    expect(baselineText(counted(result).present)).toContain('"cut/marginal": 1');
    const borne = applyBaseline(result, baseline({ a: { 'cut/marginal': 2 } }));
    expect(statuses(borne)).toEqual(['waived', 'baselined']);
    expect(borne.jobs[0]!.findings[0]).toEqual(waived);
    expect(borne.summary).toMatchObject({ waived: 1, baselined: 1 });
  });

  it('makes the verdict of what is left', () => {
    const all = baseline({ a: { 'cut/marginal': 2 } });
    const result = run([job({ findings: [at('a', 1)] })]);
    expect([result.verdict, applyBaseline(result, all).verdict]).toEqual(['fail', 'pass']);
  });

  it('is written sorted and read back the same', () => {
    const text = baselineText(counted(RESULT).present);
    expect(text).toBe(`{
  "kerflint": 1,
  "findings": {
    "a": {
      "cut/marginal": 2
    },
    "b": {
      "cut/marginal": 1
    }
  }
}
`);
    const parsed = readBaseline(text);
    expect(parsed.ok && baselineText(parsed.value)).toBe(text);
  });

  it('is pruned down to what is there, but not for files that the run did not check', () => {
    const before = baseline({ a: { 'cut/marginal': 5, 'cut/gone': 1 }, other: { x: 2 }, deleted: { x: 1 } });
    const after = prunedBaseline(before, counted(RESULT).present, new Set(['a']), (file) => file === 'deleted');
    expect(JSON.parse(baselineText(after)).findings).toEqual({ a: { 'cut/marginal': 2 }, other: { x: 2 } });
    expect(unusedCount(before, counted(RESULT).present, new Set(['a']))).toBe(4);
  });

  it('is never raised by pruning', () => {
    const after = prunedBaseline(
      baseline({ a: { 'cut/marginal': 1 } }),
      counted(RESULT).present,
      new Set(['a']),
      () => false,
    );
    expect(JSON.parse(baselineText(after)).findings).toEqual({ a: { 'cut/marginal': 1 } });
  });

  it('when written anew keeps the counts of files that the run did not check', () => {
    const after = renewedBaseline(
      baseline({ a: { 'cut/gone': 1 }, other: { x: 2 } }),
      counted(RESULT).present,
      counted(RESULT).checked,
    );
    expect(JSON.parse(baselineText(after)).findings).toEqual({
      a: { 'cut/marginal': 2 },
      b: { 'cut/marginal': 1 },
      other: { x: 2 },
    });
  });

  it.each([
    'not json',
    '[]',
    '{}',
    '{"kerflint":2,"findings":{}}',
    '{"kerflint":1,"findings":{"a":3}}',
    '{"kerflint":1,"findings":{"a":{"x":-1}}}',
    '{"kerflint":1,"findings":{"a":{"x":"9"}}}',
  ])('%s is none', (text) => {
    expect(readBaseline(text).ok).toBe(false);
  });

  it("does not reach an object's prototype by a file's name", () => {
    const parsed = readBaseline('{"kerflint":1,"findings":{"__proto__":{"x":1}}}');
    expect(parsed.ok && [...parsed.value.keys()]).toEqual(['__proto__']);
  });
});
