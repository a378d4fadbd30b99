import { describe, expect, it } from 'vitest';
import type { CardSettings } from '../../../src/facts/drawing/drawing-model.ts';
import { setupCard } from '../../../src/facts/drawing/setup-card.ts';
import type { JobFacts } from '../../../src/facts/facts.ts';
import type { ProposalFact, Recipe } from '../../../src/facts/recipes/recipe-fact.ts';
import {
  artworkOnly,
  at,
  cut,
  facts,
  machine,
  material,
  pass,
  plannedTask,
  prediction,
  sidecar,
  task,
} from '../../rules/build-facts.ts';

const card = (job: JobFacts, cure: Parameters<typeof setupCard>[1]['cure'] = null, proposes = true) =>
  setupCard(job, { cure, proposes });
const withSidecar = (change: Parameters<typeof sidecar>[0]) => facts({ input: { sidecar: sidecar(change) } });

/** Settings that the recipes of these jobs share. */
const SET: CardSettings = {
  setting: 0.8,
  powerW: 43.2,
  speedMmPerS: 12,
  passes: 1,
  focusMm: 0,
  focusStepMm: 0,
};

const recipe = (change: Partial<Recipe> = {}): Recipe =>
  ({ ...SET, lens: '2in', throughProbability: 0.96, ...change }) as Recipe;
const proposal = (cuts: JobFacts['cuts'], proposed: Recipe | null) => ({ cuts, proposed }) as unknown as ProposalFact;

describe('the card says what is set before the job', () => {
  it('of machine, lens and sheet', () => {
    const job = withSidecar({ mirror: 'down', bowMm: 0.4, zero: 'sheet-corner' });
    expect(card(job)).toMatchObject({
      machine: 'shed-60w',
      lens: '2in',
      standoffMm: 6,
      material: 'Birch plywood',
      thicknessMm: 6,
      face: 'masked',
      mirror: 'down',
      bowMm: 0.4,
      zero: 'sheet-corner',
      sheet: { widthMm: 300, heightMm: 200 },
      hazard: { class: 'usual', reason: 'wood smoke' },
    });
  });

  it('and nothing of what is not known', () => {
    const input = { ...facts().input, sidecar: null };
    const unknown = { machine: null, lens: null, material: null, materialName: 'plywud', thicknessMm: null };
    expect(card(facts({ ...unknown, input }))).toMatchObject({
      machine: null,
      lens: null,
      standoffMm: null,
      material: 'plywud',
      thicknessMm: null,
      face: null,
      mirror: null,
      bowMm: null,
      zero: null,
      sheet: null,
      hazard: null,
    });
    expect(card(withSidecar({ sheet: null as never })).sheet).toBeNull();
    expect(card(facts({ lens: { ...machine().lenses[0]!, standoffMm: null } }))).toMatchObject({ standoffMm: null });
  });

  it('and which cut to watch: the least sure one', () => {
    const sure = cut({ prediction: prediction({ throughProbability: 0.99 }) });
    const unsure = cut({
      task: 'bore',
      prediction: prediction({ throughProbability: 0.7 }),
      location: at('coaster.gcode', 31),
    });
    expect(card(facts({ cuts: [sure, unsure, sure] })).watch).toEqual({
      task: 'bore',
      probability: 0.7,
      line: 31,
      file: 'coaster.gcode',
    });
    expect(card(facts({ cuts: [] })).watch).toBeNull();
  });
});

describe('a recipe on the card', () => {
  const rows = (job: JobFacts) => card(job).recipes;

  it('is that of the cut, with the air that is planned', () => {
    expect(rows(facts())).toEqual([
      { task: 'outline', aim: 'through', file: 'coaster.gcode', line: 7, stated: SET, airBar: 1.4, proposed: null },
    ]);
    expect(rows(facts({ tasks: [task({ name: 'all', aim: 'groove' }, null)] }))).toMatchObject([
      { task: 'all', aim: 'groove', airBar: null },
    ]);
  });

  it('has the step of the focus from the first pass to the second, and the programmed speed where there is one', () => {
    const passes = [pass({ focusMm: -1, programmedMmPerS: 15 }), pass({ focusMm: -2.5 }), pass({ focusMm: -9 })];
    expect(rows(facts({ cuts: [cut({ passes })] }))[0]!.stated).toEqual({
      ...SET,
      speedMmPerS: 15,
      passes: 3,
      focusMm: -1,
      focusStepMm: -1.5,
    });
    const endless = [pass({ programmedMmPerS: Number.POSITIVE_INFINITY })];
    expect(rows(facts({ cuts: [cut({ passes: endless })] }))[0]!.stated!.speedMmPerS).toBeNull();
  });

  it('stands once where cuts differ by their watts alone, and each where they differ by what is set', () => {
    const cuts = (change: Parameters<typeof pass>[0]) => [cut(), cut({ passes: [pass(change)] })];
    expect(rows(facts({ cuts: cuts({ powerW: 30 }) }))).toMatchObject([{ stated: { powerW: 43.2 } }]);
    for (const change of [{ setting: 0.5 }, { programmedMmPerS: 9 }, { focusMm: -1 }]) {
      expect(rows(facts({ cuts: cuts(change) })), JSON.stringify(change)).toHaveLength(2);
    }
  });

  it('stands with its task, in the order of the tasks', () => {
    const job = facts({
      tasks: [task({ name: 'rim' }), task({ name: 'bore' })],
      cuts: [cut({ taskIndex: 1 }), cut({ taskIndex: 0, location: at('coaster.gcode', 20) })],
    });
    expect(rows(job).map(({ task: name, line }) => [name, line])).toEqual([
      ['rim', 20],
      ['bore', 7],
    ]);
  });

  it('is one of ten at most; how many more there are is said', () => {
    const cuts = (count: number) =>
      Array.from({ length: count }, (_, i) => cut({ passes: [pass({ programmedMmPerS: 5 + i })] }));
    const shown = (count: number) => {
      const { recipes, moreRecipes } = card(facts({ cuts: cuts(count) }));
      return [recipes.length, moreRecipes];
    };
    expect([9, 10, 11, 13].map(shown)).toEqual([
      [9, 0],
      [10, 0],
      [10, 1],
      [10, 3],
    ]);
  });
});

