import { describe, expect, it } from 'vitest';
import { settleLeads } from '../../../src/facts/tasks/leads.ts';
import { taskFacts } from '../../../src/facts/tasks/task-fact.ts';
import { STROKE_STARTS_PATH } from '../../../src/model/strokes.ts';
import { everything } from '../../../src/units/found.ts';
import { artwork, at, machine, plannedTask, rasterArea, strokesThrough, toolpath } from '../../rules/build-facts.ts';

type Input = Parameters<typeof taskFacts>[0];
const PLANNED = plannedTask({ name: 'rim' });

const facts = (change: Partial<Input> = {}, assigned: Partial<Input['assignment']> = {}) =>
  taskFacts({
    assignment: {
      tasks: [
        { name: 'rim', planned: PLANNED, aim: 'through', location: at('coaster.job.yaml', 12) },
        { name: 'bore', planned: null, aim: 'groove', location: at('coaster.job.yaml', 13) },
      ],
      ofStroke: Int32Array.of(0, 1, 0, -1),
      ofArea: new Int32Array(0),
      ofOutline: Int32Array.of(0),
      orphans: -1,
      endedEarly: null,
      ...assigned,
    },
    toolpath: toolpath(),
    artwork: artwork(),
    machine: machine(),
    unpowered: everything([]),
    ...change,
  });

describe('a task of the job', () => {
  it('has its name, its aim, its plan and its place', () => {
    expect(facts().map(({ name, aim, planned, location }) => [name, aim, planned, location.line])).toEqual([
      ['rim', 'through', PLANNED, 12],
      ['bore', 'groove', null, 13],
    ]);
  });

  it('has the strokes, outlines and areas that belong to it', () => {
    const [rim, bore] = facts(
      { toolpath: toolpath({ areas: [rasterArea(0.3), rasterArea(0.3), rasterArea(0.3)] }) },
      { ofArea: Int32Array.of(1, -1, 1), ofOutline: Int32Array.of(-1, 1, 0, 1) },
    );
    expect([[...rim!.strokes], [...rim!.outlines], rim!.areas]).toEqual([[0, 2], [2], []]);
    expect([[...bore!.strokes], [...bore!.outlines], bore!.areas]).toEqual([[1], [1, 3], [0, 2]]);
  });

  it('is as long as its strokes, and takes their time at the speed that is reached', () => {
    const strokes = { ...toolpath().strokes, reachedMmPerS: Float64Array.of(10, 7, 20, 0) };
    const [rim, bore] = facts({ toolpath: toolpath({ strokes }) });
    // 80 mm at 10 mm/s and 80 mm at 20 mm/s; 70 mm at 7 mm/s.
    expect([rim!.lengthMm, rim!.timeS]).toEqual([160, 12]);
    expect([bore!.lengthMm, bore!.timeS]).toEqual([70, 10]);
  });

  it('takes no time for strokes on which the head never gets going', () => {
    const strokes = { ...toolpath().strokes, reachedMmPerS: Float64Array.of(0, 7, 20, 0) };
    expect(facts({ toolpath: toolpath({ strokes }) })[0]).toMatchObject({ lengthMm: 160, timeS: 4 });
  });

  it('takes the time of its areas as well', () => {
    const areas = [
      { ...rasterArea(0.3), timeS: 40 },
      { ...rasterArea(0.3), timeS: 3 },
      { ...rasterArea(0.3), timeS: 500 },
    ];
    const strokes = { ...toolpath().strokes, reachedMmPerS: Float64Array.of(10, 7, 20, 0) };
    const [rim, bore] = facts({ toolpath: toolpath({ strokes, areas }) }, { ofArea: Int32Array.of(0, 0, 1) });
    expect([rim!.timeS, bore!.timeS]).toEqual([55, 510]);
  });

  it('is measured by the artwork where none of its strokes is in the toolpath, and timed as it is planned', () => {
    const none = { ofStroke: Int32Array.of(1, 1, 1, 1) };
    const [rim] = facts({}, none);
    expect(rim!.lengthMm).toBe(300);
    // At 12 mm/s, and a little for the corners.
    expect(rim!.timeS).toBeGreaterThan(25);
    expect(rim!.timeS).toBeLessThan(25.2);
    expect(facts({ machine: null }, none)[0]).toMatchObject({ lengthMm: 300, timeS: 0 });
    const unplanned = facts({}, { ofStroke: Int32Array.of(0, 0, 0, 0), ofOutline: Int32Array.of(1) })[1];
    expect(unplanned).toMatchObject({ lengthMm: 300, timeS: 0 });
    expect(facts({ artwork: null }, none)[0]).toMatchObject({ lengthMm: 0, timeS: 0 });
  });

  it('has its own outlines among those along which the head runs without power', () => {
    const run = (outline: number) => ({
      outline,
      location: at('coaster.svg', 4 + outline),
      lengthMm: 30,
      outlineLengthMm: 30,
    });
    const unpowered = { ...everything([run(0), run(1), run(2)]), endedEarly: 'too many lines' };
    const [rim, bore] = facts({ unpowered }, { ofOutline: Int32Array.of(0, 1, 0) });
    expect(rim!.unpoweredOutlines).toMatchObject({
      items: [
        { outline: 0, location: at('coaster.svg', 4) },
        { outline: 2, location: at('coaster.svg', 6) },
      ],
      endedEarly: 'too many lines',
    });
    expect(rim!.unpoweredOutlines.items[0]).toEqual({ outline: 0, location: at('coaster.svg', 4) });
    expect(bore!.unpoweredOutlines.items.map(({ outline }) => outline)).toEqual([1]);
  });
});

