// From which settings on a program is said to count power on another scale, and what is said of it.
import { describe, expect, it } from 'vitest';
import type { PredictorOrReason } from '../../../src/facts/cuts/predictor-of-job.ts';
import {
  HOW_TO_STATE_THE_SCALE,
  ofMissingScale,
  ofScaleDoubt,
  type ScaleDoubt,
  scaleDoubtOf,
  unlessOffScale,
} from '../../../src/facts/power-scale/power-scale.ts';
import type { TaskFact } from '../../../src/facts/tasks/task-fact.ts';
import type { Machine, Task } from '../../../src/job/model.ts';
import { factsOf, shed } from '../../memory-shop.ts';

const facts = factsOf({
  ...shed(),
  'part.job.yaml':
    'kerflint: 1\nmachine: shed-60w\nmaterial: mdf\nthickness: 3 mm\ntoolpath: part.gcode\ntasks: [{ name: rim, aim: through }]\n',
  'part.gcode': 'G21 G90\nM3 S500 F600\nG1 X10\nM5\nM2\n',
});
const SHED = facts.machine!;
const machineWith = (full: number): Machine => ({
  ...SHED,
  controller: { ...SHED.controller, power: { ...SHED.controller.power!, full } },
});
const planning = (power: Task['power']): TaskFact => ({
  ...facts.tasks[0]!,
  planned: { ...facts.tasks[0]!.planned!, power },
});
const place = { line: 2, column: 4, endLine: 2, endColumn: 8 };

/** A program whose highest setting is so much, on a machine of such a scale, with these planned shares. */
function doubt(raw: number, full: number, planned: readonly number[] = [], slack?: number): ScaleDoubt | null {
  const toolpath = { ...facts.toolpath!, highestSetting: { value: raw / full, raw, place } };
  const tasks = planned.length > 0 ? planned.map((fraction) => planning({ fraction })) : [planning(null)];
  return scaleDoubtOf({ toolpath, machine: machineWith(full), tasks }, slack);
}

describe('a program whose power is planned', () => {
  it('is on another scale where it fits the plan there alone', () => {
    expect(doubt(204, 1000, [0.8])).toEqual({
      kind: 'planned',
      raw: 204,
      share: 0.204,
      full: 1000,
      scale: 255,
      planned: 0.8,
      place,
    });
    expect(doubt(800, 255, [0.8])).toMatchObject({ kind: 'planned', scale: 1000 });
    expect(doubt(0.8, 1000, [0.8])).toMatchObject({ scale: 1 });
  });

  it('is held against the highest of its plans', () => {
    expect(doubt(204, 1000, [0.3, 0.8, 0.5])).toMatchObject({ planned: 0.8, scale: 255 });
  });

  it('is on the profile’s scale within a tenth of the plan', () => {
    // However much another scale may be off, here all of it.
    expect(doubt(880, 1000, [0.8])).toBeNull();
    expect(doubt(720, 1000, [0.8])).toBeNull();
    expect(doubt(719, 1000, [0.8], 1)).not.toBeNull();
    expect(doubt(881, 1000, [0.8], 1)).not.toBeNull();
  });

  it('fits another scale within two hundredths', () => {
    // 82 % and 78 % of 100, and a hundredth of a percent beyond.
    expect(doubt(82, 1000, [0.8])).toMatchObject({ scale: 100 });
    expect(doubt(78, 1000, [0.8])).toMatchObject({ scale: 100 });
    expect(doubt(82.01, 1000, [0.8])).toBeNull();
    expect(doubt(77.99, 1000, [0.8])).toBeNull();
    expect(doubt(84, 1000, [0.8], 0.05)).toMatchObject({ scale: 100 });
  });

  it('fits no scale that it goes beyond', () => {
    expect(doubt(100, 1000, [1])).toMatchObject({ scale: 100 });
    expect(doubt(101, 1000, [1])).toBeNull();
  });

  it('fits no scale that is the profile’s but for a hundredth', () => {
    // 1023 and 1024 differ by a thousandth, and are one scale.
    expect(doubt(512, 1024, [0.8])).toBeNull();
    expect(doubt(900, 1023, [0.7], 0.2)).toMatchObject({ scale: 1000 });
    expect(doubt(900, 1009, [0.7], 0.2)).toMatchObject({ scale: 1023 });
    expect(doubt(900, 1011, [0.7], 0.2)).toMatchObject({ scale: 1000 });
  });
});

