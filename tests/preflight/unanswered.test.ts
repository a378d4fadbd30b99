import { describe, expect, it } from 'vitest';
import type { JobResult } from '../../src/findings/result.ts';
import { type Files, run, shed } from '../memory-shop.ts';

/** A question that nobody answered leaves the job incomplete, and the result says as data what is missing and how to give it. */

const SQUARE =
  '<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="80mm" viewBox="0 0 120 80"><path fill="none" stroke="#7a5195" d="M10 10H90V34H10Z"/></svg>';
const PROGRAM = 'G21 G90\nM8\nM4 S800 F540\n(rim)\nG0 X10 Y10\nG1 X90\nG1 Y34\nG1 X10\nG1 Y10\n';
const END = 'M5\nM9\nM2\n';
const TASK = '{ name: rim, aim: through, power: 80 %, speed: 9 mm/s, air: 1 bar }';

interface Said {
  machine?: string | null;
  material?: string | null;
  thickness?: string | null;
  lens?: string;
  tasks?: readonly string[];
  toolpath?: string;
}

/** A job of the tool library's seed tray; null leaves the line out. */
function judged(said: Said, more: Files = {}): JobResult {
  const { machine = 'shed-60w', material = 'birch-plywood', thickness = '3.0 mm ± 0.1 mm', lens = '2in' } = said;
  const line = (key: string, value: string | null) => (value === null ? '' : `${key}: ${value}\n`);
  const named = said.toolpath === undefined ? 'artwork: tray.svg\n' : 'zero: set-by-hand\ntoolpath: tray.gcode\n';
  const { jobs } = run({
    ...shed(),
    'tray.job.yaml': `kerflint: 1\n${line('machine', machine)}lens: ${lens}\n${line('material', material)}${line('thickness', thickness)}${named}tasks:\n${(said.tasks ?? [TASK]).map((task) => `  - ${task}\n`).join('')}`,
    ...(said.toolpath === undefined ? { 'tray.svg': SQUARE } : { 'tray.gcode': said.toolpath }),
    ...more,
  });
  return jobs.find(({ sidecar }) => sidecar === 'tray.job.yaml')!;
}

const bare = (options: Parameters<typeof run>[1]): JobResult =>
  run({ ...shed(), 'tray.svg': SQUARE }, { untrusted: false, ...options }, ['tray.svg']).jobs[0]!;

const openTask = '{ name: rim, aim: through }';

describe('a question that nobody answered', () => {
  it.each<[string, JobResult, string, string, string]>([
    [
      'no machine',
      judged({ machine: null }),
      'machine',
      'no machine is named',
      'Write `machine: <id>` in tray.job.yaml',
    ],
    ['a machine left empty', judged({ machine: '' }), 'machine', 'no machine is named', 'Fill in `machine:` on line 2'],
    ['a machine that nobody knows', judged({ machine: 'barn' }), 'machine', 'the machine is not known here', 'init'],
    ['no material', judged({ material: null }), 'material', 'no material is named', 'Write `material: <id>`'],
    ['an unknown material', judged({ material: 'unknown' }), 'material', 'the material is unknown', 'data sheet'],
    ['no thickness', judged({ thickness: null }), 'thickness', 'no thickness is given', 'Measure the sheet: write'],
    [
      'no thickness with a toolpath',
      judged({ thickness: null, toolpath: PROGRAM + END }),
      'thickness',
      'no thickness is given',
      'thickness: 6.0 mm',
    ],
    ['bare artwork without a machine', bare({}), 'machine', 'no machine is named', 'Give `--machine <id>`'],
    [
      'bare artwork without a thickness',
      bare({ machine: 'shed-60w', material: 'mdf' }),
      'thickness',
      'no thickness is given',
      'give `--thickness "6.0 mm"`',
    ],
    [
      'a lens that the machine does not have',
      judged({ lens: '3in', toolpath: PROGRAM + END }),
      'lens',
      'there is no prediction for task "rim": the lens is not known',
      'Name a lens that shed-60w has: 2in, 1.5in, 4in',
    ],
    [
      'power that rounds to nothing',
      judged({ tasks: ['{ name: rim, aim: through, power: 0.001 W, speed: 9 mm/s }'] }),
      'prediction',
      'there is no prediction for task "rim": no pass has any power',
      'Put right the settings at line',
    ],
    [
      'strokes of no task that do not part the sheet',
      judged({
        tasks: ['{ name: rim, aim: through, program: { comment: rim }, power: 80 %, speed: 9 mm/s, air: 1 bar }'],
        toolpath: `${PROGRAM}(trial)\nM4 S200 F1800\nG0 X20 Y50\nG1 X60\nG1 Y70\n${END}`,
      }),
      'task',
      '2 strokes, line 13 and on, belong to no task: only a line, or through?',
      'Add a task that selects them',
    ],
  ])('%s', (_, job, fact, missing, remedy) => {
    expect(job.verdict).toBe('incomplete');
    const found = job.unanswered!.find((one) => one.missing === missing);
    expect(found, JSON.stringify(job.unanswered)).toMatchObject({ fact });
    expect(found!.remedy).toContain(remedy);
    expect(job.incomplete).toEqual(job.unanswered!.map((one) => one.missing));
  });

  it('is asked of no job that says everything', () => {
    for (const job of [judged({}), judged({ toolpath: PROGRAM + END }), judged({ tasks: [openTask] })]) {
      expect(job).toMatchObject({ verdict: 'pass', incomplete: [], unanswered: [] });
    }
  });

  it('is not asked for a thickness where areas are only marked', () => {
    const marked = judged({ thickness: null, tasks: ['{ name: rim, aim: surface, power: 20 %, speed: 100 mm/s }'] });
    expect(marked).toMatchObject({ verdict: 'pass', unanswered: [] });
  });

  it('is none where an error is the answer: what a source never cuts', () => {
    const job = judged({ material: 'anodised-aluminium', thickness: '1 mm' });
    expect(job).toMatchObject({ verdict: 'fail', unanswered: [] });
  });
});

