import { describe, expect, it } from 'vitest';
import { JoinError, joinResults } from '../../src/findings/joining.ts';
import type { RunResult } from '../../src/findings/result.ts';
import { finding, job, run } from './results.ts';

const ONCE = new Set(['power/rated-only']);
const part = (
  index: number,
  of: number,
  jobs: Parameters<typeof run>[0],
  files: Parameters<typeof run>[1] = [],
): RunResult => ({
  ...run(jobs, files),
  shard: { index, of },
});

describe('joined parts', () => {
  it('are the run that was not divided', () => {
    const gate = job({ name: 'gate', findings: [finding()] });
    const tray = job({ name: 'tray', incomplete: ['x'] });
    const files = [{ file: 'a.svg', reason: 'r' }];
    expect(joinResults([part(2, 2, [tray], files), part(1, 2, [gate])], ONCE)).toEqual(run([gate, tray], files));
  });

  it('say once what is said once a run', () => {
    const note = finding({ rule: 'power/rated-only', severity: 'note' });
    const both = joinResults(
      [
        part(1, 2, [job({ name: 'a', findings: [note] })]),
        part(2, 2, [job({ name: 'b', findings: [note, finding()] })]),
      ],
      ONCE,
    );
    expect(both.jobs.map((one) => one.findings.map((each) => each.rule))).toEqual([
      ['power/rated-only'],
      ['cut/short-of-through'],
    ]);
  });

  it('keep what the settings made graver and what is waived: no job rests on the verdict of another', () => {
    const graver = finding({ rule: 'power/rated-only', severity: 'error' });
    const waived = finding({ rule: 'power/rated-only', severity: 'note', status: 'waived' });
    const note = finding({ rule: 'power/rated-only', severity: 'note' });
    const all = joinResults(
      ['a', 'b', 'c', 'd'].map((name, i) =>
        part(i + 1, 4, [job({ name, findings: [[waived], [note], [graver], [note]][i] ?? [] })]),
      ),
      ONCE,
    );
    expect(all.jobs.map((one) => one.findings.length)).toEqual([1, 1, 1, 0]);
    expect(all.jobs.map((one) => one.verdict)).toEqual(['pass', 'pass', 'fail', 'pass']);
  });

  it.each<[string, RunResult[]]>([
    ['nothing', []],
    ['a part that is missing', [part(1, 3, []), part(3, 3, [])]],
    ['a part that is there twice', [part(1, 2, []), part(1, 2, []), part(2, 2, [])]],
    ['parts of differently divided runs', [part(1, 2, []), part(2, 3, [])]],
    ['a part and a whole', [part(1, 1, []), run([])]],
    ['one job twice', [run([job()]), run([job()])]],
    ['results of two versions', [run([]), { ...run([]), tool: { name: 'kerflint', version: '9.0.0' } }]],
  ])('are refused with %s', (_, parts) => {
    expect(() => joinResults(parts, ONCE)).toThrow(JoinError);
  });
});