describe('a program whose power is not planned', () => {
  it('is on another scale where it is exactly full there', () => {
    expect(doubt(255, 1000)).toEqual({
      kind: 'topped',
      raw: 255,
      share: 0.255,
      full: 1000,
      scale: 255,
      planned: null,
      place,
    });
    expect(doubt(1000, 255)).toMatchObject({ kind: 'topped', scale: 1000 });
    expect([doubt(254, 1000), doubt(256, 1000)?.scale]).toEqual([null, 256]);
  });

  it('is on the profile’s scale where it is a round share of it', () => {
    // 100 of 1000 is 10 %, 1000 of 4095 is 24.42 %.
    expect(doubt(100, 1000)).toBeNull();
    expect(doubt(1000, 4095)).toMatchObject({ scale: 1000 });
    // Beyond the profile’s full no share is round.
    expect(doubt(1000, 100)).toMatchObject({ scale: 1000 });
  });

  it('may set a power of 1', () => {
    expect(doubt(1, 255)).toBeNull();
  });

  it('is one where a task leaves its power open, or states watts', () => {
    const toolpath = { ...facts.toolpath!, highestSetting: { value: 0.255, raw: 255, place } };
    const with2 = (power: Task['power']) =>
      scaleDoubtOf({ toolpath, machine: SHED, tasks: [planning({ fraction: 0.8 }), planning(power)] });
    expect(with2(null)).toMatchObject({ kind: 'topped', planned: null });
    expect(with2({ watts: 40 })).toMatchObject({ kind: 'topped', planned: null });
    expect(scaleDoubtOf({ toolpath, machine: SHED, tasks: [{ ...facts.tasks[0]!, planned: null }] })).toMatchObject({
      kind: 'topped',
    });
  });
});

describe('nothing says that the scale is another one', () => {
  const topped = { ...facts.toolpath!, highestSetting: { value: 0.255, raw: 255, place } };
  const of = (more: object) => scaleDoubtOf({ toolpath: topped, machine: SHED, tasks: facts.tasks, ...more });

  it('where there is no program, no power in it, no machine, or no scale in its profile', () => {
    expect(of({})).not.toBeNull();
    expect(of({ toolpath: null })).toBeNull();
    expect(of({ toolpath: { ...topped, highestSetting: null } })).toBeNull();
    expect(of({ machine: null })).toBeNull();
    expect(of({ machine: { ...SHED, controller: { ...SHED.controller, power: null } } })).toBeNull();
  });

  it('where the program sets the scale itself', () => {
    const problem = (code: string, what: string) => ({ ...topped, problems: [{ code, place, args: { what } }] });
    expect(of({ toolpath: problem('other-scale', 'full') })).toBeNull();
    expect(of({ toolpath: problem('other-scale', 'mode') })).not.toBeNull();
    expect(of({ toolpath: problem('other-code', 'full') })).not.toBeNull();
  });
});

describe('what is said', () => {
  const found = doubt(204, 1000, [0.8]);

  it('leaves nothing predicted', () => {
    const known: PredictorOrReason = { predictor: null, notPredicted: 'the lens is not known' };
    expect(unlessOffScale(known, null)).toBe(known);
    expect(unlessOffScale(known, found)).toEqual({
      predictor: null,
      notPredicted:
        'the program seems to count power on another scale: its highest is 204, which fits a full power of 255 and not 1000',
    });
  });

  it('is one question, with the way out', () => {
    expect(ofScaleDoubt(null)).toEqual([]);
    expect(ofScaleDoubt(found)).toEqual([
      {
        fact: 'power-scale',
        what: 'what power the beam has, and whether the sheet parts',
        missing:
          "the program seems to count power on another scale: its highest is 204, 20.4 % of the machine's 1000, and fits a full power of 255",
        remedy:
          "Export with full power at 1000, or correct `controller.power` in the machine's profile. If the setting is meant, plan it as `power` in the sidecar.",
      },
    ]);
  });

  it('is another one where no scale is stated, and says how high the program goes where that could be read', () => {
    const open: Machine = { ...SHED, controller: { ...SHED.controller, power: null } };
    const asked = {
      fact: 'power-scale',
      what: 'what power the beam has, and whether the sheet parts',
      missing:
        'the toolpath was not analysed: the profile of shed-60w does not state `controller.power`, and it is never assumed',
    };
    expect(HOW_TO_STATE_THE_SCALE).toBe(
      "Write `controller: { power: { word: S, full: 1000 } }` with the value that gives full power: it stands in the controller's settings or manual.",
    );
    expect(ofMissingScale(open, true, null)).toEqual([{ ...asked, remedy: HOW_TO_STATE_THE_SCALE }]);
    expect(ofMissingScale(open, true, 800)).toEqual([
      { ...asked, remedy: `${HOW_TO_STATE_THE_SCALE} The program goes up to 800.` },
    ]);
    expect([
      ofMissingScale(open, false, 800),
      ofMissingScale(null, true, 800),
      ofMissingScale(SHED, true, 800),
    ]).toEqual([[], [], []]);
  });
});
