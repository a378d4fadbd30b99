// The chart of what a job's machine reaches: which recipe and which lenses it is of, when there is none, and that jobs alike share one.
import { describe, expect, it } from 'vitest';
import { jobReach, type KnownReach, reachGoal } from '../../../src/facts/bench/job-reach.ts';
import type { JobFacts } from '../../../src/facts/facts.ts';
import { citedCut } from '../../cited-cuts.ts';
import { demoFiles, factsOf, shed } from '../../memory-shop.ts';

const planned = factsOf({
  ...shed(),
  ...demoFiles('seed-tray-divider.gcode', 'seed-tray-divider.svg', 'seed-tray-divider.job.yaml'),
});
/** Artwork of a gate sign without settings, under no lens in particular; 60 mm of plywood are out of reach. */
const open = (thickness: string, task = '', lens = '') =>
  factsOf({
    ...shed(),
    'sign.svg':
      '<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 0 200 100"><path fill="none" stroke="#2b8a3e" d="M20 20H180V80H20Z"/></svg>',
    'sign.job.yaml': `kerflint: 1\nmachine: shed-60w\n${lens}material: birch-plywood\nthickness: ${thickness}\nartwork: sign.svg\ntasks:\n  - { name: outline, aim: through${task} }\n`,
  });
const thin = open('4 mm');
const thick = open('60 mm');

const reachOf = (facts: JobFacts, known: KnownReach = new Map()) => jobReach(facts, known, () => []);
/** The same job whose through cuts all have this first pass. */
const withPass = (change: Partial<JobFacts['cuts'][number]['passes'][number]>): JobFacts => ({
  ...planned,
  cuts: planned.cuts.map((cut) => ({ ...cut, passes: cut.passes.map((pass) => ({ ...pass, ...change })) })),
});

describe('the chart of a job', () => {
  it('is of the recipe of its cuts, in its material, under the fitted lens first and the others after it', () => {
    const pass = planned.cuts.find(({ aim }) => aim === 'through')!.passes[0]!;
    const reached = reachOf(planned)!;
    expect(reached).toMatchObject({ machine: 'shed-60w', passes: 1, setting: pass.setting, focusMm: pass.focusMm });
    expect(reached.material).toBe(planned.material!.name);
    expect(reached.lenses[0]!.id).toBe(planned.lens!.id);
    expect(reached.lenses.map(({ id }) => id).sort()).toEqual(['1.5in', '2in', '4in']);
    const four = planned.machine!.lenses.find(({ id }) => id === '4in')!;
    expect(reachOf({ ...planned, lens: four })!.lenses.map(({ id }) => id)).toEqual(['4in', '2in', '1.5in']);
  });

  it('is of the least sure cut that was predicted', () => {
    const [cut] = planned.cuts.filter(({ aim }) => aim === 'through');
    const of = (throughProbability: number, setting: number) => ({
      ...cut!,
      passes: cut!.passes.map((pass) => ({ ...pass, setting })),
      prediction: { ...cut!.prediction!, throughProbability },
    });
    const cuts = [of(0.6, 0.5), of(0.4, 0.6), of(0.5, 0.7), { ...of(0.1, 0.8), prediction: null }];
    expect(reachOf({ ...planned, cuts })!.setting).toBe(0.6);
  });

  it('is of the recipe that is proposed for artwork without settings, or of the one that comes nearest', () => {
    const { proposed } = thin.proposals[0]!;
    const of = ({ passes, setting, focusMm }: NonNullable<typeof proposed>) => ({ passes, setting, focusMm });
    expect(reachOf(thin)).toMatchObject(of(proposed!));
    expect(thick.proposals[0]!.proposed).toBeNull();
    expect(thick.proposals[0]!.surest.passes).toBe(3);
    expect(reachOf(thick)).toMatchObject(of(thick.proposals[0]!.surest));
  });

  it('has the published cuts beside it', () => {
    const reached = jobReach(planned, new Map(), () => [citedCut({ thicknessMm: 3 })])!;
    expect(reached.published).toHaveLength(1);
  });

  it.each<[string, JobFacts]>([
    ['machine', { ...planned, machine: null }],
    ['lens', { ...planned, lens: null }],
    ['material', { ...planned, material: null }],
    ['cut and no proposal', { ...planned, cuts: [] }],
    ['power', withPass({ setting: 0 })],
  ])('is none without a %s', (_, facts) => {
    const known: KnownReach = new Map();
    expect(reachOf(facts, known)).toBeNull();
    expect(reachGoal(facts, null, known)).toBeNull();
    expect(known.size).toBe(0);
  });
});

