// What a cut can be turned to: the limits of the sheet and of the machine, and the words for what keeps a knob from going further.
import { describe, expect, it } from 'vitest';
import { type CutKnobs, knobsOf, thicknessKnob } from '../../../src/facts/what-if/knobs.ts';
import type { Machine, Material } from '../../../src/job/model.ts';
import { factsOf, shed } from '../../memory-shop.ts';
import { OUTLINE } from '../outline.ts';

const facts = factsOf({
  ...shed(),
  'part.job.yaml':
    'kerflint: 1\nmachine: shed-60w\nmaterial: birch-plywood\nthickness: 3 mm\nartwork: part.svg\ntasks: [{ name: outline, aim: through }]\n',
  'part.svg': OUTLINE,
});
const SHED = facts.machine!;
const BIRCH = facts.material!;
const ALL = { turns: true, focusMoves: true };

interface Asked {
  machine?: Machine;
  material?: Material;
  thicknessMm?: number;
  motion?: typeof ALL;
}

const knobs = ({ machine = SHED, material = BIRCH, thicknessMm = 3, motion = ALL }: Asked = {}): CutKnobs =>
  knobsOf({ machine, material, thicknessMm }, motion)!;
const withSource = (source: Partial<Machine['source']>): Machine => ({
  ...SHED,
  source: { ...SHED.source, ...source },
});
const withHead = (speedMmPerS: number): Machine => ({ ...SHED, motion: { ...SHED.motion, speedMmPerS } });
const withZ = (zMm: number | null, zZero: Machine['controller']['zZero'] = 'waist-on-face'): Machine => ({
  ...SHED,
  travel: { ...SHED.travel, zMm },
  controller: { ...SHED.controller, zZero },
});
const clean = (co2: number | null): Material => ({
  ...BIRCH,
  cleanSpeedMmPerS: { ...BIRCH.cleanSpeedMmPerS, co2 },
});
const ends = (values: readonly number[]) => [values[0], values.length, values.at(-1)];

describe('the power that can be set', () => {
  it('goes by whole percents from the firing floor to the ceiling, and names both', () => {
    const { setting } = knobs();
    expect(setting.values.slice(0, 3)).toEqual([0.1, 0.11, 0.12]);
    expect(ends(setting.values)).toEqual([0.1, 76, 0.85]);
    expect(setting).toMatchObject({ leastBy: 'the firing floor of 10 %', mostBy: 'the ceiling of 85 %' });
  });

  it('goes from the least to full power where the profile states neither', () => {
    const { setting } = knobs({ machine: withSource({ floor: null, ceiling: null }) });
    expect(ends(setting.values)).toEqual([0.01, 100, 1]);
    expect(setting).toMatchObject({ leastBy: 'the least power', mostBy: 'full power' });
  });
});

describe('the speed that can be set', () => {
  it('goes in steps that grow with it, from the clean-speed floor to the head’s top speed', () => {
    const { values, leastBy, mostBy } = knobs({ machine: withHead(525) }).speed!;
    const after = (speed: number) => values[values.indexOf(speed) + 1];
    expect(values[0]).toBe(4);
    expect([4, 9.9, 10, 49.5, 50, 99, 100, 495, 500, 520].map(after)).toEqual([
      4.1, 10, 10.5, 50, 51, 100, 105, 500, 510, 525,
    ]);
    expect(values.at(-1)).toBe(525);
    expect([leastBy, mostBy]).toEqual(['the clean-speed floor of 4 mm/s', "the head's top speed of 525 mm/s"]);
  });

  it('comes onto the grid from a floor that lies beside it', () => {
    const from = (floor: number) => knobs({ material: clean(floor) }).speed!.values.slice(0, 3);
    expect(from(4.05)).toEqual([4.05, 4.1, 4.2]);
    expect(from(12.3)).toEqual([12.3, 12.5, 13]);
  });

  it('begins at the slowest that is tried where the material has no floor', () => {
    const { values, leastBy } = knobs({ material: clean(null) }).speed!;
    expect(values.slice(0, 2)).toEqual([0.5, 0.6]);
    expect(leastBy).toBe('the slowest that is tried, 0.5 mm/s');
  });

  it('is the head’s top speed alone where that is the floor or below it', () => {
    for (const top of [4, 3]) expect(knobs({ machine: withHead(top) }).speed!.values).toEqual([top]);
    expect(knobs({ machine: withHead(0.3), material: clean(null) }).speed!.values).toEqual([0.3]);
    expect(knobs({ machine: withHead(4.1) }).speed!.values).toEqual([4, 4.1]);
  });

  it('has no more values than a slider shows, however fast a profile says that the head is', () => {
    const { values } = knobs({ machine: withHead(1e6) }).speed!;
    // Two thousand steps from the floor, and the top speed.
    expect(ends(values)).toEqual([4, 2002, 1e6]);
  });

  it('stays as it is, and the passes with it, where motion cannot be planned anew', () => {
    const { speed, passes, setting } = knobs({ motion: { turns: false, focusMoves: true } });
    expect([speed, passes]).toEqual([null, null]);
    expect(setting.values).toHaveLength(76);
  });
});

