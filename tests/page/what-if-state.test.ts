import { describe, expect, it } from 'vitest';
import {
  begun,
  isTurned,
  restored,
  sheetTurnedTo,
  standsAt,
  taken,
  turnedTo,
} from '../../src/page/what-if/what-if-state.ts';
import { demoFiles, shed } from '../memory-shop.ts';
import { opened } from '../trial/opened.ts';

const files = (name: string) => ({
  ...shed(),
  ...demoFiles(...['job.yaml', 'gcode', 'svg'].map((end) => `${name}.${end}`)),
});
const plan = opened(files('gate-sign')).plan;

describe('what is turned', () => {
  it('begins at the least sure recipe that must part, with nothing turned', () => {
    const state = begun(plan);
    const recipe = plan.recipes[state.shown]!;
    expect(recipe.aim).toBe('through');
    expect(recipe.tasks).toEqual(['screw holes']);
    expect(state.change).toEqual({ cuts: [] });
    expect(isTurned(state)).toBe(false);
    expect(standsAt(state, 'speedMmPerS')).toBe(8);
  });

  it('turns all cuts of a recipe, and no other', () => {
    const state = turnedTo(turnedTo(begun(plan), 'speedMmPerS', 6), 'passes', 2);
    const own = plan.recipes[state.shown]!.cuts;
    expect(state.change.cuts).toEqual(own.map((cut) => ({ cut, speedMmPerS: 6, passes: 2 })));
    expect(isTurned(state)).toBe(true);
    expect([standsAt(state, 'speedMmPerS'), standsAt(state, 'setting')]).toEqual([6, 0.7]);
  });

  it('is as before once it is put back', () => {
    const turned = sheetTurnedTo(turnedTo(begun(plan), 'focusMm', -1), {
      lens: '4in',
      material: 'mdf',
      thicknessMm: 5,
    });
    expect(turned.change).toMatchObject({ lens: '4in', material: 'mdf', thicknessMm: 5 });
    expect(restored(turned).change).toEqual(begun(plan).change);
    const sheetBack = sheetTurnedTo(turned, { lens: '2in', material: 'poplar-plywood', thicknessMm: 4 });
    expect(Object.keys(sheetBack.change)).toEqual(['cuts']);
  });

  it('puts a proposal in place of what was turned before', () => {
    const hub = opened(files('weather-vane-hub')).plan;
    const [recipe] = hub.recipes;
    const [proposal] = recipe!.proposals;
    const state = taken(turnedTo(begun(hub), 'focusMm', -2), proposal!.change);
    expect(state.change).toEqual(proposal!.change);
    expect(state.change.cuts.map(({ cut }) => cut)).toEqual(recipe!.cuts);
  });
});
