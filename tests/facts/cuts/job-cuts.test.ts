import { describe, expect, it } from 'vitest';
import type { CutFact } from '../../../src/facts/cuts/cut-fact.ts';
import { type CutsInput, cutsOf, predictedCuts, widestKerfMm } from '../../../src/facts/cuts/cuts.ts';
import { isFromToolpath } from '../../../src/facts/cuts/from-toolpath.ts';
import { publishedNear } from '../../../src/facts/cuts/published-near.ts';
import { unclaimedOf } from '../../../src/facts/cuts/unclaimed.ts';
import type { TaskFact } from '../../../src/facts/tasks/task-fact.ts';
import type { CitedCut } from '../../../src/job/evidence/cited-cuts.ts';
import type { Strokes } from '../../../src/model/strokes.ts';
import { citedCut } from '../../cited-cuts.ts';
import {
  artwork,
  at,
  cut,
  facts,
  plannedTask,
  prediction,
  strokesThrough,
  task,
  toolpath,
} from '../../rules/build-facts.ts';
import { context, setUp } from './set-up.ts';
import { stretchList } from './stretch-list.ts';

const without = cut({ prediction: null });
const chance = (throughProbability: number, change: Partial<CutFact> = {}): CutFact => ({
  ...cut({ prediction: prediction({ throughProbability }) }),
  ...change,
});

describe('the kerf that a drawing is held against', () => {
  const kerf = (kerfTopMm: number | null) => cut({ prediction: prediction({ kerfTopMm }) });

  it('is the widest that is predicted', () => {
    expect(widestKerfMm([kerf(0.2), without, kerf(0.31), kerf(null), kerf(0.25)])).toBe(0.31);
  });

  it('is not known where none is', () => {
    expect(widestKerfMm([])).toBeNull();
    expect(widestKerfMm([without, kerf(null)])).toBeNull();
  });
});

/** A program of four lines of 20 mm, each at a setting of its own: one task, or two by turns. */
function fourLines(change: Partial<CutsInput> = {}, taskOf = (_: number) => 0): CutsInput {
  const strokes = strokesThrough([0, 20, 40, 60, 80].map((x) => [x, 0] as const));
  strokes.setting.set([0.6, 0.3, 0.5, 0.4]);
  // Slow enough that each has a chance of its own.
  strokes.speedMmPerS.fill(3);
  strokes.reachedMmPerS.fill(3);
  const assigned = [0, 1].map((i) => ({
    name: `task ${i}`,
    aim: 'through' as const,
    planned: plannedTask(),
    location: at('part.job.yaml', 9),
  }));
  return {
    ...context(),
    toolpath: toolpath({ strokes }),
    artwork: null,
    tasks: [],
    assignment: {
      tasks: assigned,
      ofStroke: Int32Array.from({ length: strokes.count }, (_, i) => taskOf(i)),
      ofArea: new Int32Array(0),
      ofOutline: new Int32Array(0),
      orphans: -1,
      endedEarly: null,
    },
    ...change,
  };
}

describe('the cuts of a job', () => {
  const planned: TaskFact = task({ name: 'planned', strokes: new Uint32Array(0) });
  const names = (input: CutsInput) => predictedCuts(input).items.map(({ cut: { task: name } }) => name);

  it('are those of the toolpath, and behind them those of tasks that it does not have', () => {
    const input = fourLines({ artwork: artwork(), tasks: [planned] });
    expect(names(input)).toEqual(['task 0', 'task 0', 'task 0', 'task 0', 'planned']);
    expect(names({ ...input, toolpath: null })).toEqual(['planned']);
    expect(names({ ...input, artwork: null })).toHaveLength(4);
  });

  it('are none without a machine', () => {
    expect(predictedCuts(fourLines({ machine: null, artwork: artwork(), tasks: [planned] }))).toEqual({
      items: [],
      endedEarly: null,
    });
  });

  it('stand beside their speeds, and say why passes may be missing', () => {
    const found = cutsOf({ ...fourLines(), citedCuts: () => [] });
    expect(found.endedEarly).toBeNull();
    expect(found.speeds.map(({ location }) => location.line)).toEqual([10, 11, 12, 13]);
    const list = stretchList([{ from: [0, 0], to: [20, 0], owners: [0] }], 'whatever');
    expect(predictedCuts(fourLines(), list).items).toHaveLength(1);
    expect(predictedCuts(fourLines(), list).endedEarly).toMatch(/^so many strokes lie on each other/);
  });
});

