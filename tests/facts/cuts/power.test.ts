import { describe, expect, it } from 'vitest';
import { stepsFocus } from '../../../src/facts/cuts/focus-step.ts';
import { powerFact, powerSourceOf, wattsAt, weakestPlace } from '../../../src/facts/cuts/power.ts';
import { choicesOf, settingChoices } from '../../../src/facts/cuts/setting-choices.ts';
import { type Change, machine } from '../../rules/build-job.ts';

type Source = ReturnType<typeof machine>['source'];
const withSource = (source: Change<Source>) => machine({ source });
const RATED: Change<Source> = { measuredW: null, ratedW: 60, hoursH: null };

describe('the power of a machine', () => {
  it('is what its profile states of the source', () => {
    expect(powerSourceOf(machine())).toEqual({
      kind: 'co2',
      ratedW: 60,
      measuredW: 54,
      curve: null,
      hoursH: 640,
      atCorners: 0.95,
    });
  });

  it('at full setting is what was measured, or what is rated less its age, or the curve’s end', () => {
    expect(powerFact(machine())).toEqual({ fullW: 54, spread: 0.05, basis: 'measured' });
    expect(powerFact(withSource(RATED))).toEqual({ fullW: 60, spread: 0.15, basis: 'rated' });
    // A CO₂ source loses a fifth in 2000 h.
    expect(powerFact(withSource({ ...RATED, hoursH: 1000 }))!.fullW).toBeCloseTo(54, 9);
    const curve = [
      { fraction: 0.5, watts: 30 },
      { fraction: 1, watts: 50 },
    ];
    expect(powerFact(withSource({ curve }))).toMatchObject({ fullW: 50, basis: 'curve' });
  });

  it('is not known where the profile’s figures cannot be used', () => {
    expect(powerFact(withSource({ measuredW: 0 }))).toBeNull();
    expect(wattsAt(withSource({ measuredW: 0 }), 0.5, null)).toBeNull();
  });
});

describe('the watts at the work', () => {
  const watts = (setting: number, at: { xMm: number; yMm: number } | null) => wattsAt(machine(), setting, at)!.powerW;

  it('follow the setting, and fall towards the far corner of the bed; half of that is lost in its middle', () => {
    expect(watts(1, { xMm: 0, yMm: 0 })).toBe(54);
    expect(watts(0.5, { xMm: 600, yMm: 400 })).toBeCloseTo(27 * 0.95, 9);
    expect(watts(1, null)).toBeCloseTo(54 * 0.975, 9);
    // Along one side the bed is 600 of the 721.1 mm of its diagonal.
    expect(watts(1, { xMm: 600, yMm: 0 })).toBeCloseTo(54 * (1 - (0.05 * 600) / Math.hypot(600, 400)), 9);
  });

  it('are least at the far corner', () => {
    expect(weakestPlace(machine())).toEqual({ xMm: 600, yMm: 400 });
  });

  it('are those of full power, or none, for settings beyond', () => {
    const near = { xMm: 0, yMm: 0 };
    expect(watts(1.3, near)).toBe(54);
    expect(watts(-0.2, near)).toBe(0);
  });

  it('are the less steady the lower the setting is', () => {
    expect(wattsAt(machine(), 1, null)!.spread).toBe(0.05);
    expect(wattsAt(machine(), 0.25, null)!.spread).toBeCloseTo(Math.hypot(0.05, 0.075), 9);
  });
});

describe('the settings to choose from', () => {
  const settings = (source: Change<Source>) => settingChoices(withSource(source), null).map(({ setting }) => setting);

  it('rise in per cents from the firing floor to the recommended maximum', () => {
    expect(settings({ floor: 0.1, ceiling: 0.13 })).toEqual([0.1, 0.11, 0.12, 0.13]);
    expect(settings({})).toHaveLength(76);
    expect(settings({}).at(-1)).toBe(0.85);
  });

  it('begin at 1 % and end at 100 % where neither is stated', () => {
    const all = settings({ floor: null, ceiling: null });
    expect([all.length, all[0], all.at(-1)]).toEqual([100, 0.01, 1]);
    expect(settings({ floor: 0.001, ceiling: 0.02 })).toEqual([0.01, 0.02]);
  });

  it('have the maximum itself where it lies between two', () => {
    expect(settings({ floor: 0.1, ceiling: 0.125 })).toEqual([0.1, 0.11, 0.12, 0.125]);
    expect(settings({ floor: 0.105, ceiling: 0.13 })).toEqual([0.105, 0.115, 0.125, 0.13]);
  });

  it('have the watts of the place, and none that give no power', () => {
    const near = { xMm: 0, yMm: 0 };
    const half = { setting: 0.5, powerW: 27, spread: expect.closeTo(Math.hypot(0.05, 0.05), 9) };
    expect(choicesOf(machine(), [0, 0.5], near)).toEqual([half]);
    expect(choicesOf(withSource({ measuredW: 0 }), [0.5], near)).toEqual([]);
    expect(settingChoices(machine(), near)[0]!.powerW).toBeCloseTo(5.4, 9);
  });
});

describe('the focus can be lowered from pass to pass', () => {
  it.each([
    ['waist-on-face', 40, true],
    ['waist-on-face', 0, false],
    ['waist-on-face', null, false],
    ['fixed', 40, false],
  ] as const)('where Z is %s with %s mm of room: %s', (zZero, zMm, moves) => {
    expect(stepsFocus(machine({ controller: { zZero }, travel: { zMm } }))).toBe(moves);
  });
});
