import { describe, expect, it } from 'vitest';
import { type Files, factsOf, shed } from '../memory-shop.ts';

const job = (tasks: string, gcode: string): Files => ({
  ...shed(),
  'part.job.yaml': `kerflint: 1
machine: shed-60w
lens: 2in
material: birch-plywood
thickness: 3 mm ± 0.1 mm
zero: machine
toolpath: part.gcode
${tasks === '' ? '' : `tasks:\n${tasks}`}`,
  'part.gcode': `G21 G90\nM8\n${gcode}\nM5\nM9\nM2\n`,
});

/** Lines of the program at which each task's strokes stand. */
function linesOf(tasks: string, gcode: string): Record<string, number[]> {
  const facts = factsOf(job(tasks, gcode));
  const { line } = facts.toolpath!.strokes;
  return Object.fromEntries(facts.tasks.map((task) => [task.name, Array.from(task.strokes, (i) => line[i]!)]));
}

const GCODE = [
  'M4 F600', // line 3
  '(  Outer   RIM )',
  'G1 X10 S800',
  '(holes)',
  'T2',
  'G1 X20 S800',
  'G1 X30 S500',
  'G1 X40 S500 F1200',
].join('\n');

describe('strokes of the toolpath belong to the first task whose selector fits', () => {
  it.each<[string, string, Record<string, number[]>]>([
    [
      'by the comment, whatever its case and blanks',
      '  - { name: rim, aim: through, program: { comment: outer rim } }\n',
      { rim: [5], 'unclaimed strokes': [8, 9, 10] },
    ],
    [
      'by the tool',
      '  - { name: holes, aim: through, program: { tool: 2 } }\n',
      { holes: [8, 9, 10], 'unclaimed strokes': [5] },
    ],
    [
      'by the power as a share of full',
      '  - { name: weak, aim: groove, program: { power: 50 % } }\n',
      { weak: [9, 10], 'unclaimed strokes': [5, 8] },
    ],
    [
      'by the power in watts, of the 54 W that were measured',
      '  - { name: weak, aim: groove, program: { power: 27 W } }\n',
      { weak: [9, 10], 'unclaimed strokes': [5, 8] },
    ],
    [
      'by the feed',
      '  - { name: fast, aim: groove, program: { feed: 20 mm/s } }\n',
      { fast: [10], 'unclaimed strokes': [5, 8, 9] },
    ],
    [
      'by all that is said at once',
      '  - { name: one, aim: groove, program: { comment: holes, tool: 2, power: 50 %, feed: 10 mm/s } }\n',
      { one: [9], 'unclaimed strokes': [5, 8, 10] },
    ],
    [
      'and to the first of two',
      '  - { name: one, aim: groove, program: { tool: 2 } }\n  - { name: two, aim: groove, program: { power: 50 % } }\n',
      { one: [8, 9, 10], two: [], 'unclaimed strokes': [5] },
    ],
    [
      'and the rest to the one task that selects nothing',
      '  - { name: rim, aim: through, program: { comment: outer rim } }\n  - { name: rest, aim: groove }\n',
      { rim: [5], rest: [8, 9, 10] },
    ],
    [
      'but to none of two that select nothing',
      '  - { name: a, aim: through }\n  - { name: b, aim: groove }\n',
      { a: [], b: [], 'unclaimed strokes': [5, 8, 9, 10] },
    ],
    ['and to an implied one where no task is planned', '', { 'all strokes': [5, 8, 9, 10] }],
  ])('%s', (_, tasks, expected) => {
    expect(linesOf(tasks, GCODE)).toEqual(expected);
  });

  it('what no task claims is a groove, at the first line of it', () => {
    const facts = factsOf(job('  - { name: holes, aim: through, program: { comment: holes } }\n', GCODE));
    expect(facts.tasks.find((task) => task.name === 'unclaimed strokes')).toMatchObject({
      aim: 'groove',
      planned: null,
      location: { file: 'part.gcode', line: 5 },
    });
  });
});

