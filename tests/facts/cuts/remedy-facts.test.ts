import { describe, expect, it } from 'vitest';
import type { PassFact } from '../../../src/facts/cuts/cut-fact.ts';
import { remedyFact, unchanged } from '../../../src/facts/cuts/remedy-text.ts';
import type { CutPass } from '../../../src/physics/march/passes.ts';
import type { Remedy, RemedyCommon } from '../../../src/physics/search/remedy.ts';
import { pass } from '../../rules/build-facts.ts';
import { remedy } from '../../rules/build-recipes.ts';

const PLANNED = [pass({ powerW: 40 }), pass({ powerW: 25 })];
const CHOICES = [
  { fraction: 0.5, powerW: 25 },
  { fraction: 0.6, powerW: 30 },
  { fraction: 0.8, powerW: 40 },
  { fraction: 0.85, powerW: 42.5 },
];
const run = (...watts: number[]): CutPass[] => watts.map((powerW) => ({ powerW, speedMmPerS: 6, focusMm: 0 }));
const common = (...watts: number[]): RemedyCommon => ({
  throughProbability: 0.95678,
  relativeTime: 2,
  passes: run(...watts),
});

/** The remedy as a fact, and what of it is not null beside its kind, text and chance. */
function told(remedy: Remedy, { offsetMm = 0, planned = PLANNED }: { offsetMm?: number; planned?: PassFact[] } = {}) {
  const { kind, text, throughProbability, ...numbers } = remedyFact(remedy, planned, CHOICES, offsetMm);
  expect(throughProbability).toBe(0.957);
  return [kind, text, Object.fromEntries(Object.entries(numbers).filter(([, value]) => value !== null))];
}

describe('a remedy that changes nothing', () => {
  it('has no numbers but its chance', () => {
    const nothing = remedy('Use thinner stock', { kind: 'none', speedMmPerS: null, throughProbability: 0.123 });
    expect(unchanged('none', 'Use thinner stock', 0.12345)).toEqual(nothing);
  });
});

describe('to cut more slowly', () => {
  const slower = (...watts: number[]): Remedy => ({ kind: 'slower', speedMmPerS: 7.5, ...common(...watts) });

  it('names the speed alone while the strongest pass keeps its power', () => {
    expect(told(slower(25, 40))).toEqual(['slower', 'Slow to 7.5 mm/s', { speedMmPerS: 7.5 }]);
    expect(told(slower(39.995))).toEqual(['slower', 'Slow to 7.5 mm/s', { speedMmPerS: 7.5 }]);
  });

  it('names the lower power that goes with it where the planned one is above the maximum', () => {
    const numbers = { speedMmPerS: 7.5, powerW: 30, setting: 0.6 };
    expect(told(slower(30, 25))).toEqual(['slower', 'Slow to 7.5 mm/s at 60 %', numbers]);
    // The lowest setting that gives as much.
    expect(told(slower(27))).toEqual([
      'slower',
      'Slow to 7.5 mm/s at 60 %',
      { speedMmPerS: 7.5, powerW: 27, setting: 0.6 },
    ]);
  });

  it('takes a setting that gives as much but for the last digits', () => {
    expect(told(slower(30 + 1e-10))[1]).toBe('Slow to 7.5 mm/s at 60 %');
    expect(told(slower(30 + 1e-6))[1]).toBe('Slow to 7.5 mm/s at 80 %');
  });

  it('names no setting where none gives as much', () => {
    const strong = [pass({ powerW: 60 })];
    expect(told(slower(50), { planned: strong })).toEqual([
      'slower',
      'Slow to 7.5 mm/s',
      { speedMmPerS: 7.5, powerW: 50 },
    ]);
  });
});