describe('artwork without settings', () => {
  it.each([
    ['3 mm', 'pass', 'cut/proposed', 'note'],
    ['40 mm', 'fail', 'cut/out-of-reach', 'error'],
  ])('of %s is judged by what the machine can do', (thickness, verdict, rule, severity) => {
    const job = judged({ thickness, tasks: [openTask] });
    expect(job.verdict).toBe(verdict);
    expect(job.findings.find((one) => one.rule === rule)).toMatchObject({ severity });
    expect(job.cuts[0]!.reach).toMatchObject({ limit: 0.9, surest: { passes: 3 } });
    expect(job.cuts[0]!.reach!.proposed === null).toBe(verdict === 'fail');
  });

  it('is meant to part along every outline where it stands alone', () => {
    const job = bare({ machine: 'shed-60w', material: 'birch-plywood', thickness: '40 mm' });
    expect(job.verdict).toBe('fail');
    expect(job.findings.map((one) => one.rule)).toContain('cut/out-of-reach');
  });

  it('is held to what is planned already', () => {
    const job = judged({ tasks: ['{ name: rim, aim: through, speed: 200 mm/s }'] });
    expect(job.findings.find((one) => one.rule === 'cut/out-of-reach')).toMatchObject({ severity: 'error' });
  });

  it('plans what then is predicted to part', () => {
    const { proposed } = judged({ tasks: [openTask] }).cuts[0]!.reach!;
    const { setting, speedMmPerS, passes, focusMm, focusStepMm } = proposed!;
    const planned = judged({
      tasks: [
        `{ name: rim, aim: through, power: ${setting * 100} %, speed: ${speedMmPerS} mm/s, passes: ${passes}, focus: ${focusMm} mm, focus-step: ${focusStepMm} mm, air: 1 bar }`,
      ],
    });
    expect(planned.cuts[0]!.throughProbability).toBeCloseTo(proposed!.throughProbability, 1);
    expect(planned.findings.filter((one) => one.severity !== 'note')).toEqual([]);
  });
});

it('passes that nobody planned cannot differ from those of the toolpath', () => {
  const twice = PROGRAM + PROGRAM.slice(PROGRAM.indexOf('G0')) + END;
  const rules = (tasks: string[]) => judged({ tasks, toolpath: twice }).findings.map((one) => one.rule);
  expect(rules([TASK])).not.toContain('match/settings-differ');
  expect(rules([TASK.replace('air:', 'passes: 1, air:')])).toContain('match/settings-differ');
});

describe('a material that is not known here', () => {
  it.each([
    ['pvv', 'Keep the sheet from the beam until it is known what it is, then describe the material'],
    ['garden-slate-of-1911', 'Correct the name, or describe the material'],
  ])('"%s": what to do depends on whether its name is like that of a hazard', (material, remedy) => {
    const { unanswered } = judged({ material });
    expect(unanswered!.filter(({ fact }) => fact === 'material').map((one) => one.remedy)).toEqual([
      expect.stringContaining(remedy),
    ]);
  });
});