describe('a lead', () => {
  /** Strokes in a row along X from 0 on, of these lengths; `off` before which of them the beam was off. */
  const settled = (lengths: number[], tasks: number[], ...off: number[]) => {
    const ends = lengths.map((_, i): [number, number] => [lengths.slice(0, i + 1).reduce((sum, mm) => sum + mm, 0), 0]);
    const strokes = strokesThrough([[0, 0], ...ends]);
    for (const stroke of off) strokes.flags[stroke] = STROKE_STARTS_PATH;
    const of = Int32Array.from(tasks);
    settleLeads(strokes, of);
    return [...of];
  };

  it('is shorter than 5 mm in all', () => {
    expect(settled([4.9, 30], [-1, 0])).toEqual([0, 0]);
    expect(settled([5, 30], [-1, 0])).toEqual([-1, 0]);
    expect(settled([2, 2.9, 30], [-1, -1, 0])).toEqual([0, 0, 0]);
    expect(settled([2, 3, 30], [-1, -1, 0])).toEqual([-1, -1, 0]);
    expect(settled([30, 1, 1, 4], [0, -1, -1, -1])).toEqual([0, -1, -1, -1]);
  });

  it('goes to what it leads into, or else to what it comes out of', () => {
    expect(settled([30, 2, 30], [1, -1, 0])).toEqual([1, 0, 0]);
    expect(settled([30, 2, 30], [1, -1, 0], 2)).toEqual([1, 1, 0]);
    expect(settled([30, 2, 30], [1, -1, 0], 1)).toEqual([1, 0, 0]);
    expect(settled([30, 2, 30], [1, -1, 0], 1, 2)).toEqual([1, -1, 0]);
    expect(settled([30, 2], [1, -1])).toEqual([1, 1]);
    expect(settled([2], [-1])).toEqual([-1]);
  });

  it('ends where the beam goes off: what follows is a lead of its own', () => {
    expect(settled([30, 3, 3, 30], [1, -1, -1, 0], 2)).toEqual([1, 1, 0, 0]);
    expect(settled([2, 2, 30], [-1, -1, 0], 1)).toEqual([-1, 0, 0]);
  });

  it('changes nothing of what has a task, and each is settled by itself', () => {
    expect(settled([2, 30, 2, 30, 2], [-1, 0, -1, 1, -1])).toEqual([0, 0, 1, 1, 1]);
    expect(settled([2, 2], [0, 1])).toEqual([0, 1]);
  });
});