describe('the passes that can be run', () => {
  it('are as many as make sense with the kind of source', () => {
    expect(knobs().passes).toEqual({
      values: [1, 2, 3],
      leastBy: '1 pass',
      mostBy: '3 passes with such a source',
    });
    const { values, mostBy } = knobs({ machine: withSource({ kind: 'diode' }) }).passes!;
    expect([ends(values), mostBy]).toEqual([[1, 10, 10], '10 passes with such a source']);
  });
});

describe('where the waist can lie', () => {
  it('is from the underside of the sheet to half its thickness above it', () => {
    const { focus } = knobs();
    expect(ends(focus.values)).toEqual([-3, 46, 1.5]);
    expect(focus.values.slice(0, 2)).toEqual([-3, -2.9]);
    expect(focus.values).toContain(0);
    expect(focus).toMatchObject({ leastBy: 'the underside of the sheet', mostBy: 'half the sheet above its face' });
  });

  it('has both ends where they lie beside the grid', () => {
    const { values } = knobs({ thicknessMm: 3.25 }).focus;
    expect([values.slice(0, 2), values.slice(-2)]).toEqual([
      [-3.25, -3.2],
      [1.6, 1.625],
    ]);
  });

  it.each<[string, number, number[], string, string]>([
    ['less than half the sheet', 1, [-1, 21, 1], 'the travel of Z, 1.0 mm', 'the travel of Z, 1.0 mm'],
    ['half the sheet', 1.5, [-1.5, 31, 1.5], 'the travel of Z, 1.5 mm', 'the travel of Z, 1.5 mm'],
    ['less than the sheet', 2, [-2, 36, 1.5], 'the travel of Z, 2.0 mm', 'half the sheet above its face'],
    ['the sheet', 3, [-3, 46, 1.5], 'the travel of Z, 3.0 mm', 'half the sheet above its face'],
    ['more than the sheet', 3.1, [-3, 46, 1.5], 'the underside of the sheet', 'half the sheet above its face'],
  ])('is within a travel of Z that is %s', (_, zMm, limits, leastBy, mostBy) => {
    const { focus } = knobs({ machine: withZ(zMm) });
    expect(ends(focus.values)).toEqual(limits);
    expect(focus).toMatchObject({ leastBy, mostBy });
  });

  it('is bounded by the sheet alone where Z is fixed, or its travel is not stated', () => {
    const bySheet = knobs().focus;
    expect(knobs({ machine: withZ(1, 'fixed') }).focus).toEqual(bySheet);
    expect(knobs({ machine: withZ(null) }).focus).toEqual(bySheet);
  });

  it('can be lowered from pass to pass by the sheet at most, where the focus moves', () => {
    const { focusStep } = knobs();
    expect(ends(focusStep!.values)).toEqual([-3, 31, 0]);
    expect(focusStep).toMatchObject({ leastBy: 'the sheet of 3.0 mm', mostBy: 'no change from pass to pass' });
    expect(knobs({ motion: { turns: true, focusMoves: false } }).focusStep).toBeNull();
  });
});

describe('the thicknesses that can be tried', () => {
  it('are those in which the material is sold, in tenths of a millimetre', () => {
    const { values, leastBy, mostBy } = thicknessKnob(BIRCH);
    // data/materials/birch-plywood.material.yaml: 0.8 mm to 24 mm.
    expect([ends(values), values.slice(0, 2)]).toEqual([
      [0.8, 233, 24],
      [0.8, 0.9],
    ]);
    expect([leastBy, mostBy]).toEqual([
      'the thinnest birch plywood sold, 0.8 mm',
      'the thickest birch plywood sold, 24.0 mm',
    ]);
  });

  it('are one where all sheets are of one thickness', () => {
    expect(thicknessKnob({ ...BIRCH, thicknessMm: { min: 3, max: 3 } }).values).toEqual([3]);
  });

  it('are in coarser steps where they would be too many for a slider', () => {
    const { values } = thicknessKnob({ ...BIRCH, thicknessMm: { min: 100, max: 1100 } });
    // 1000 mm in 2000 steps: half a millimetre each.
    expect([values.slice(0, 3), values.length, values.at(-1)]).toEqual([[100, 100.5, 101], 2001, 1100]);
  });
});

describe('a cut that nothing can be turned of', () => {
  it('is one in what the source does not cut', () => {
    const marked: Material = { ...BIRCH, sources: { ...BIRCH.sources, co2: 'marks-only' } };
    expect(knobsOf({ machine: SHED, material: marked, thicknessMm: 3 }, ALL)).toBeNull();
  });

  it('is one by a source of which no setting gives power', () => {
    const dark = withSource({ curve: [{ fraction: 1, watts: 0 }] });
    expect(knobsOf({ machine: dark, material: BIRCH, thicknessMm: 3 }, ALL)).toBeNull();
  });
});
