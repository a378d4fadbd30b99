import { describe, expect, it } from 'vitest';
import { CAUTION } from '../../src/findings/caution.ts';
import type { JobResult } from '../../src/findings/result.ts';
import { finding, job, run } from './results.ts';

const CUT = job().cuts[0]!;
const cuts = (...chances: (number | null)[]) => chances.map((throughProbability) => ({ ...CUT, throughProbability }));
const groove = { name: 'name', aim: 'groove' };
const said = (change: Partial<JobResult>) => run([job(change)]).jobs[0]!.headline;
/** A cut for which only a proposal speaks, or not even that. */
const planless = (chance: number | null): JobResult['cuts'][number] => {
  const recipe = (throughProbability: number) => ({
    lens: '2in',
    setting: 0.85,
    powerW: 48,
    speedMmPerS: 12,
    passes: 1,
    focusMm: 0,
    focusStepMm: 0,
    throughProbability,
  });
  const proposed = chance === null ? null : recipe(chance);
  return { ...cuts(null)[0]!, reach: { surest: recipe(chance ?? 0.4), proposed, limitedBy: [], limit: 0.9 } };
};
const FOUND = 'Found no error in what was checked:';

describe('a job’s headline', () => {
  it.each<[Partial<JobResult>, string]>([
    [{ cuts: cuts(0.94, 0.941) }, `${FOUND} both cuts are predicted to part the sheet, 94 %.`],
    [{ cuts: cuts(0.99, 0.94) }, `${FOUND} both cuts are predicted to part the sheet, 94 % or more.`],
    [{ cuts: cuts(1) }, `${FOUND} the one cut is predicted to part the sheet, over 99 %.`],
    [{ cuts: cuts(0.9, 0.95, 0.99) }, `${FOUND} all 3 cuts are predicted to part the sheet, 90 % or more.`],
    [{ cuts: cuts(0.99, 0.7) }, `${FOUND} the least sure of 2 cuts is 70 % likely to part the sheet.`],
    [
      { cuts: cuts(0.99, null) },
      `${FOUND} 1 of 2 cuts is predicted to part the sheet, 99 %; 1 cut is without a prediction.`,
    ],
    [{ cuts: cuts(null) }, `${FOUND} 1 cut is without a prediction.`],
    [{ cuts: [planless(0.91)] }, `${FOUND} 1 cut has no settings yet (proposed: 91 % likely to part the sheet).`],
    [
      { cuts: [...cuts(0.99), planless(0.91), planless(0.95)] },
      `${FOUND} the one cut is predicted to part the sheet, 99 %; 2 cuts have no settings yet (proposed: 91 % likely to part the sheet).`,
    ],
    [
      { cuts: [planless(0.91), planless(null)] },
      `${FOUND} 2 cuts have no settings yet (proposed, for 1 of them: 91 % likely to part the sheet).`,
    ],
    [{ cuts: [planless(null)] }, `${FOUND} 1 cut has no settings yet (none is sure enough to be proposed).`],
    [{ cuts: [], tasks: [groove] }, `${FOUND} nothing is meant to go through; 1 engraving not judged for depth.`],
    [{ cuts: [] }, `${FOUND} no cut that is to go through was found.`],
  ])('tells what was checked of %j', (change, headline) => {
    expect(said(change)).toBe(headline);
  });

  it('counts what was not judged, what was set aside and what to look at', () => {
    const findings = [
      finding({ severity: 'warning' }),
      finding({ status: 'waived' }),
      finding({ status: 'baselined', severity: 'note' }),
    ];
    const notChecked = [
      { rule: 'a/b', kind: 'ended-early' as const, reason: 'too many lines' },
      { rule: 'a/b', kind: 'ended-early' as const, reason: 'too many passes' },
      { rule: 'a/c', kind: 'not-applicable' as const, reason: 'no artwork' },
    ];
    const tasks = [{ name: 'outline', aim: 'through' }, groove, { name: 'picture', aim: 'surface' }];
    expect(said({ cuts: cuts(0.97), tasks, findings, notChecked })).toBe(
      `${FOUND} the one cut is predicted to part the sheet, 97 %; 2 engravings not judged for depth; 1 finding waived or in the baseline; 1 warning to look at; 1 rule not checked to the end; 1 rule with nothing to look at.`,
    );
  });

  it('says what is wrong, in the first sentence of the worst error', () => {
    const first = finding({ message: 'Task "A. B" runs at 0.15 mm/s. Write F540.' });
    expect(said({ findings: [first] })).toBe('Do not run: task "A. B" runs at 0.15 mm/s.');
    expect(said({ findings: [finding({ severity: 'note' }), first, finding(), finding()] })).toBe(
      'Do not run: task "A. B" runs at 0.15 mm/s (and 2 more errors).',
    );
    expect(said({ findings: [finding({ message: 'A contour is open.' })] })).toBe('Do not run: a contour is open.');
    expect(said({ findings: [finding({ message: 'PVC must not be laser-cut: it gives off chlorine.' })] })).toBe(
      'Do not run: PVC must not be laser-cut: it gives off chlorine.',
    );
  });

  it('ends with one mark', () => {
    const asks = finding({ message: 'the key "lense" is not known: did you mean lens?' });
    expect(said({ findings: [asks] })).toBe('Do not run: the key "lense" is not known: did you mean lens?');
    expect(said({ findings: [finding({ message: 'x'.repeat(5000) })] })).toMatch(/x…$/);
  });

  it('says what is missing, and that an error stands all the same', () => {
    const incomplete = ['the material is not stated: name it in the sidecar.'];
    expect(said({ incomplete })).toBe('Not judged: the material is not stated: name it in the sidecar.');
    const failed = [{ rule: 'a/b', kind: 'failed' as const, reason: 'no message "x"' }];
    expect(said({ incomplete, notChecked: failed })).toMatch(/^Not judged: .* \(and 1 more reason\)\.$/);
    expect(said({ notChecked: failed })).toBe('Not judged: a/b failed: no message "x".');
    expect(said({ incomplete, findings: [finding({ message: 'The beam stays on. End with M5.' })] })).toBe(
      'Not judged: the material is not stated: name it in the sidecar. Do not run it as it is: the beam stays on.',
    );
  });

  it('follows what was set aside, and repeats no text without end', () => {
    const long = finding({ message: 'x'.repeat(5000) });
    expect(said({ findings: [long] }).length).toBeLessThan(300);
    expect(said({ incomplete: ['x'.repeat(5000)] }).length).toBeLessThan(300);
  });
});