describe('remedies and published cuts', () => {
  const near = citedCut({ id: 'near', powerW: 26, speedMmPerS: 12 });
  const told = (input: CutsInput, cited: readonly CitedCut[] = [near]) =>
    cutsOf({ ...input, citedCuts: () => cited }).cuts;

  it('are sought for the two least sure cuts of each task', () => {
    const one = told(fourLines());
    expect(one.map(({ remedies }) => remedies.length > 0)).toEqual([false, true, false, true]);
    expect(one.map(({ published }) => published?.parted?.id ?? null)).toEqual([null, 'near', null, 'near']);
    // Two lines each: all of them.
    const two = told(fourLines({}, (stroke) => stroke % 2));
    expect(two.every(({ remedies }) => remedies.length > 0)).toBe(true);
  });

  it('are not sought where nothing is predicted, nor is the catalogue read', () => {
    const input = fourLines({ predicting: { predictor: null, notPredicted: 'the lens is not known' } });
    const { cuts } = cutsOf({
      ...input,
      citedCuts: () => {
        throw new Error('read');
      },
    });
    expect(cuts.map(({ remedies, published }) => [remedies, published])).toEqual(cuts.map(() => [[], null]));
  });

  it('are looked up by the strongest and slowest of the passes, and by how many there are', () => {
    const passes = (change: (strokes: Strokes) => void) => {
      const strokes = strokesThrough([
        [0, 0],
        [20, 0],
        [0, 0],
      ]);
      change(strokes);
      return fourLines({ toolpath: toolpath({ strokes }) });
    };
    const input = passes(({ setting, reachedMmPerS, speedMmPerS }) => {
      setting.set([0.1, 0.4]);
      speedMmPerS.set([20, 30]);
      reachedMmPerS.set([20, 30]);
    });
    const [own] = told(input);
    const { predictor } = input.predicting;
    // 54 W × 40 % in the middle of the bed; 20 mm/s; two passes.
    const recipe = { powerW: 21.06, speedMmPerS: 20, passes: 2 };
    expect(own!.passes.map(({ powerW }) => powerW)).toEqual([5.26, 21.06].map((watts) => expect.closeTo(watts, 1)));
    const cited = [5, 10, 21, 42, 80].flatMap((powerW) =>
      [5, 20, 30, 60].flatMap((speedMmPerS) =>
        [1, 2, 4].map((count) =>
          citedCut({ id: `${powerW}/${speedMmPerS}/${count}`, powerW, speedMmPerS, passes: count }),
        ),
      ),
    );
    expect(told(input, cited)[0]!.published).toEqual(publishedNear(predictor!.setup, recipe, cited));
    expect(told(input, cited)[0]!.published!.parted!.id).toBe('21/20/2');
  });

  it('are of the same kind of source, material and thickness', () => {
    const cited = [
      citedCut({ id: 'diode', kind: 'diode' }),
      citedCut({ id: 'oak', material: 'oak' }),
      citedCut({ id: 'thin', thicknessMm: 3 }),
    ];
    const recipe = { powerW: 30, speedMmPerS: 15, passes: 1 };
    expect(publishedNear(setUp(), recipe, cited)).toEqual({ parted: null, notParted: null });
    expect(publishedNear(setUp({ thicknessMm: 3 }), recipe, cited).parted!.id).toBe('thin');
  });
});

describe('strokes that no task claims', () => {
  const own = (throughProbability: number, change: Partial<CutFact> = {}) =>
    chance(throughProbability, { taskIndex: 3, ...change });

  it('are those that will part the sheet, and all others', () => {
    const cuts = [
      chance(0.99),
      own(0.9, { lengthMm: 20, strokes: Uint32Array.of(4, 5), location: at('a.gcode', 4) }),
      own(0.97, { lengthMm: 5, strokes: Uint32Array.of(6), location: at('a.gcode', 6) }),
      own(0.89, { lengthMm: 7, strokes: Uint32Array.of(7), location: at('a.gcode', 7) }),
      own(0.2, { lengthMm: 8, strokes: Uint32Array.of(8, 9), location: at('a.gcode', 8) }),
    ];
    expect(unclaimedOf(cuts, 3)).toEqual({
      parting: { strokes: 3, lengthMm: 25, location: at('a.gcode', 4), throughProbability: 0.9 },
      open: { strokes: 3, lengthMm: 15, location: at('a.gcode', 7), throughProbability: 0.2 },
    });
  });

  it('have no chance where one of them was not predicted', () => {
    const unknown = { ...without, taskIndex: 3 };
    expect(unclaimedOf([own(0.2), unknown], 3)).toMatchObject({ parting: null, open: { throughProbability: null } });
    expect(unclaimedOf([own(0.95), unknown], 3)).toMatchObject({
      parting: { throughProbability: 0.95 },
      open: { strokes: 1, throughProbability: null },
    });
  });

  it('are none where there is no such task', () => {
    expect(unclaimedOf([chance(0.9)], -1)).toEqual({ parting: null, open: null });
  });
});

describe('the strokes of a cut are the toolpath’s', () => {
  it('if there is one that has the task', () => {
    expect(isFromToolpath(facts(), cut())).toBe(true);
    expect(isFromToolpath({ ...facts(), toolpath: null }, cut())).toBe(false);
    expect(isFromToolpath(facts({ tasks: [task({ strokes: new Uint32Array(0) })] }), cut())).toBe(false);
    expect(isFromToolpath(facts(), { ...cut(), taskIndex: 4 })).toBe(false);
  });
});