describe('to raise the power', () => {
  it('names the setting and what it gives', () => {
    expect(told({ kind: 'more-power', fraction: 0.85, powerW: 42.5, ...common(42.5) })).toEqual([
      'more-power',
      'Raise the power to 85 %',
      { powerW: 42.5, setting: 0.85 },
    ]);
  });

  it('and to cut more slowly names both', () => {
    const both: Remedy = {
      kind: 'slower-and-more-power',
      speedMmPerS: 4,
      fraction: 0.85,
      powerW: 42.5,
      ...common(42.5),
    };
    expect(told(both)).toEqual([
      'slower',
      'Slow to 4 mm/s and raise the power to 85 %',
      { powerW: 42.5, setting: 0.85, speedMmPerS: 4 },
    ]);
  });
});

describe('to set another focus', () => {
  const focus = (focusMm: number, ...watts: number[]): Remedy => ({
    kind: 'other-focus',
    focusMm,
    ...common(...watts),
  });

  it('names where to set it: less what a ramp found the waist to be off by', () => {
    expect(told(focus(-1, 40))).toEqual(['other-focus', 'Set the focus 1.0 mm below the face', { focusMm: -1 }]);
    expect(told(focus(-1, 40), { offsetMm: 0.5 })).toEqual([
      'other-focus',
      'Set the focus 1.5 mm below the face',
      { focusMm: -1.5 },
    ]);
    expect(told(focus(0.3, 40), { offsetMm: 0.3 })).toEqual([
      'other-focus',
      'Set the focus on the face',
      { focusMm: 0 },
    ]);
  });

  it('names the power as well where that has to be lowered', () => {
    expect(told(focus(-1, 30))).toEqual([
      'other-focus',
      'Set the focus 1.0 mm below the face and cut at 60 %',
      { focusMm: -1, powerW: 30, setting: 0.6 },
    ]);
  });
});

describe('to make more passes', () => {
  const passes = (powerW: number, focusStepMm: number): Remedy => ({
    kind: 'more-passes',
    count: 3,
    focusMm: 1,
    focusStepMm,
    speedMmPerS: 12,
    powerW,
    ...common(powerW),
  });
  const numbers = { passes: 3, speedMmPerS: 12, focusMm: 1 };

  it('names how many at which speed, and the power where it is another', () => {
    expect(told(passes(40, 0))).toEqual([
      'more-passes',
      'Make 3 passes at 12 mm/s',
      { ...numbers, powerW: 40, setting: 0.8, focusStepMm: 0 },
    ]);
    expect(told(passes(42.5, 0))[1]).toBe('Make 3 passes at 12 mm/s at 85 %');
    expect(told(passes(30, 0))[1]).toBe('Make 3 passes at 12 mm/s at 60 %');
  });

  it('names by how much the focus is lowered after each', () => {
    expect(told(passes(40, -1.5), { offsetMm: 0.25 })).toEqual([
      'more-passes',
      'Make 3 passes at 12 mm/s with the focus lowered 1.5 mm after each',
      { ...numbers, powerW: 40, setting: 0.8, focusMm: 0.75, focusStepMm: -1.5 },
    ]);
  });
});

describe('to fit another lens', () => {
  it('names it, with the speed, the power where it is another, and the focus', () => {
    const lensAt = (powerW: number): Remedy => ({
      kind: 'other-lens',
      lensId: '4in',
      focusMm: -2,
      speedMmPerS: 8,
      powerW,
      ...common(powerW, powerW),
    });
    const numbers = { lens: '4in', speedMmPerS: 8, focusMm: -2, passes: 2 };
    expect(told(lensAt(40))).toEqual([
      'other-lens',
      'Fit the 4in lens and cut at 8 mm/s with the focus 2.0 mm below the face',
      { ...numbers, powerW: 40, setting: 0.8 },
    ]);
    expect(told(lensAt(42.5), { offsetMm: 0.5 })).toEqual([
      'other-lens',
      'Fit the 4in lens and cut at 8 mm/s at 85 % with the focus 2.5 mm below the face',
      { ...numbers, focusMm: -2.5, powerW: 42.5, setting: 0.85 },
    ]);
  });
});
