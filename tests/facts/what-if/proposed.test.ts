import { describe, expect, it } from 'vitest';
import type { CureFact } from '../../../src/facts/cure/cure-fact.ts';
import type { CutFact, RemedyFact } from '../../../src/facts/cuts/cut-fact.ts';
import { proposedCure, proposedFor, surestFor } from '../../../src/facts/what-if/proposed.ts';
import { type Files, factsOf, run, shed } from '../../memory-shop.ts';
import { remedy } from '../../rules/build-recipes.ts';
import { OUTLINE } from '../outline.ts';

const job = (thickness: string, tasks = ''): Files => ({
  ...shed(),
  'part.job.yaml': `kerflint: 1\nmachine: shed-60w\nlens: 2in\nmaterial: birch-plywood\nthickness: ${thickness}\nartwork: part.svg\n${tasks}`,
  'part.svg': OUTLINE,
});

describe('artwork of which no settings are stated', () => {
  it('has the proposed recipe to try', () => {
    const facts = factsOf(job('3 mm'));
    const { setting, speedMmPerS, passes, focusMm, focusStepMm } = facts.proposals[0]!.proposed!;
    const [only, ...others] = proposedFor(facts, 0);
    expect(others).toEqual([]);
    expect(only!.change).toEqual({ cuts: [{ cut: 0, setting, speedMmPerS, passes, focusMm, focusStepMm }] });
    expect(only!.text).toContain(`${speedMmPerS} mm/s`);
  });

  it('has nothing to try where no recipe is sure, and in its result what could be cut instead', () => {
    expect(proposedFor(factsOf(job('30 mm')), 0)).toEqual([]);
    const { reach } = run(job('30 mm'), {}, ['part.job.yaml']).jobs[0]!.cuts[0]!;
    expect(reach!.proposed).toBeNull();
    // What no number limits has none.
    expect(reach!.limitedBy).toContainEqual({ kind: 'named-lens', value: null });
    expect(reach!.limitedBy).toContainEqual({ kind: 'ceiling', value: 0.85 });
    const { stacked, thickestMm } = reach!.thinner!;
    expect(stacked!.layers * stacked!.layerMm).toBeCloseTo(30, 9);
    // Layers are of a thickness that is cut; what can be cut at most lies between one of them and the sheet.
    expect(stacked!.layerMm).toBeLessThanOrEqual(thickestMm!);
    expect(thickestMm).toBeLessThan(30);
  });
});

describe('the recipe to begin with', () => {
  it('is the proposed one where there is one, and else the likeliest', () => {
    const sure = factsOf(job('3 mm'));
    expect(surestFor(sure, 0)).toEqual(proposedFor(sure, 0)[0]);
    const thick = factsOf(job('30 mm'));
    const { setting, speedMmPerS, passes, focusMm, focusStepMm } = thick.proposals[0]!.surest;
    expect(surestFor(thick, 0)!.change).toEqual({
      cuts: [{ cut: 0, setting, speedMmPerS, passes, focusMm, focusStepMm }],
    });
    expect(surestFor(thick, 0)!.text).toMatch(/^Cut with 3 passes at /);
  });

  it('is none where settings are planned', () => {
    const tasks = 'tasks:\n  - { name: outline, aim: through, power: 80 %, speed: 60 mm/s }\n';
    expect(surestFor(factsOf(job('3 mm', tasks)), 0)).toBeNull();
  });

  it('changes the lens where it is for another one, and says so', () => {
    const facts = factsOf(job('3 mm'));
    const [open] = facts.proposals;
    const other = { ...facts, proposals: [{ ...open!, proposed: { ...open!.proposed!, lens: '4in' } }] };
    for (const { text, change } of [surestFor(other, 0)!, proposedFor(other, 0)[0]!]) {
      expect(change.lens).toBe('4in');
      expect(text).toMatch(/, with the 4in lens$/);
    }
    expect(surestFor(facts, 0)!.text).not.toContain('lens');
  });
});

