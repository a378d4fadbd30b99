import { describe, expect, it } from 'vitest';
import { resultView, timeView, wasteView } from '../../src/facts/result-view.ts';
import { artwork, cut, facts, machine, pass, prediction, task, toolpath } from '../rules/build-facts.ts';
import { proposal, recipe, remedy } from '../rules/build-recipes.ts';

const TIME = { totalS: 26.16, cuttingS: 20.04, rasterS: 3.26, travelS: 1.99, dwellS: 0.87, basis: 'toolpath' } as const;
const WASTE = facts().waste!;
const REMEDY = remedy('Slow to 7.5 mm/s', { speedMmPerS: 7.51249, focusMm: 0 });

describe('what a result shows of a job', () => {
  it('is its name, its files and what it is cut with', () => {
    expect(resultView(facts({ materialName: 'birch' }))).toMatchObject({
      name: 'coaster',
      sidecar: 'coaster.job.yaml',
      machine: 'shed-60w',
      lens: '2in',
      material: 'birch-plywood',
      thicknessMm: 6,
      files: { toolpath: 'coaster.gcode', artwork: 'coaster.svg' },
      tasks: [{ name: 'outline', aim: 'through' }],
    });
    const bare = resultView(
      facts({
        input: { files: { sidecar: null, toolpath: null } },
        machine: null,
        lens: null,
        material: null,
        materialName: 'slate',
        thicknessMm: null,
      }),
    );
    expect(bare).toMatchObject({
      sidecar: null,
      machine: null,
      lens: null,
      material: 'slate',
      thicknessMm: null,
      files: { artwork: 'coaster.svg' },
    });
    expect(bare.files).toEqual({ artwork: 'coaster.svg' });
    expect(resultView(facts({ input: { files: { artwork: null } } })).files).toEqual({ toolpath: 'coaster.gcode' });
  });

  it('is of the toolpath its moves, lengths, time and bounds, and nothing of it where there is none', () => {
    const read = toolpath({
      moves: 7,
      cutLengthMm: 300.12349,
      travelLengthMm: 20.56781,
      time: { totalS: 26.16 },
      boundsMm: { minX: 0.12349, minY: -1.5, maxX: 90.0006, maxY: 80, minZ: -3, maxZ: 2 },
    });
    expect(resultView(facts({ toolpath: read })).toolpath).toEqual({
      moves: 7,
      cutLengthMm: 300.123,
      rapidLengthMm: 20.568,
      timeS: 26.2,
      boundsMm: { minX: 0.123, minY: -1.5, maxX: 90.001, maxY: 80 },
    });
    expect(resultView(facts({ toolpath: toolpath({ boundsMm: null }) })).toolpath!.boundsMm).toBeNull();
    expect('toolpath' in resultView(facts({ toolpath: null }))).toBe(false);
  });

  it('is of the artwork its outlines, length and bounds, and nothing of it where there is none', () => {
    const [outline] = artwork().outlines;
    const read = artwork({ outlines: [outline!, outline!], lengthMm: 600.00049 });
    expect(resultView(facts({ artwork: read })).artwork).toEqual({
      outlines: 2,
      lengthMm: 600,
      boundsMm: { minX: 10, minY: 10, maxX: 90, maxY: 80 },
    });
    expect('artwork' in resultView(facts({ artwork: null }))).toBe(false);
  });

  it('says of a made-up machine that it is, and of no other', () => {
    expect(resultView(facts({ machine: machine({ invented: true }) })).inventedMachine).toBe(true);
    expect('inventedMachine' in resultView(facts())).toBe(false);
  });

  it('has what was assumed and what would narrow it, as values of its own', () => {
    const key = { key: 'beam.m2', value: 1.2, unit: null, basis: 'usual', inDoubt: true };
    const narrows = { key: 'beam.m2', fromShare: 0.4, toShare: 0.3 };
    const view = resultView(facts({ assumed: { keys: [key], narrows } }));
    expect([view.assumed, view.narrows]).toEqual([[key], narrows]);
    expect(view.assumed[0]).not.toBe(key);
    expect(view.narrows).not.toBe(narrows);
    expect(resultView(facts()).narrows).toBeNull();
  });
});

