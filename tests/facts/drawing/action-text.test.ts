import { describe, expect, it } from 'vitest';
import type { RemedyFact } from '../../../src/facts/cuts/cut-fact.ts';
import { unchanged } from '../../../src/facts/cuts/remedy-text.ts';
import { actionText } from '../../../src/facts/drawing/action-text.ts';
import { cut } from '../../rules/build-facts.ts';

const said = (...remedies: RemedyFact[]) => actionText(cut({ remedies }));
const remedy = (kind: RemedyFact['kind'], change: Partial<RemedyFact>): RemedyFact => ({
  ...unchanged(kind, 'Slow to 7.5 mm/s, at which it takes 40 % longer', 0.95),
  ...change,
});

describe('the one thing to do about a cut, in few words', () => {
  it('is nothing where no remedy was sought', () => {
    expect(said()).toBeNull();
  });

  it('is the first of several remedies', () => {
    expect(said(remedy('slower', { text: 'Slow to 7.5 mm/s' }), remedy('none', {}))).toBe('Slow to 7.5 mm/s');
  });

  it('is the layers to stack', () => {
    expect(said(remedy('stack', { layers: 2, layerThicknessMm: 3 }))).toBe('Stack 2 layers of 3.0 mm');
  });

  it('is the lens to fit with its speed', () => {
    expect(said(remedy('other-lens', { lens: '4in', speedMmPerS: 7.5 }))).toBe('Fit the 4in lens, cut at 7.5 mm/s');
  });

  it('is a whole recipe, of one pass or several', () => {
    const recipe = { setting: 0.6, speedMmPerS: 9 };
    expect(said(remedy('other-recipe', { ...recipe, passes: 1 }))).toBe('1 pass, 60 %, 9 mm/s');
    expect(said(remedy('other-recipe', { ...recipe, passes: 3, lens: '4in' }))).toBe(
      'Fit the 4in lens: 3 passes, 60 %, 9 mm/s',
    );
  });

  it('is to change the sheet or the source where no recipe parts it', () => {
    expect(said(remedy('none', {}))).toBe('Use thinner stock or a stronger source');
  });
});
