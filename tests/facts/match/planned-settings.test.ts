// Where the program does something else than the plan says: how far a setting may be off, and what is told of it.
import { describe, expect, it } from 'vitest';
import type { CutFact, PassFact } from '../../../src/facts/cuts/cut-fact.ts';
import { settingsThatDiffer } from '../../../src/facts/match/planned-settings.ts';
import { factsOf, shed } from '../../memory-shop.ts';

/** The plan stands on line 9 of the sidecar. */
const read = (plan: string) =>
  factsOf({
    ...shed(),
    'part.job.yaml': `kerflint: 1\nmachine: shed-60w\nlens: 2in\nmaterial: birch-plywood\nthickness: 3 mm\ntoolpath: part.gcode\n\ntasks:\n  - { name: rim, aim: through${plan} }\n`,
    'part.gcode': 'G21 G90\nM8\nM4 S800 F600\nG0 X10 Y10\nG1 X60\nM5\nM9\nM2\n',
  });

interface Run extends Partial<PassFact> {
  lengthMm?: number;
  taskIndex?: number;
  line?: number;
}

/** What differs where the one cut, or each of several, has these passes. */
function differing(plan: string, ...cuts: Run[][]) {
  const facts = read(plan);
  const [only] = facts.cuts;
  const made = cuts.map((passes): CutFact => {
    const [{ lengthMm = 100, taskIndex = 0, line = 5 } = {}] = passes;
    return {
      ...only!,
      lengthMm,
      taskIndex,
      location: { ...only!.location, line },
      passes: passes.map((pass) => ({ ...only!.passes[0]!, ...pass })),
    };
  });
  const none = new Int32Array(0);
  const assignment = {
    tasks: facts.tasks,
    ofStroke: Int32Array.of(0),
    ofArea: none,
    ofOutline: none,
    orphans: -1,
    endedEarly: null,
  };
  return settingsThatDiffer(facts.input.sidecar!, assignment, made);
}
const told = (plan: string, ...cuts: Run[][]) =>
  differing(plan, ...cuts).map(({ what, planned, found }) => [what, planned, found]);

describe('a setting of the program', () => {
  it.each<[string, string, Run[], Run[], string[]]>([
    [
      'power, as a share',
      ', power: 80 %',
      [{ setting: 0.8055 }, { setting: 0.7945 }],
      [{ setting: 0.81 }, { setting: 0.79 }],
      ['power', '80 %', '81 %'],
    ],
    [
      'power, in watts',
      ', power: 20 W',
      [{ powerW: 21 }, { powerW: 19 }],
      [{ powerW: 21.1 }, { powerW: 18.9 }],
      ['power', '20 W', '21.1 W'],
    ],
    [
      'much power, in watts',
      ', power: 100 W',
      [{ powerW: 102 }, { powerW: 98 }],
      [{ powerW: 102.1 }, { powerW: 97.9 }],
      ['power', '100 W', '102 W'],
    ],
    [
      'speed',
      ', speed: 10 mm/s',
      [{ programmedMmPerS: 10.19 }, { programmedMmPerS: 9.81 }],
      [{ programmedMmPerS: 10.3 }, { programmedMmPerS: 9.7 }],
      ['speed', '10 mm/s', '10.3 mm/s'],
    ],
    [
      'focus',
      ', focus: -1 mm',
      [{ focusMm: -1.04 }, { focusMm: -0.96 }],
      [{ focusMm: -1.06 }, { focusMm: -0.94 }],
      ['focus', '-1.0 mm', '-1.06 mm'],
    ],
  ])('is the planned one as near as programs round: %s', (_, plan, near, off, says) => {
    for (const pass of near) expect(told(plan, [pass])).toEqual([]);
    for (const pass of off) expect(told(plan, [pass])).toHaveLength(1);
    expect(told(plan, [off[0]!])).toEqual([says]);
    // Nothing is held against what the plan leaves open.
    for (const pass of off) expect(told('', [pass])).toEqual([]);
  });

  it('is told of a later pass as well, but for the focus, which is planned for the first', () => {
    const later: Run = { setting: 0.5, powerW: 20, programmedMmPerS: 20, focusMm: -2 };
    expect(told(', power: 80 %, speed: 10 mm/s, focus: 0 mm', [{}, later])).toEqual([
      ['power', '80 %', '50 %'],
      ['speed', '10 mm/s', '20 mm/s'],
    ]);
    expect(told(', power: 40 W', [{ powerW: 40 }, later])).toEqual([['power', '40 W', '20 W']]);
  });

  it('is air that is off in any pass, where a pressure is planned', () => {
    expect(told(', air: 1 bar', [{ air: true }, { air: false }])).toEqual([['air', '1 bar', 'air off']]);
    expect(told(', air: 1 bar', [{ air: true }])).toEqual([]);
    expect(told(', air: 0 bar', [{ air: false }])).toEqual([]);
    expect(told('', [{ air: false }])).toEqual([]);
  });

  it('is the number of passes', () => {
    expect(told(', passes: 2', [{}])).toEqual([['passes', '2 passes', '1 pass']]);
    expect(told(', passes: 1', [{}, {}])).toEqual([['passes', '1 pass', '2 passes']]);
    expect(told(', passes: 2', [{}, {}])).toEqual([]);
    expect(told('', [{}, {}])).toEqual([]);
  });
});

