import { describe, expect, it } from 'vitest';
import type { CutFact } from '../../../src/facts/cuts/cut-fact.ts';
import { ofCuts } from '../../../src/facts/unanswered/of-cuts.ts';
import { artworkOnly, at, cut, facts, machine, material, task } from '../../rules/build-facts.ts';
import { proposal } from '../../rules/build-recipes.ts';

/** A cut of a task that was not predicted, and why. */
const open = (name: string, notPredicted: string | null = 'no pass has any power', change: Partial<CutFact> = {}) =>
  cut({ task: name, prediction: null, notPredicted, ...change });

const asked = (cuts: CutFact[], change: Parameters<typeof facts>[0] = {}) => ofCuts(facts({ cuts, ...change }));

describe('cuts that are meant to part the sheet and have no prediction', () => {
  it('leave open whether it parts, with the reason and where to put it right', () => {
    expect(asked([cut(), open('rim')])).toEqual([
      {
        fact: 'prediction',
        what: 'whether the sheet parts',
        missing: 'there is no prediction for task "rim": no pass has any power',
        remedy:
          'Put right the settings at line 6 of coaster.gcode, or the entry of the machine or material that the reason names.',
      },
    ]);
  });

  it('ask for a lens that the machine has where none is known', () => {
    expect(asked([open('rim', 'the lens is not known')], { lens: null })).toEqual([
      {
        fact: 'lens',
        what: 'whether the sheet parts',
        missing: 'there is no prediction for task "rim": the lens is not known',
        remedy: 'Name a lens that shed-60w has: 2in, 4in.',
      },
    ]);
  });

  it('are told together where the reason is one: each task once, three by name', () => {
    const missing = (...names: string[]) => asked(names.map((name) => open(name))).map((one) => one.missing);
    const why = 'no pass has any power';
    expect(missing('rim', 'rim')).toEqual([`there is no prediction for task "rim": ${why}`]);
    expect(missing('rim', 'hole')).toEqual([`there is no prediction for tasks "rim", "hole": ${why}`]);
    expect(missing('a', 'b', 'c')).toEqual([`there is no prediction for tasks "a", "b", "c": ${why}`]);
    expect(missing('a', 'b', 'c', 'd', 'e')).toEqual([
      `there is no prediction for tasks "a", "b", "c" and 2 more: ${why}`,
    ]);
  });

  it('are told by reason, with the settings of the first of each', () => {
    const cuts = [
      open('rim', 'no pass has any power', { settingLocation: at('coaster.gcode', 20) }),
      open('hole', 'no speed is stated', { settingLocation: at('coaster.gcode', 30) }),
      open('slot', 'no pass has any power', { settingLocation: at('coaster.gcode', 40) }),
    ];
    expect(asked(cuts).map(({ missing }) => missing)).toEqual([
      'there is no prediction for tasks "rim", "slot": no pass has any power',
      'there is no prediction for task "hole": no speed is stated',
    ]);
    expect(asked(cuts).map(({ remedy }) => /line \d+/.exec(remedy)?.[0])).toEqual(['line 20', 'line 30']);
  });

  it('say at least that nothing was computed', () => {
    expect(asked([open('rim', null)])[0]!.missing).toBe('there is no prediction for task "rim": it was not computed');
  });
});

describe('cuts without a prediction leave nothing open', () => {
  const rim = [open('rim')];

  it('where they are not meant to part the sheet', () => {
    expect(asked([open('rim', 'x', { aim: 'groove' }), open('rim', 'x', { aim: 'surface' })])).toEqual([]);
  });

  it.each<[string, Parameters<typeof facts>[0]]>([
    ['the machine', { machine: null }],
    ['the material', { material: null }],
    ['the thickness', { thicknessMm: null }],
  ])('where %s is missing: that is asked for itself', (_, change) => {
    expect(asked(rim, change)).toEqual([]);
  });

  it('where the source never cuts the material: that is an answer', () => {
    expect(asked(rim, { material: material({ sources: { co2: 'marks-only' } }) })).toEqual([]);
    expect(asked(rim, { material: material({ hazard: { class: 'never' } }) })).toEqual([]);
    expect(asked(rim, { machine: machine({ source: { kind: 'fibre' } }) })).toEqual([]);
  });

  it('where the scale of the power is in doubt: that is asked for itself', () => {
    const scaleDoubt = {
      kind: 'topped',
      raw: 255,
      share: 0.255,
      full: 1000,
      scale: 255,
      planned: null,
      place: at('', 6),
    } as const;
    expect(asked(rim, { scaleDoubt })).toEqual([]);
  });

  it('where the toolpath has no stroke of their task: then nothing of it runs', () => {
    const idle = task({ strokes: new Uint32Array(0) });
    expect(asked(rim, { tasks: [idle] })).toEqual([]);
    expect(asked([open('rim', 'x', { taskIndex: 7 })])).toEqual([]);
    expect(asked([open('rim', 'x', { taskIndex: 1 })], { tasks: [idle, task()] })).toHaveLength(1);
    expect(ofCuts(artworkOnly({ cuts: rim, tasks: [idle] }))).toHaveLength(1);
  });

  it('where the work on them was given up: that is told of the search for passes', () => {
    const ended = 'too many passes: no pass has any power';
    expect(asked(rim, { cutsEndedEarly: ended })).toEqual([]);
    expect(asked(rim, { cutsEndedEarly: 'too many passes' })).toHaveLength(1);
  });

  it('where they are judged by what the machine can do', () => {
    const [first, second] = [open('rim', 'no settings'), open('hole', 'no settings')];
    const left = ofCuts(artworkOnly({ cuts: [first, second], proposals: [proposal([first])] }));
    expect(left.map(({ missing }) => missing)).toEqual(['there is no prediction for task "hole": no settings']);
  });
});

describe('strokes that belong to no task', () => {
  const unclaimed = (strokes: number) => ({
    parting: null,
    open: { strokes, lengthMm: 50, location: at('coaster.gcode', 13), throughProbability: null },
  });

  it('leave open what they are for, unless they are sure to part the sheet', () => {
    expect(asked([cut()], { unclaimed: unclaimed(1) })).toEqual([
      {
        fact: 'task',
        what: 'what these strokes are for',
        missing: '1 stroke, line 13 and on, belongs to no task: only a line, or through?',
        remedy:
          'Add a task that selects them by `program` and states its aim (through, groove or surface), or take them out of the toolpath.',
      },
    ]);
    expect(asked([cut()], { unclaimed: unclaimed(2) })[0]!.missing).toBe(
      '2 strokes, line 13 and on, belong to no task: only a line, or through?',
    );
    expect(asked([cut()], { unclaimed: { parting: unclaimed(2).open, open: null } })).toEqual([]);
  });

  it('are asked for after the cuts, also where those cannot be judged', () => {
    expect(asked([open('rim')], { unclaimed: unclaimed(1) }).map(({ fact }) => fact)).toEqual(['prediction', 'task']);
    expect(asked([open('rim')], { unclaimed: unclaimed(1), machine: null }).map(({ fact }) => fact)).toEqual(['task']);
  });
});