describe('a cut whose stated settings fall short', () => {
  const planned = (speed: string) =>
    `tasks:\n  - { name: outline, aim: through, power: 80 %, speed: ${speed}, air: 1 bar }\n`;

  it('has the remedies to try that its finding names, each as a change of that cut', () => {
    const facts = factsOf(job('3 mm', planned('60 mm/s')));
    const proposed = proposedFor(facts, 0);
    expect(proposed.map(({ text }) => text)).toEqual(facts.cuts[0]!.remedies.map(({ text }) => text));
    expect(proposed.length).toBeGreaterThan(1);
    for (const { change } of proposed) expect(change.cuts.map(({ cut }) => cut)).toEqual([0]);
  });

  it('has nothing to try where no setting does it', () => {
    const facts = factsOf(job('400 mm', planned('60 mm/s')));
    expect(facts.cuts[0]!.remedies.map(({ kind }) => kind)).toEqual(['none']);
    expect(proposedFor(facts, 0)).toEqual([]);
  });
});

const NOTHING = remedy('Do something else', { kind: 'other-recipe', speedMmPerS: null, throughProbability: 0.99 });

describe('a remedy as a change', () => {
  const facts = factsOf(job('3 mm'));
  const changeOf = (remedy: Partial<RemedyFact>) => {
    const remedies = [{ ...NOTHING, ...remedy }];
    const [only] = proposedFor({ ...facts, proposals: [], cuts: [{ ...facts.cuts[0]!, remedies }] }, 0);
    return only!.change;
  };

  it('has what the remedy states, and no more', () => {
    expect(changeOf({ speedMmPerS: 6 })).toEqual({ cuts: [{ cut: 0, speedMmPerS: 6 }] });
    expect(changeOf({ setting: 0.7, powerW: 40 })).toEqual({ cuts: [{ cut: 0, setting: 0.7 }] });
    const focus = { passes: 2, focusMm: 0, focusStepMm: -1 };
    expect(changeOf(focus)).toEqual({ cuts: [{ cut: 0, ...focus }] });
  });

  it('changes the lens or the sheet for the whole job', () => {
    expect(changeOf({ lens: '4in', focusMm: -1 })).toEqual({ lens: '4in', cuts: [{ cut: 0, focusMm: -1 }] });
    expect(changeOf({ layers: 2, layerThicknessMm: 1.5, speedMmPerS: 9 })).toEqual({
      thicknessMm: 1.5,
      cuts: [{ cut: 0, speedMmPerS: 9 }],
    });
  });
});

describe('the change for a whole job', () => {
  const facts = factsOf(job('3 mm'));
  const cut = (task: string): CutFact => ({ ...facts.cuts[0]!, task });
  const three = { ...facts, cuts: [cut('rim'), cut('holes'), cut('holes')] };
  const slower = (speedMmPerS: number): RemedyFact => ({
    ...NOTHING,
    text: `Slow to ${speedMmPerS} mm/s`,
    speedMmPerS,
  });
  const proposed = (remedies: (RemedyFact | null)[], more: Partial<CureFact> = {}) =>
    proposedCure(three, {
      lens: '2in',
      otherLens: false,
      throughProbability: 0.99,
      time: null,
      waste: null,
      cuts: remedies.map((remedy, index) => ({ index, remedy, cut: three.cuts[index]! })),
      ...more,
    });

  it('is said once where it is the same for all, and put in for each cut', () => {
    const { text, change } = proposed([slower(6), slower(6), slower(6)]);
    expect(text).toBe('Slow to 6 mm/s');
    expect(change).toEqual({ cuts: [0, 1, 2].map((index) => ({ cut: index, speedMmPerS: 6 })) });
  });

  it('is said once for each task where tasks need different ones', () => {
    expect(proposed([slower(6), slower(8), slower(8)]).text).toBe('rim: Slow to 6 mm/s; holes: Slow to 8 mm/s');
  });

  it('leaves cuts as they are that need nothing', () => {
    const { text, change } = proposed([null, slower(8), slower(8)]);
    expect(text).toBe('Slow to 8 mm/s');
    expect(change.cuts.map((one) => one.cut)).toEqual([1, 2]);
  });

  it('changes the lens where it is for another one', () => {
    expect(proposed([slower(6)], { lens: '4in', otherLens: true }).change.lens).toBe('4in');
    expect(proposed([slower(6)]).change).not.toHaveProperty('lens');
  });
});
