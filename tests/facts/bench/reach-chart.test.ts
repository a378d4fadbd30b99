// The chart of what a machine cuts of one material: what stands in it, how far its curves go, and what is refused.
import { describe, expect, it } from 'vitest';
import { type ReachRequest, reach, reachCurves } from '../../../src/facts/bench/reach.ts';
import { setUp } from '../../../src/facts/bench/set-up.ts';
import { bestUnderAnyLens, NOTHING_STATED } from '../../../src/facts/recipes/best-recipe.ts';
import { citedCut } from '../../cited-cuts.ts';
import { machine, material } from '../../rules/build-job.ts';

const SHEET = material({ removal: { jPerMm3: 2.6 }, stockMm: [3, 60] });
const request = (more: Partial<ReachRequest> = {}): ReachRequest => ({
  machine: machine(),
  material: SHEET,
  lenses: [],
  passes: 1,
  setting: null,
  focusMm: 0,
  at: null,
  citedCuts: [],
  ...more,
});
function curves(more: Partial<ReachRequest> = {}) {
  const { value, problem } = reachCurves(request(more));
  if (value === null) throw new Error(problem);
  return value;
}
function chart(more: Partial<ReachRequest> = {}) {
  const { value, problem } = reach(request(more));
  if (value === null) throw new Error(problem);
  return value;
}
const broken = { ...machine().lenses[0]!, id: 'broken', focalMm: 0 };

describe('the chart of a material', () => {
  it('says what it is of: machine, source, material, its hazard, setting, passes, focus and floor', () => {
    const hazard = { class: 'extract' as const, reason: 'fine dust', source: 'invented for this test' };
    const of = { ...SHEET, hazard };
    // 54 W × 85 %, of which 2.5 % are lost in the middle of the bed.
    expect(curves({ material: of, passes: 2, focusMm: -1 })).toMatchObject({
      machine: 'shed-60w',
      source: 'CO₂, 44.8 W at the work',
      material: 'Birch plywood',
      hazard: { class: 'extract', reason: 'fine dust' },
      onlyIf: null,
      basis: 'catalogue, ± 41 %',
      setting: 0.85,
      powerW: 44.8,
      passes: 2,
      focusMm: -1,
      floorMmPerS: 4,
      published: [],
      publishedElse: 0,
    });
    expect(curves({ passes: null, setting: 0.5 })).toMatchObject({ passes: 1, setting: 0.5, powerW: 26.3 });
  });

  it('says on what condition this kind of source cuts it', () => {
    const of = { ...SHEET, sourceConditions: { co2: 'free of foil', diode: 'dark' } };
    expect(curves({ material: of }).onlyIf).toBe('free of foil');
  });

  it('counts on the watts of a place on the bed where one is named', () => {
    // Nothing is lost at the near corner.
    expect(curves({ at: { xMm: 0, yMm: 0 } }).powerW).toBe(45.9);
  });

  it('takes sheets at their word, which nobody measured: they may well be a twentieth thicker', () => {
    const asked = chart({ passes: null, focusMm: null, sheetMm: 26 }).choices.find(
      ({ thicknessMm }) => thicknessMm === 26,
    );
    const setup = (thickness: { plusMinusMm: number | null; nominal: boolean }) =>
      setUp({
        machine: machine(),
        lens: machine().lenses[0]!,
        material: SHEET,
        thickness: { mm: asked!.thicknessMm, ...thickness },
      }).value!;
    const chance = (found: ReturnType<typeof setup>) =>
      bestUnderAnyLens({
        setup: found,
        otherLenses: machine().lenses.slice(1),
        at: null,
        fastestMmPerS: machine().motion.speedMmPerS,
        focusMoves: true,
        stated: { ...NOTHING_STATED, setting: 0.85 },
      })!.surest.throughProbability;
    const { recipe } = asked!;
    expect(recipe.throughProbability).toBe(chance(setup({ plusMinusMm: null, nominal: true })));
    expect(recipe.throughProbability).toBeLessThan(chance(setup({ plusMinusMm: 0.1, nominal: false })));
  });

  it('has what others published with as many passes and this kind of source beside it, and counts the rest', () => {
    const cuts = [citedCut(), citedCut({ passes: 2 }), citedCut({ kind: 'diode' }), citedCut({ material: 'oak' })];
    const { published, publishedElse } = curves({ citedCuts: cuts });
    // 15 mm/s at 30 W, as fast again as 44.75 W are more.
    expect(published).toEqual([{ speedMmPerS: 22.38, cut: cuts[0] }]);
    expect(publishedElse).toBe(1);
    expect(curves({ citedCuts: cuts, passes: 2 }).published.map(({ cut }) => cut.passes)).toEqual([2]);
  });
});