describe('a run’s headline', () => {
  const good = job({ name: 'tray', cuts: cuts(0.95) });
  const bad = job({ name: 'gate', findings: [finding({ message: 'The beam stays on. End with M5.' })] });
  const open = job({ name: 'vane', incomplete: ['the material is not stated'] });

  it('is that of the only job', () => {
    for (const one of [good, bad, open]) {
      const result = run([one]);
      expect(result.headline).toBe(result.jobs[0]!.headline);
    }
  });

  it('sums up several jobs by the worst of them', () => {
    expect(run([good, { ...good, name: 'label' }]).headline).toBe(
      `${FOUND} 2 jobs; both cuts are predicted to part the sheet, 95 %.`,
    );
    expect(run([good, bad]).headline).toBe('Do not run: 1 of 2 jobs (gate).');
    expect(run([good, bad, open]).headline).toBe(
      'Not judged: 1 of 3 jobs (vane); vane: the material is not stated. Do not run 1 other job: errors stand in it.',
    );
    expect(run([good, job({ name: 'sign', cuts: [], tasks: [groove] })]).headline).toBe(
      `${FOUND} 2 jobs; the one cut is predicted to part the sheet, 95 %; nothing is meant to go through in 1 job; 1 engraving not judged for depth.`,
    );
    const five = ['a', 'b', 'c', 'd', 'e'].map((name) => ({ ...bad, name }));
    expect(run(five).headline).toMatch(/^Do not run: 5 of 5 jobs \(a, b, c and 2 more\)\.$/);
  });

  it('never reads as found when there was no job', () => {
    expect(run([]).headline).toBe('Nothing was judged: no job was found.');
    expect(run([], [{ file: 'a.svg', reason: 'no sidecar' }]).headline).toMatch(
      /^Nothing was judged: .* 1 file was left/,
    );
  });

  it('closes with a caution that calls nothing safe', () => {
    expect(run([good]).caution).toBe(CAUTION);
    for (const result of [run([]), run([good]), run([bad]), run([open])]) {
      expect(`${result.headline} ${result.caution.replace('safety data sheet', '')}`).not.toMatch(/\bsafe/i);
    }
  });
});
