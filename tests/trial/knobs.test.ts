// What keeps a knob from going further: stated in the profile, the material's file, or common practice as their docstrings say.
import { describe, expect, it } from 'vitest';
import { WhatIf } from '../../src/facts/what-if/what-if.ts';
import { demoFiles, type Files, shed } from '../memory-shop.ts';
import { opened, readWithoutMotion } from './opened.ts';

const hub = (change: (text: string) => string = (text) => text): Files => {
  const own = demoFiles('weather-vane-hub.job.yaml', 'weather-vane-hub.gcode', 'weather-vane-hub.svg');
  const sidecar = change(String(own['weather-vane-hub.job.yaml']));
  return { ...shed(), ...own, 'weather-vane-hub.job.yaml': sidecar };
};
const ends = (values: readonly number[] | undefined) => [values?.[0], values?.at(-1)];

describe('the knobs of a cut', () => {
  it('stop at ceiling, firing floor, clean speed, the head and the sheet', () => {
    const { knobs, thickness } = opened(hub()).answer({ cuts: [] }, 0);
    // examples/machines/shed-60w.machine.yaml: floor 10 %, ceiling 85 %, 500 mm/s; cast acrylic: 4 mm/s; at most 3 passes with CO₂.
    expect(ends(knobs?.setting.values)).toEqual([0.1, 0.85]);
    expect(ends(knobs?.speed?.values)).toEqual([4, 500]);
    expect(knobs?.speed?.leastBy).toBe('the clean-speed floor of 4 mm/s');
    expect(knobs?.passes?.values).toEqual([1, 2, 3]);
    expect(ends(knobs?.focus.values)).toEqual([-12, 6]);
    expect(ends(thickness?.values)).toEqual([1.5, 30]);
  });

  it('keep the focus within the travel of Z', () => {
    const files = hub();
    const profile = String(files['machines/shed-60w.machine.yaml']).replace(/z: \d+ mm/, 'z: 5 mm');
    const { knobs } = opened({ ...files, 'machines/shed-60w.machine.yaml': profile }).answer({ cuts: [] }, 0);
    expect(ends(knobs?.focus.values)).toEqual([-5, 5]);
    expect(knobs?.focus.leastBy).toBe('the travel of Z, 5.0 mm');
  });

  it('rise, and every one lies within its ends', () => {
    const { knobs } = opened(hub()).answer({ cuts: [] }, 0);
    for (const knob of [knobs!.setting, knobs!.speed!, knobs!.passes!, knobs!.focus]) {
      expect([...knob.values]).toEqual([...new Set(knob.values)].sort((a, b) => a - b));
    }
  });

  it('are not there for a material that must not be cut', () => {
    const never = opened(hub((text) => text.replace(/^material: .*/m, 'material: vinyl')));
    expect(never.plan.nothingToTry).toBe('vinyl must not be cut');
    const turned = opened(hub()).answer({ material: 'vinyl', cuts: [] }, 0);
    expect(turned).toMatchObject({ knobs: null, thickness: null, never: 'vinyl must not be cut' });
    expect(turned.cut?.throughProbability).toBeNull();
  });

  it('turn the power where the motion was not kept, and neither speed nor passes', () => {
    const { read, facts } = readWithoutMotion(hub());
    const whatIf = new WhatIf(read, facts);
    expect(whatIf.motion.turns).toBe(false);
    const before = facts.cuts[0]!.prediction!.throughProbability;
    expect(whatIf.quick({ cuts: [{ cut: 0, setting: 0.3 }] }).cuts.map(({ passes }) => passes[0]!.setting)).toContain(
      0.3,
    );
    expect(whatIf.quick({ cuts: [] }).cuts[0]!.prediction!.throughProbability).toBe(before);
  });
});