describe('the curve of a lens', () => {
  const ends = (more: Partial<ReachRequest>) => {
    const { points } = curves(more).lenses[0]!;
    return [points[0]!.speedMmPerS, points.at(-1)!.speedMmPerS];
  };

  it('goes in even ratios from half the floor to 400 mm/s, with the depth at the floor as the greatest that counts', () => {
    const [lens] = curves().lenses;
    const { points, greatest } = lens!;
    expect(points).toHaveLength(33);
    expect(ends({})).toEqual([2, 400]);
    // The middle one of an odd number lies at the geometric mean.
    expect(points[16]!.speedMmPerS).toBeCloseTo(Math.sqrt(2 * 400), 3);
    expect(greatest.speedMmPerS).toBe(4);
    expect(greatest.depthMm).toBeLessThan(points[0]!.depthMm);
  });

  it('ends where the head does, and starts at 1 mm/s where the material has no floor', () => {
    expect(ends({ machine: machine({ motion: { speedMmPerS: 80 } }) })).toEqual([2, 80]);
    const of = { ...SHEET, cleanSpeedMmPerS: { co2: null, diode: 9, fibre: 9 } };
    expect(ends({ material: of })).toEqual([1, 400]);
    expect(curves({ material: of })).toMatchObject({
      floorMmPerS: null,
      lenses: [{ greatest: { speedMmPerS: 1 } }, {}],
    });
  });

  it('is drawn over a doubling at least, also where the head is slower than the floor', () => {
    expect(ends({ machine: machine({ motion: { speedMmPerS: 3 } }) })).toEqual([2, 4]);
  });

  it('is named with its spot and its depth of focus', () => {
    const [two, four] = curves().lenses;
    expect([two!.id, four!.id]).toEqual(['2in', '4in']);
    // 4 M² λ f / (π D) is 0.137 mm at 2 in and twice that at 4 in; the lens blurs a little more.
    expect(two!.spotMm).toBeGreaterThan(0.137);
    expect(two!.spotMm).toBeLessThan(0.17);
    expect(four!.spotMm).toBeGreaterThan(0.274);
    expect(String(two!.spotMm)).toMatch(/^0\.\d{3}$/);
    // 2 z_R, z_R being the spot of diffraction alone times f / D.
    expect(two!.depthOfFocusMm).toBeCloseTo((2 * 0.137 * 50.8) / 6, 1);
    expect(String(two!.depthOfFocusMm)).toMatch(/^\d\.\d\d$/);
    expect(four!.depthOfFocusMm / two!.depthOfFocusMm).toBeCloseTo(4, 1);
  });

  it('is drawn for the lenses that are asked for, and for all of the machine’s where none is', () => {
    const [, four] = machine().lenses;
    expect(curves({ lenses: [four!] }).lenses.map(({ id }) => id)).toEqual(['4in']);
    expect(curves({ lenses: [broken, four!] }).lenses.map(({ id }) => id)).toEqual(['4in']);
  });
});

describe('a chart is refused', () => {
  const problem = (more: Partial<ReachRequest>) => {
    const [whole, alone] = [reach(request(more)), reachCurves(request(more))];
    expect([whole.value, alone.value, alone.problem]).toEqual([null, null, whole.problem]);
    return whole.problem;
  };

  it('for a material that is not cut, and for a machine without power', () => {
    expect(problem({ material: material({ removal: null }) })).toBe('a CO₂ source does not cut Birch plywood');
    expect(problem({ setting: 0 })).toBe('the profile of shed-60w gives no power at 0 %: see its source section');
  });

  it('where no lens is left, for what is wrong with the first', () => {
    const why = 'the focal length must be above 0 mm, not';
    expect(problem({ lenses: [broken, { ...broken, id: 'worse', focalMm: -1 }] })).toBe(`lens broken: ${why} 0`);
    expect(problem({ machine: machine({ lenses: [] }) })).toBe('shed-60w has no lens');
  });
});

describe('what each sheet takes', () => {
  it('stands by rising thickness, of what can be bought and the sheet that is asked about, each once', () => {
    const sheets = (more: Partial<ReachRequest> = {}) => chart(more).choices.map(({ thicknessMm }) => thicknessMm);
    expect(sheets()).toEqual([3, 60]);
    expect(sheets({ sheetMm: null })).toEqual([3, 60]);
    expect(sheets({ sheetMm: 5 })).toEqual([3, 5, 60]);
    expect(sheets({ sheetMm: 3 })).toEqual([3, 60]);
    expect(sheets({ sheetMm: 0 })).toEqual([3, 60]);
  });

  it('is a recipe of one of the lenses drawn, with what each of them makes of it', () => {
    const { choices, limit, errorLimit, lenses } = chart({ passes: null, focusMm: null });
    expect([limit, errorLimit]).toEqual([0.9, 0.14]);
    const [thin, thick] = choices;
    expect(thin).toMatchObject({ standing: 'sure', recipe: { setting: 0.85 } });
    expect(thin!.byLens.map((one) => one!.lens)).toEqual(lenses.map(({ id }) => id));
    expect(thin!.byLens).toContainEqual(thin!.recipe);
    expect(thick).toMatchObject({ standing: 'out-of-reach', byLens: [null, null] });
  });

  it('keeps to the setting, the passes and the focus that are asked for', () => {
    const asked = { setting: 0.6, passes: 2, focusMm: -1 };
    for (const { recipe } of chart(asked).choices) expect(recipe).toMatchObject({ ...asked, focusStepMm: 0 });
    const { choices } = chart({ passes: null, focusMm: null });
    expect(choices[0]!.recipe.passes).toBe(1);
    expect(choices[1]!.recipe.passes).toBe(3);
  });

  it('is no faster than the head', () => {
    const slow = machine({ motion: { speedMmPerS: 6 } });
    expect(chart({ machine: slow }).choices[0]!.recipe).toMatchObject({ speedMmPerS: 6, passes: 1 });
  });

  it('leaves out a lens that gives no beam', () => {
    const [two] = machine().lenses;
    const { choices, lenses } = chart({ lenses: [broken, two!] });
    expect(lenses.map(({ id }) => id)).toEqual(['2in']);
    expect(choices[0]!.byLens.map((one) => one!.lens)).toEqual(['2in']);
  });
});