describe('raster areas', () => {
  const rows = Array.from(
    { length: 16 },
    (_, i) => `G0 X${i % 2 ? 40 : 20} Y${10 + i / 10}\nG1 X${i % 2 ? 20 : 40} S300`,
  );
  const raster = ['M4 F6000', '(picture)', 'T3', ...rows].join('\n');
  const areasOf = (tasks: string) =>
    Object.fromEntries(factsOf(job(tasks, raster)).tasks.map((task) => [task.name, task.areas]));

  it.each<[string, string, Record<string, number[]>]>([
    ['by comment', '  - { name: a, aim: surface, program: { comment: Picture } }\n', { a: [0] }],
    ['by tool', '  - { name: a, aim: surface, program: { tool: 3 } }\n', { a: [0] }],
    ['not by another tool', '  - { name: a, aim: surface, program: { tool: 4 } }\n', { a: [] }],
    ['not by another comment', '  - { name: a, aim: surface, program: { comment: frame } }\n', { a: [] }],
    ['by feed, 100 mm/s here', '  - { name: a, aim: surface, program: { feed: 100 mm/s } }\n', { a: [0] }],
    ['not by another feed', '  - { name: a, aim: surface, program: { feed: 90 mm/s } }\n', { a: [] }],
    ['by power, 30 % here', '  - { name: a, aim: surface, program: { power: 30 % } }\n', { a: [0] }],
    ['not by another power', '  - { name: a, aim: surface, program: { power: 40 % } }\n', { a: [] }],
    ['not by a lower one either', '  - { name: a, aim: surface, program: { power: 20 % } }\n', { a: [] }],
    [
      'not where one of several does not fit',
      '  - { name: a, aim: surface, program: { comment: picture, tool: 3, power: 30 %, feed: 90 mm/s } }\n',
      { a: [] },
    ],
    [
      'the one surface that selects nothing takes what is left',
      '  - { name: a, aim: surface }\n  - { name: b, aim: through }\n',
      { a: [0], b: [] },
    ],
    [
      'two such surfaces take nothing',
      '  - { name: a, aim: surface }\n  - { name: b, aim: surface }\n',
      { a: [], b: [] },
    ],
  ])('%s', (_, tasks, expected) => {
    expect(areasOf(tasks)).toEqual(expected);
  });
});

describe('settings other than planned', () => {
  const sidecar = (task: string, gcode: string): Files => ({
    ...job(`  - { name: rim, aim: through, strokes: { stroke: "#9c36b5" }, ${task} }\n`, gcode),
    'part.svg':
      '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100"><path stroke="#9c36b5" fill="none" d="M10 90H60V40H10Z"/></svg>',
  });
  const square = 'G0 X10 Y10\nG1 X60\nG1 Y60\nG1 X10\nG1 Y10\n';
  const settings = (task: string, gcode: string) => {
    const files = sidecar(task, gcode);
    const text = files['part.job.yaml'] as string;
    const facts = factsOf({ ...files, 'part.job.yaml': text.replace('toolpath:', 'artwork: part.svg\ntoolpath:') });
    return facts.match!.settings.map(({ what, planned, found }) => [what, planned, found]);
  };
  const AS_PLANNED = 'power: 80 %, speed: 10 mm/s, passes: 1, focus: 0 mm, air: 1 bar';

  it('are none where all is as planned', () => {
    expect(settings(AS_PLANNED, `M4 S800 F600\n${square}`)).toEqual([]);
  });

  it.each<[string, string, string, string[][]]>([
    ['power', AS_PLANNED.replace('80 %', '60 %'), `M4 S800 F600\n${square}`, [['power', '60 %', '80 %']]],
    ['speed', AS_PLANNED, `M4 S800 F660\n${square}`, [['speed', '10 mm/s', '11 mm/s']]],
    ['passes', AS_PLANNED, `M4 S800 F600\n${square}${square}`, [['passes', '1 pass', '2 passes']]],
    ['focus', AS_PLANNED, `M4 S800 F600\nG0 Z-1\n${square}`, [['focus', '0 mm', '-1.0 mm']]],
    ['air', AS_PLANNED, `M9\nM4 S800 F600\n${square}`, [['air', '1 bar', 'air off']]],
  ])('%s', (_, task, gcode, expected) => {
    const said = settings(task, gcode);
    expect(said.map(([what]) => what)).toEqual(expected.map(([what]) => what));
    expect(said[0]![2]!.replace('−', '-')).toContain(expected[0]![2]!);
  });

  it('air that is not planned is not missed', () => {
    expect(settings(AS_PLANNED.replace(', air: 1 bar', ''), `M9\nM4 S800 F600\n${square}`)).toEqual([]);
  });
});
