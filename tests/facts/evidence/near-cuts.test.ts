import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { citedBriefly, citedOutcome, citedPower, citedSentence } from '../../../src/facts/evidence/cited-text.ts';
import { nearCuts, nearestCuts, wellStated } from '../../../src/facts/evidence/near-cuts.ts';
import { publishedDots } from '../../../src/facts/evidence/published-dots.ts';
import { asked, citedCut } from '../../cited-cuts.ts';
import { libraryOf } from '../../memory-shop.ts';

const ALL = libraryOf({}).citedCuts();
const ids = (cuts: readonly { id: string }[]) => cuts.map(({ id }) => id);

describe('published cuts near a recipe', () => {
  it('are of its material and kind of source, at most half as thick again and four times as strong', () => {
    const cuts = [
      citedCut({ id: 'same' }),
      citedCut({ id: 'other-stuff', material: 'oak' }),
      citedCut({ id: 'diode', kind: 'diode' }),
      citedCut({ id: 'thick', thicknessMm: 9.1 }),
      citedCut({ id: 'just', thicknessMm: 9 }),
      citedCut({ id: 'weak', powerW: 7.4 }),
    ];
    expect(ids(nearCuts(cuts, asked()))).toEqual(['same', 'just']);
    expect(ids(nearCuts(cuts, asked({ kind: null, powerW: null, thicknessMm: null })))).toEqual([
      'same',
      'diode',
      'thick',
      'just',
      'weak',
    ]);
  });

  it('come by how far off they are in thickness, power, and energy along the line', () => {
    const cuts = [
      citedCut({ id: 'thicker', thicknessMm: 7.6 }),
      citedCut({ id: 'faster', speedMmPerS: 25 }),
      citedCut({ id: 'equal' }),
      citedCut({ id: 'two passes at twice the speed', passes: 2, speedMmPerS: 30 }),
      citedCut({ id: 'stronger and as much faster', powerW: 60, speedMmPerS: 30 }),
    ];
    expect(ids(nearCuts(cuts, asked()))).toEqual([
      'equal',
      'two passes at twice the speed',
      'faster',
      'stronger and as much faster',
      'thicker',
    ]);
  });

  it('are named by what came of them, those of worn machines and with much inferred left out', () => {
    const cuts = [
      citedCut({ id: 'worn', worn: true }),
      citedCut({ id: 'guessed', quality: 'C', outcome: 'not' }),
      citedCut({ id: 'parted', thicknessMm: 6.4, outcome: 'limit' }),
      citedCut({ id: 'not', thicknessMm: 6.5, outcome: 'not', quality: 'B' }),
    ];
    const { parted, notParted } = nearestCuts(cuts, asked());
    expect([parted?.id, notParted?.id]).toEqual(['parted', 'not']);
    expect(nearestCuts([], asked())).toEqual({ parted: null, notParted: null });
  });

  it('are, whatever is asked, no farther than any other that is as well stated', () => {
    const positive = fc.double({ min: 0.01, max: 1000, noNaN: true });
    const question = fc.record({
      kind: fc.constantFrom('co2' as const, 'diode' as const, 'fibre' as const),
      material: fc.constantFrom(...new Set(ALL.map(({ material }) => material))),
      thicknessMm: positive,
      powerW: positive,
      speedMmPerS: positive,
      passes: fc.integer({ min: 1, max: 40 }),
    });
    fc.assert(
      fc.property(question, (one) => {
        const near = nearCuts(ALL, one);
        for (const cut of near) {
          expect([cut.material, cut.kind]).toEqual([one.material, one.kind]);
          expect(Math.max(cut.thicknessMm / one.thicknessMm, one.thicknessMm / cut.thicknessMm)).toBeLessThan(1.5001);
        }
        const { parted, notParted } = nearestCuts(ALL, one);
        for (const cut of [parted, notParted]) if (cut) expect(near.filter(wellStated)).toContain(cut);
        expect(near.filter(wellStated)[0]).toBe(
          [parted, notParted].filter((cut) => cut !== null).sort((a, b) => near.indexOf(a) - near.indexOf(b))[0],
        );
      }),
    );
  });
});

describe('published cuts on a chart', () => {
  it('lie at the speed that gives the same energy along the line, those of other passes counted apart', () => {
    const cuts = [
      citedCut({ id: 'b', thicknessMm: 6, powerW: 30, speedMmPerS: 15 }),
      citedCut({ id: 'a', thicknessMm: 3, powerW: 20, speedMmPerS: 12 }),
      citedCut({ id: 'twice', passes: 2 }),
      citedCut({ id: 'guessed', quality: 'C' }),
      citedCut({ id: 'oak', material: 'oak' }),
    ];
    const { dots, others } = publishedDots(cuts, { kind: 'co2', material: 'birch-plywood', powerW: 45, passes: 1 });
    expect(dots.map(({ cut, speedMmPerS }) => [cut.id, speedMmPerS])).toEqual([
      ['a', 27],
      ['b', 22.5],
    ]);
    expect(others).toBe(2);
    for (const { cut, speedMmPerS } of dots) expect(45 / speedMmPerS).toBeCloseTo(cut.powerW / cut.speedMmPerS, 6);
  });
});

describe('a published cut in words', () => {
  it('says what its source states, and what came of it', () => {
    expect(citedPower(citedCut())).toBe('50 % of 60 W');
    expect(citedPower(citedCut({ setting: null }))).toBe('30 W');
    expect(citedOutcome(citedCut())).toBe('parted');
    expect(citedOutcome(citedCut({ outcome: 'limit' }))).toBe('just parted');
    expect(citedOutcome(citedCut({ outcome: 'not' }))).toBe('did not part');
    expect(citedOutcome(citedCut({ outcome: 'not', depthMm: 3.5 }))).toBe('3.5 mm deep');
    expect(citedBriefly(citedCut({ passes: 2 }))).toBe('6.0 mm in 2 passes at 15 mm/s with 30 W');
  });

  it('is never without its citation', () => {
    for (const cut of ALL) {
      expect(cut.citation.length, cut.id).toBeGreaterThan(20);
      expect(citedSentence(cut)).toContain(`(${cut.citation})`);
    }
    expect(citedSentence(citedCut({ outcome: 'limit', use: 'bracket', focusMm: -1.5 }))).toBe(
      'Published: 6.0 mm just parted in 1 pass at 15 mm/s, 50 % of 60 W, the focus 1.5 mm below the face (A shop, wiki); kerflint’s catalogue gives that cut 71 %.',
    );
  });
});
