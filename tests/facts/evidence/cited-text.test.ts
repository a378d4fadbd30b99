import { describe, expect, it } from 'vitest';
import { citedBriefly, citedOutcome, citedPower, citedSentence } from '../../../src/facts/evidence/cited-text.ts';
import { nearCuts, nearestCuts, sameStuff, wellStated } from '../../../src/facts/evidence/near-cuts.ts';
import { publishedDots } from '../../../src/facts/evidence/published-dots.ts';
import { asked, citedCut } from '../../cited-cuts.ts';

describe('a published cut as a sentence', () => {
  it('says that it is a daily setting, and the power as its source has it', () => {
    expect(citedSentence(citedCut())).toBe(
      'Published: 6.0 mm parted in 1 pass at 15 mm/s, 50 % of 60 W, a daily setting (A shop, wiki); kerflint’s catalogue gives that cut 71 %.',
    );
    expect(citedSentence(citedCut({ outcome: 'not', use: 'test', setting: null, passes: 3, focusMm: 2 }))).toBe(
      'Published: 6.0 mm did not part in 3 passes at 15 mm/s, 30 W, the focus 2.0 mm above the face (A shop, wiki); kerflint’s catalogue gives that cut 71 %.',
    );
  });

  it('tells no depth for a cut that parted, and one for a cut that did not where it was measured', () => {
    expect(citedOutcome(citedCut({ depthMm: 6 }))).toBe('parted');
    expect(citedOutcome(citedCut({ outcome: 'limit', depthMm: 6 }))).toBe('just parted');
    expect(citedOutcome(citedCut({ outcome: 'not', depthMm: 2.25 }))).toBe('2.25 mm deep');
  });

  it('is short inside another, with the watts at the work', () => {
    expect(citedBriefly(citedCut())).toBe('6.0 mm in 1 pass at 15 mm/s with 30 W');
    expect(citedPower(citedCut({ setting: 0.255, ratedW: 40 }))).toBe('25.5 % of 40 W');
  });
});

const ids = (cuts: readonly { id: string }[]) => cuts.map(({ id }) => id);

describe('published cuts near a recipe', () => {
  it('are near up to half as thick again or by so much thinner, and four times as strong or weak', () => {
    const near = (change: Parameters<typeof citedCut>[0]) => nearCuts([citedCut(change)], asked()).length === 1;
    expect([near({ thicknessMm: 9 }), near({ thicknessMm: 9.01 })]).toEqual([true, false]);
    expect([near({ thicknessMm: 4 }), near({ thicknessMm: 3.99 })]).toEqual([true, false]);
    expect([near({ powerW: 120 }), near({ powerW: 120.1 })]).toEqual([true, false]);
    expect([near({ powerW: 7.5 }), near({ powerW: 7.49 })]).toEqual([true, false]);
  });

  it('are held against what is asked alone: what is left open puts none farther off', () => {
    const cuts = [
      citedCut({ id: 'thick', thicknessMm: 8 }),
      citedCut({ id: 'strong', powerW: 90, speedMmPerS: 45 }),
      citedCut({ id: 'slow', speedMmPerS: 5 }),
    ];
    // Off by a third in thickness (1.29 steps), by 3 in power (1.58), by 3 in energy (1.58).
    expect(ids(nearCuts(cuts, asked()))).toEqual(['thick', 'strong', 'slow']);
    expect(ids(nearCuts(cuts, asked({ thicknessMm: null })))[0]).toBe('thick');
    expect(ids(nearCuts(cuts, asked({ powerW: null })))).toEqual(['strong', 'slow', 'thick']);
    expect(ids(nearCuts(cuts, asked({ speedMmPerS: null })))).toEqual(['slow', 'thick', 'strong']);
    expect(ids(nearCuts(cuts, asked({ thicknessMm: null, speedMmPerS: null })))).toEqual(['thick', 'slow', 'strong']);
  });

  it('are asked for one pass where nobody says how many', () => {
    const cuts = [citedCut({ id: 'two', passes: 2 }), citedCut({ id: 'one' })];
    expect(ids(nearCuts(cuts, asked({ passes: null })))).toEqual(['one', 'two']);
    expect(ids(nearCuts(cuts, asked({ passes: 2 })))).toEqual(['two', 'one']);
  });

  it('count thickness most: a quarter of it as much as twice the power or energy', () => {
    const cuts = [
      citedCut({ id: 'a fifth thicker', thicknessMm: 7.2 }),
      citedCut({ id: 'a third more energy', speedMmPerS: 11 }),
      citedCut({ id: 'a third thicker', thicknessMm: 8 }),
      citedCut({ id: 'twice the power, as fast again', powerW: 60, speedMmPerS: 30 }),
    ];
    expect(ids(nearCuts(cuts, asked()))).toEqual([
      'a third more energy',
      'a fifth thicker',
      'twice the power, as fast again',
      'a third thicker',
    ]);
  });

  it('are of the material and the kind that are asked, or of any', () => {
    const cuts = [citedCut({ id: 'a' }), citedCut({ id: 'b', kind: 'diode' }), citedCut({ id: 'c', material: 'oak' })];
    expect(ids(sameStuff(cuts, { kind: 'co2', material: 'birch-plywood' }))).toEqual(['a']);
    expect(ids(sameStuff(cuts, { kind: null, material: 'birch-plywood' }))).toEqual(['a', 'b']);
    expect(ids(sameStuff(cuts, { kind: 'co2', material: null }))).toEqual(['a', 'c']);
    expect(ids(sameStuff(cuts, { kind: null, material: null }))).toEqual(['a', 'b', 'c']);
  });

  it('are well stated unless two things are inferred or the machine was worn', () => {
    expect((['A', 'B', 'C'] as const).map((quality) => wellStated(citedCut({ quality })))).toEqual([true, true, false]);
    expect(wellStated(citedCut({ worn: true }))).toBe(false);
  });

  it('are the nearest of each outcome, one that just parted among those that parted', () => {
    const cuts = [
      citedCut({ id: 'far', thicknessMm: 8 }),
      citedCut({ id: 'limit', thicknessMm: 7, outcome: 'limit' }),
      citedCut({ id: 'stayed far', thicknessMm: 8.5, outcome: 'not' }),
      citedCut({ id: 'stayed', thicknessMm: 7.5, outcome: 'not' }),
    ];
    const { parted, notParted } = nearestCuts(cuts, asked());
    expect([parted!.id, notParted!.id]).toEqual(['limit', 'stayed']);
    expect(nearestCuts(cuts.slice(0, 1), asked()).notParted).toBeNull();
    expect(nearestCuts(cuts.slice(2), asked()).parted).toBeNull();
  });
});

describe('published cuts on a chart', () => {
  it('stand by thickness, those of one thickness by speed, to a hundredth', () => {
    const cuts = [
      citedCut({ id: 'fast', speedMmPerS: 20 }),
      citedCut({ id: 'slow', powerW: 70, speedMmPerS: 10 }),
      citedCut({ id: 'thin', thicknessMm: 3, speedMmPerS: 40 }),
      citedCut({ id: 'worn', worn: true }),
      citedCut({ id: 'diode', kind: 'diode' }),
    ];
    const { dots, others } = publishedDots(cuts, { kind: 'co2', material: 'birch-plywood', powerW: 30, passes: 1 });
    // 10 mm/s · 30 W / 70 W = 4.2857 mm/s.
    expect(dots.map(({ cut, speedMmPerS }) => [cut.id, speedMmPerS])).toEqual([
      ['thin', 40],
      ['slow', 4.29],
      ['fast', 20],
    ]);
    expect(others).toBe(1);
  });
});
