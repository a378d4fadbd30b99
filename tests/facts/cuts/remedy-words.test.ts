import { describe, expect, it } from 'vitest';
import { curedPasses } from '../../../src/facts/cure/cured-passes.ts';
import type { CutFact, PassFact } from '../../../src/facts/cuts/cut-fact.ts';
import { remedyFact, unchanged } from '../../../src/facts/cuts/remedy-text.ts';
import { actionText } from '../../../src/facts/drawing/action-text.ts';

const pass = (powerW: number): PassFact => ({
  powerW,
  setting: 0.8,
  speedMmPerS: 10,
  programmedMmPerS: 10,
  focusMm: 0,
  air: true,
  scaled: false,
});
const choices = [
  { fraction: 0.6, powerW: 30 },
  { fraction: 0.8, powerW: 40 },
];

describe('another focus as a remedy', () => {
  const lowered = (toW: number) =>
    remedyFact(
      {
        kind: 'other-focus',
        focusMm: -1,
        passes: [{ powerW: toW, speedMmPerS: 10, focusMm: -1 }],
        relativeTime: 1,
        throughProbability: 0.95,
      },
      [pass(40)],
      choices,
      0,
    );

  it('says where to set it, and nothing of the power while that stays', () => {
    expect(lowered(40)).toMatchObject({
      kind: 'other-focus',
      text: 'Set the focus 1.0 mm below the face',
      focusMm: -1,
      setting: null,
    });
  });

  it('says at which power to cut where the planned one is above the recommended maximum', () => {
    expect(lowered(30)).toMatchObject({ text: 'Set the focus 1.0 mm below the face and cut at 60 %', setting: 0.6 });
  });
});

describe('what a picture says large', () => {
  const recipe = { ...unchanged('other-recipe', 'all of it', 0.9), passes: 2, setting: 0.6, speedMmPerS: 7.5 };
  const said = (lens: string | null) => actionText({ remedies: [{ ...recipe, lens }] } as unknown as CutFact);

  it('is what to do, the lens first where it is another', () => {
    expect(
      actionText({ remedies: [unchanged('none', 'No recipe of this machine parts it.', 0.1)] } as unknown as CutFact),
    ).toBe('Use thinner stock or a stronger source');
    expect([said('4in'), said(null)]).toEqual([
      'Fit the 4in lens: 2 passes, 60 %, 7.5 mm/s',
      '2 passes, 60 %, 7.5 mm/s',
    ]);
  });
});

describe('the remedy of the least sure cut of a task, for its other cuts', () => {
  it('has the watts that the setting gives where each is cut', () => {
    const remedy = { ...unchanged('more-power', 'Raise the power', 0.95), powerW: 30, setting: 0.9 };
    const at = (powerW: number) => ({ passes: [pass(powerW)] }) as unknown as CutFact;
    // At the far corner arrives half as much.
    expect(curedPasses(at(40), remedy, at(20))[0]).toMatchObject({ powerW: 60, setting: 0.9, speedMmPerS: 10 });
    expect(curedPasses(at(20), remedy, at(20))[0]).toMatchObject({ powerW: 30, setting: 0.9 });
  });
});
