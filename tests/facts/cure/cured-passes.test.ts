import { describe, expect, it } from 'vitest';
import { curedPasses } from '../../../src/facts/cure/cured-passes.ts';
import type { PassFact, RemedyFact } from '../../../src/facts/cuts/cut-fact.ts';
import { unchanged } from '../../../src/facts/cuts/remedy-text.ts';
import { cut, pass } from '../../rules/build-facts.ts';

const remedy = (change: Partial<RemedyFact>): RemedyFact => ({ ...unchanged('slower', 'do', 0.95), ...change });

/** The passes with the remedy applied, that was found for a cut of these passes, or of those of `of`. */
const cured = (passes: readonly PassFact[], change: Partial<RemedyFact>, of = passes) =>
  curedPasses(cut({ passes }), remedy(change), cut({ passes: of }));

const TWO = [
  pass({ focusMm: 1, speedMmPerS: 10, programmedMmPerS: 12 }),
  pass({ focusMm: -0.5, speedMmPerS: 20, programmedMmPerS: 25, air: false, scaled: false, setting: 0.4, powerW: 20 }),
];

describe('the passes of a cut with a remedy applied', () => {
  it('stay as planned in all that the remedy does not name', () => {
    expect(cured(TWO, {})).toEqual(TWO);
  });

  it('are none where there is no pass to change', () => {
    expect(cured([], { passes: 3, speedMmPerS: 5 }, TWO)).toEqual([]);
  });

  it('run at the speed that it names, which is then the programmed one too', () => {
    expect(cured(TWO, { speedMmPerS: 5 })).toEqual(
      TWO.map((planned) => ({ ...planned, speedMmPerS: 5, programmedMmPerS: 5 })),
    );
  });

  it('are as many as it names: further ones like the first, fewer are left out', () => {
    expect(cured(TWO, { passes: 3 }).map(({ speedMmPerS, air }) => [speedMmPerS, air])).toEqual([
      [10, true],
      [20, false],
      [10, true],
    ]);
    expect(cured(TWO, { passes: 1 }).map(({ speedMmPerS }) => speedMmPerS)).toEqual([10]);
  });
});

describe('the focus of the passes', () => {
  const focus = (change: Partial<RemedyFact>, passes: readonly PassFact[] = TWO) =>
    cured(passes, change).map(({ focusMm }) => focusMm);

  it('goes on in the planned steps where more passes are made', () => {
    expect(focus({ passes: 3 })).toEqual([1, -0.5, -2]);
    expect(focus({ passes: 3 }, [pass({ focusMm: -1 })])).toEqual([-1, -1, -1]);
  });

  it('goes in the steps of the remedy, from the focus that it names or else the planned one', () => {
    expect(focus({ passes: 3, focusStepMm: -2 })).toEqual([1, -1, -3]);
    expect(focus({ passes: 2, focusMm: 0.1, focusStepMm: 0.2 })).toEqual([0.1, 0.3]);
    expect(focus({ passes: 2, focusStepMm: 0 })).toEqual([1, 1]);
  });

  it('is moved by another focus in every pass, to hundredths', () => {
    expect(focus({ focusMm: -1 })).toEqual([-1, -2.5]);
    expect(focus({ focusMm: -1.237 })).toEqual([-1.24, -2.74]);
    expect(focus({ focusMm: 0 })).toEqual([0, -1.5]);
  });

  it('stays where each pass has it if neither focus nor passes are named', () => {
    const uneven = [pass({ focusMm: 0 }), pass({ focusMm: -1 }), pass({ focusMm: -5.126 })];
    expect(focus({ speedMmPerS: 3 }, uneven)).toEqual([0, -1, -5.126]);
  });
});

describe('the power of the passes', () => {
  const power = (change: Partial<RemedyFact>, passes = TWO, of = TWO) =>
    cured(passes, change, of).map(({ powerW, setting }) => [powerW, setting]);
  const changeTo = { powerW: 30, setting: 0.6 };

  it('is that of the remedy in each pass', () => {
    expect(power(changeTo)).toEqual([
      [30, 0.6],
      [30, 0.6],
    ]);
  });

  it('is less where less arrives than at the cut that it was found for, to hundredths of a watt', () => {
    const far = [pass({ powerW: 42 })];
    // Of the same setting 42 W arrive here and 43.2 W there.
    expect(power(changeTo, far, [pass()])).toEqual([[29.17, 0.6]]);
  });

  it('is taken as it is where the two cannot be compared', () => {
    const far = [pass({ powerW: 42 })];
    expect(power(changeTo, far, [pass({ setting: 0.7, powerW: 10 })])).toEqual([[30, 0.6]]);
    expect(power(changeTo, far, [pass({ powerW: 0 })])).toEqual([[30, 0.6]]);
    expect(power(changeTo, far, [])).toEqual([[30, 0.6]]);
  });

  it('stays in a pass that has the setting already, and where the remedy does not name both', () => {
    expect(power({ powerW: 99, setting: 0.4 })).toEqual([
      [99, 0.4],
      [20, 0.4],
    ]);
    for (const one of [{ powerW: 30 }, { setting: 0.6 }]) {
      expect(power(one)).toEqual([
        [43.2, 0.8],
        [20, 0.4],
      ]);
    }
  });
});