describe('charts of several jobs', () => {
  it('are one where the same is asked for, also where there is none', () => {
    const known: KnownReach = new Map();
    const first = reachOf(planned, known);
    expect(first).not.toBeNull();
    expect(reachOf({ ...planned }, known)).toBe(first);
    expect(known.size).toBe(1);
    const metal = { ...planned, material: { ...planned.material!, id: 'sheet-steel', removal: null } };
    expect([reachOf(metal, known), reachOf(metal, known)]).toEqual([null, null]);
    expect(known.size).toBe(2);
    let asked = 0;
    expect(jobReach(metal, known, () => [citedCut({ id: `r${asked++}` })])).toBeNull();
    expect(asked).toBe(0);
  });

  it.each<[string, JobFacts]>([
    ['machine', { ...planned, machine: { ...planned.machine!, id: 'barn-60w' } }],
    ['profile of the same name', { ...planned, machine: { ...planned.machine!, file: 'other/shed-60w.machine.yaml' } }],
    ['lens', { ...planned, lens: planned.machine!.lenses.at(-1)! }],
    ['material', { ...planned, material: { ...planned.material!, id: 'other' } }],
    ['material of the same name', { ...planned, material: { ...planned.material!, file: 'other.material.yaml' } }],
    ['setting', withPass({ setting: 0.33 })],
    ['focus', withPass({ focusMm: -0.7 })],
    [
      'number of passes',
      { ...planned, cuts: planned.cuts.map((cut) => ({ ...cut, passes: [...cut.passes, ...cut.passes] })) },
    ],
  ])('are two where the %s is another', (_, facts) => {
    const known: KnownReach = new Map();
    expect(reachOf(facts, known)).not.toBe(reachOf(planned, known));
    expect(known.size).toBe(2);
  });
});

describe('what is proposed for artwork without settings', () => {
  it('lies on the chart of its own recipe, which needs no further curve', () => {
    const { proposed } = thin.proposals[0]!;
    const { lens, speedMmPerS, passes, setting, throughProbability: probability } = proposed!;
    expect(reachGoal(thin, null, new Map())).toEqual({ lens, speedMmPerS, passes, setting, probability, points: [] });
  });

  it('is nothing where no recipe is sure, or no lens of that name is known', () => {
    expect(reachGoal(thick, null, new Map())).toBeNull();
    const machine = { ...thin.machine!, lenses: thin.machine!.lenses.filter(({ id }) => id === 'none') };
    expect(reachGoal({ ...thin, machine }, null, new Map())).toBeNull();
  });

  it('has the curve of its lens alone where the chart is of another recipe', () => {
    // Settings of a cut are charted before those of a proposal.
    const both = { ...thin, cuts: withPass({ setting: 0.2 }).cuts };
    const known: KnownReach = new Map();
    const goal = reachGoal(both, null, known)!;
    const [curves] = [...known.values()];
    expect(curves!.lenses.map(({ id }) => id)).toEqual([goal.lens]);
    expect(goal.points).toEqual(curves!.lenses[0]!.points);
    expect(curves).toMatchObject({ setting: goal.setting, passes: goal.passes, published: [] });
  });
});

describe('a change of a job of which nothing is known', () => {
  const cure = { lens: '2in', otherLens: false, cuts: [], throughProbability: 0.9, time: null, waste: null };

  it('lies nowhere: where no cut changes, and where the changed one was not predicted or has no pass', () => {
    expect(reachGoal(planned, { cure, facts: planned }, new Map())).toBeNull();
    const index = planned.cuts.findIndex(({ aim }) => aim === 'through');
    const cut = planned.cuts[index]!;
    const remedy = { ...thick.cuts[0]!.remedies[0]!, kind: 'slower' as const };
    const changed = { ...cure, cuts: [{ index, remedy, cut }] };
    const goal = (change: Partial<typeof cut>) => {
      const cuts = planned.cuts.map((one, i) => (i === index ? { ...one, ...change } : one));
      return reachGoal(planned, { cure: changed, facts: { ...planned, cuts } }, new Map());
    };
    expect(goal({})).toMatchObject({ lens: '2in', passes: cut.passes.length });
    expect(goal({ prediction: null })).toBeNull();
    expect(goal({ passes: [] })).toBeNull();
  });
});