describe('what a result shows of a cut', () => {
  const of = (change: Parameters<typeof cut>[0]) => resultView(facts({ cuts: [cut(change)] })).cuts[0]!;

  it('is its passes, its prediction, its line and its remedies', () => {
    const passes = [
      pass({ powerW: 43.216, speedMmPerS: 11.987, programmedMmPerS: 12, focusMm: -0.505 }),
      pass({ speedMmPerS: Number.NaN, focusMm: 0 }),
    ];
    expect(of({ lengthMm: 300.126, passes, remedies: [REMEDY] })).toEqual({
      task: 'outline',
      aim: 'through',
      lengthMm: 300.13,
      passes: [
        { powerW: 43.22, speedMmPerS: 11.99, focusMm: -0.51 },
        { powerW: 43.2, speedMmPerS: null, focusMm: 0 },
      ],
      depthMm: 7.4,
      depthLowMm: 6.1,
      depthHighMm: 9,
      throughProbability: 0.96,
      kerfMm: 0.2,
      basis: 'catalogue, ± 40 %',
      line: 7,
      // Without what does not apply; a focus of 0 mm does.
      remedies: [
        { kind: 'slower', text: 'Slow to 7.5 mm/s', speedMmPerS: 7.512, focusMm: 0, throughProbability: 0.91 },
      ],
    });
  });

  it('has nothing of a prediction where there is none', () => {
    const nothing = { depthMm: null, depthLowMm: null, depthHighMm: null, throughProbability: null };
    expect(of({ prediction: null })).toMatchObject({ ...nothing, kerfMm: null, basis: null });
    expect(of({ prediction: prediction({ kerfTopMm: null }) })).toMatchObject({ kerfMm: null, depthMm: 7.4 });
  });

  it('without settings is what the machine can do about it', () => {
    const strong = recipe({ setting: 0.81239, powerW: 43.216 });
    const shown = { ...strong, setting: 0.8124, powerW: 43.22 };
    const [planned, unplanned] = [cut(), cut({ prediction: null })] as const;
    const limitedBy = [
      { kind: 'clean-speed', value: 4.00049 },
      { kind: 'named-lens', value: null },
    ] as const;
    const reach = (change: Parameters<typeof proposal>[1]) => {
      const can = proposal([unplanned], { surest: strong, limitedBy, ...change });
      const { cuts } = resultView(facts({ cuts: [planned, unplanned], proposals: [can] }));
      return cuts.map((one) => ('reach' in one ? one.reach : undefined));
    };
    const bare = {
      surest: shown,
      proposed: null,
      limitedBy: [
        { kind: 'clean-speed', value: 4 },
        { kind: 'named-lens', value: null },
      ],
      limit: 0.9,
    };
    expect(reach({})).toEqual([undefined, bare]);
    expect(reach({ proposed: strong })).toEqual([undefined, { ...bare, proposed: shown }]);
    const stacked = { layers: 2, layerMm: 3, recipe: strong };
    expect(reach({ thinner: { stacked, thickestMm: 4 } })[1]).toEqual({
      ...bare,
      thinner: { stacked: { layers: 2, layerMm: 3 }, thickestMm: 4 },
    });
    expect(reach({ thinner: { stacked: null, thickestMm: null } })[1]!.thinner).toEqual({
      stacked: null,
      thickestMm: null,
    });
  });
});

describe('what a result shows of time and waste', () => {
  it('is time to a tenth of a second', () => {
    const shown = { totalS: 26.2, cuttingS: 20, rasterS: 3.3, travelS: 2, dwellS: 0.9, basis: 'toolpath' };
    expect(timeView(TIME)).toEqual(shown);
    expect(timeView(null)).toBeNull();
    expect(resultView(facts({ time: TIME })).time).toEqual(shown);
    expect(resultView(facts({ time: null })).time).toBeNull();
  });

  it('is amounts without the words on what has no price', () => {
    const { missing: _, ...amounts } = WASTE;
    expect(wasteView({ ...WASTE, missing: ['no tube price'] })).toEqual(amounts);
    expect(wasteView(null)).toBeNull();
  });
});

describe('what a result shows of the change that would bring the cuts through', () => {
  const cure = {
    lens: '4in',
    otherLens: true,
    throughProbability: 0.94,
    time: TIME,
    waste: WASTE,
    cuts: [
      {
        index: 3,
        remedy: REMEDY,
        cut: cut({
          passes: [
            pass({ powerW: 43.216, setting: 0.81239, speedMmPerS: 11, programmedMmPerS: 7.516, focusMm: -0.505 }),
          ],
        }),
      },
      { index: 5, remedy: null, cut: cut({ prediction: null, passes: [] }) },
    ],
  };

  it('is lens, chance, time, waste and each cut that comes out otherwise', () => {
    const { missing: _, ...waste } = WASTE;
    const view = resultView(facts(), { job: { cure }, without: null });
    expect(view.cure).toEqual({
      lens: '4in',
      otherLens: true,
      throughProbability: 0.94,
      cuts: [
        {
          cut: 3,
          text: 'Slow to 7.5 mm/s',
          passes: [{ powerW: 43.22, setting: 0.8124, speedMmPerS: 7.52, focusMm: -0.51 }],
          depthMm: 7.4,
          depthLowMm: 6.1,
          depthHighMm: 9,
          throughProbability: 0.96,
          kerfMm: 0.2,
        },
        {
          cut: 5,
          text: null,
          passes: [],
          depthMm: null,
          depthLowMm: null,
          depthHighMm: null,
          throughProbability: null,
          kerfMm: null,
        },
      ],
      time: timeView(TIME),
      waste,
    });
    expect('noCure' in view).toBe(false);
  });

  it('is why there is none, or nothing where nothing is to be changed', () => {
    const without = resultView(facts(), { job: null, without: 'no lens is known' });
    expect([without.noCure, 'cure' in without]).toEqual(['no lens is known', false]);
    for (const view of [resultView(facts()), resultView(facts(), null)]) {
      expect(['cure' in view, 'noCure' in view]).toEqual([false, false]);
    }
  });

  it('has the tasks of the job with their aims', () => {
    const tasks = [task(), task({ name: 'names', aim: 'surface' })];
    expect(resultView(facts({ tasks })).tasks).toEqual([
      { name: 'outline', aim: 'through' },
      { name: 'names', aim: 'surface' },
    ]);
  });
});