describe('what is planned', () => {
  const noPasses = cut({ passes: [], taskIndex: 0 });
  const plan = (change: Parameters<typeof plannedTask>[0]) =>
    card(facts({ cuts: [noPasses], tasks: [task({}, plannedTask(change))] })).recipes[0]!.stated;

  it('stands where a cut has no passes of its own', () => {
    expect(plan({ passes: 2, focusMm: -1, focusStepMm: -0.5 })).toEqual({
      setting: 0.8,
      powerW: null,
      speedMmPerS: 12,
      passes: 2,
      focusMm: -1,
      focusStepMm: -0.5,
    });
    expect(plan({ power: { watts: 30 } as never })).toMatchObject({ setting: null, powerW: 30 });
  });

  it('is one pass where none is stated, and needs a power or a speed', () => {
    expect(plan({ passes: null as never, power: null as never })).toMatchObject({
      setting: null,
      powerW: null,
      speedMmPerS: 12,
      passes: 1,
    });
    expect(plan({ speedMmPerS: null as never })).toMatchObject({ setting: 0.8, speedMmPerS: null });
    expect(plan({ speedMmPerS: null as never, power: null as never })).toBeNull();
    expect(card(facts({ cuts: [noPasses], tasks: [task({}, null)] })).recipes).toMatchObject([{ stated: null }]);
  });

  it('has a row at its line of the sidecar where its task has no cut, and none where nothing is planned', () => {
    const other = task({ name: 'picture', aim: 'surface', location: at('coaster.job.yaml', 21) });
    expect(card(facts({ tasks: [task(), other] })).recipes[1]).toEqual({
      task: 'picture',
      aim: 'surface',
      file: 'coaster.job.yaml',
      line: 21,
      stated: { ...SET, powerW: null },
      airBar: 1.4,
      proposed: null,
    });
    expect(card(facts({ tasks: [task(), { ...other, planned: null }] })).recipes).toHaveLength(1);
  });
});

describe('what is proposed', () => {
  const open = cut({ passes: [] });
  const job = (proposed: Recipe | null) => artworkOnly({ cuts: [open], proposals: [proposal([open], proposed)] });

  it('stands beside a cut without settings', () => {
    expect(card(job(recipe())).recipes[0]!.proposed).toEqual({ ...SET, otherLens: null });
    expect(card(job(null)).recipes[0]!.proposed).toBeNull();
    expect(card(job(recipe()), null, false).recipes[0]!.proposed).toBeNull();
    const another = artworkOnly({ cuts: [open], proposals: [proposal([cut()], recipe())] });
    expect(card(another).recipes[0]!.proposed).toBeNull();
  });

  it('names the lens to fit where it is another than the card’s', () => {
    expect(card(job(recipe({ lens: '4in' }))).recipes[0]!.proposed).toEqual({
      ...SET,
      otherLens: { id: '4in', standoffMm: 8 },
    });
    expect(card(job(recipe({ lens: '9in' }))).recipes[0]!.proposed).toMatchObject({ otherLens: null });
    expect(card({ ...job(recipe({ lens: '4in' })), machine: null }).recipes[0]!.proposed).toMatchObject({
      otherLens: null,
    });
  });

  it('tells rows apart that state the same, but not by its watts', () => {
    const twin = cut({ passes: [] });
    const both = (change: Partial<Recipe>) =>
      card(
        artworkOnly({
          cuts: [open, twin],
          proposals: [proposal([open], recipe()), proposal([twin], recipe(change))],
        }),
      ).recipes;
    expect(both({ speedMmPerS: 7 })).toHaveLength(2);
    expect(both({ powerW: 30 })).toHaveLength(1);
  });

  it('is the change that brings the cuts through, for those that it changes, under its lens', () => {
    const cure = {
      lens: '4in',
      cuts: [{ index: 1, remedy: null, cut: cut({ passes: [pass({ setting: 0.6, powerW: 32 })] }) }],
    } as unknown as NonNullable<Parameters<typeof setupCard>[1]['cure']>;
    const cuts = [cut(), cut({ passes: [pass({ setting: 0.7 })] })];
    expect(card(facts({ cuts, material: material() }), cure).recipes.map(({ proposed }) => proposed)).toEqual([
      null,
      { ...SET, setting: 0.6, powerW: 32, otherLens: { id: '4in', standoffMm: 8 } },
    ]);
  });
});