describe('where outlines begin and end', () => {
  const plan = ', passes: 1, speed: 10 mm/s';
  const twice = (lengthMm: number): Run[] => [{ lengthMm }, {}];

  it('short stretches of other passes are told only from 3 mm on', () => {
    expect(told(plan, twice(2.9))).toEqual([]);
    expect(told(plan, twice(3))).toEqual([['passes', '1 pass', '2 passes']]);
  });

  it('and from a twentieth of their task on', () => {
    expect(told(plan, [{ lengthMm: 951 }], twice(49))).toEqual([]);
    expect(told(plan, [{ lengthMm: 950 }], twice(50))).toEqual([['passes', '1 pass', '2 passes']]);
    // The lengths of other tasks do not count.
    expect(told(plan, [{ lengthMm: 9000, taskIndex: 1 }], twice(50))).toEqual([['passes', '1 pass', '2 passes']]);
  });

  it('other settings are told however short the stretch is', () => {
    expect(told(plan, [{ lengthMm: 1, programmedMmPerS: 20 }])).toEqual([['speed', '10 mm/s', '20 mm/s']]);
  });
});

describe('a difference', () => {
  it('is told once for all cuts that have it, with their length and the first place', () => {
    const slow = (lengthMm: number, line: number): Run[] => [{ lengthMm, line, programmedMmPerS: 5 }];
    const [only, ...others] = differing(', speed: 10 mm/s', slow(40, 6), slow(60, 9));
    expect(others).toEqual([]);
    expect(only).toMatchObject({
      task: 'rim',
      what: 'speed',
      lengthMm: 100,
      location: { file: 'part.gcode', line: 6 },
      plannedAt: { file: 'part.job.yaml', line: 9 },
    });
  });

  it('is another one where another value is found', () => {
    const at = (programmedMmPerS: number): Run[] => [{ programmedMmPerS }];
    expect(told(', speed: 10 mm/s', at(5), at(6))).toEqual([
      ['speed', '10 mm/s', '5 mm/s'],
      ['speed', '10 mm/s', '6 mm/s'],
    ]);
  });

  it('is none of a task that the program does not have', () => {
    expect(told(', speed: 10 mm/s', [{ programmedMmPerS: 5, taskIndex: 1 }])).toEqual([]);
    const facts = read(', speed: 10 mm/s');
    const none = new Int32Array(0);
    const nowhere = {
      tasks: facts.tasks,
      ofStroke: none,
      ofArea: none,
      ofOutline: none,
      orphans: -1,
      endedEarly: null,
    };
    const slow = { ...facts.cuts[0]!, passes: [{ ...facts.cuts[0]!.passes[0]!, programmedMmPerS: 5 }] };
    expect(settingsThatDiffer(facts.input.sidecar!, nowhere, [slow])).toEqual([]);
  });
});
