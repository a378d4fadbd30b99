// What stands on the bench before anything is predicted: what is refused, in which words, and what a set-up and its cuts are made of.
import { describe, expect, it } from 'vitest';
import { cutOf, fullPower, materialProblem, setUp, setUpOf, sourceText } from '../../../src/facts/bench/set-up.ts';
import type { Material } from '../../../src/job/model.ts';
import { type Change, machine, material } from '../../rules/build-job.ts';

const bench = (of: Change<Material> = {}, mm = 3) => ({
  machine: machine(),
  lens: machine().lenses[0]!,
  material: material(of),
  thickness: { mm, plusMinusMm: 0.329, nominal: false },
});
const never: Change<Material> = { hazard: { class: 'never', reason: 'gives off chlorine' } };

describe('testing a material on a machine makes no sense', () => {
  it('where it is never cut, whatever the source', () => {
    const problem = 'Birch plywood is never cut: gives off chlorine';
    expect(materialProblem(machine(), material(never))).toBe(problem);
    expect(materialProblem(machine({ source: { kind: 'fibre' } }), material(never))).toBe(problem);
  });

  it('where this kind of source does not part it, with the reason as far as one is known', () => {
    const fibre = machine({ source: { kind: 'fibre' } });
    expect(materialProblem(fibre, material())).toBe('a fibre source does not cut Birch plywood');
    expect(materialProblem(fibre, material({ sourceReasons: { fibre: 'it only chars', diode: 'too clear' } }))).toBe(
      'a fibre source does not cut Birch plywood: it only chars',
    );
  });

  it('where nobody knows what energy it takes away', () => {
    expect(materialProblem(machine(), material({ removal: null }))).toBe('a CO₂ source does not cut Birch plywood');
  });

  it('and does elsewhere, also for a hazard that a person may decide on', () => {
    expect(materialProblem(machine(), material())).toBeNull();
    expect(materialProblem(machine(), material({ hazard: { class: 'reconsider' } }))).toBeNull();
  });
});

describe('a set-up', () => {
  it('holds the sheet as it lies there: flat, with 1.645 standard deviations of its thickness in the ± that is stated', () => {
    const asked = bench();
    const { value } = setUp(asked);
    expect(value).toMatchObject({ thicknessMm: 3, bowMm: 0 });
    // 0.329 / 1.645.
    expect(value!.thicknessSpreadMm).toBeCloseTo(0.2, 3);
    expect([value!.machine, value!.lens, value!.material]).toEqual([asked.machine, asked.lens, asked.material]);
    expect(value!.grounds.removalSpread).toBeGreaterThan(0);
  });

  it('has the beam across its widest side: outlines run in every direction', () => {
    const spotOf = (xMm: number, yMm: number) =>
      setUp({ ...bench(), lens: { ...bench().lens, spotMm: { xMm, yMm } } }).value!.beam.spotMm;
    expect(spotOf(0.05, 0.3)).toBe(spotOf(0.3, 0.05));
    expect(spotOf(0.05, 0.3)).toBeGreaterThan(spotOf(0.05, 0.05) * 2);
  });

  it('is not made of what should not be cut, unless others have cut it', () => {
    expect(setUp(bench(never))).toEqual({ value: null, problem: 'Birch plywood is never cut: gives off chlorine' });
    expect(setUpOf(bench(never))).toMatchObject({ value: { thicknessMm: 3 }, problem: null });
  });

  it('needs a removal energy, a lens that gives a beam and a sheet that is there', () => {
    const refused = (problem: string) => ({ value: null, problem });
    expect(setUpOf(bench({ removal: null }))).toEqual(refused('Birch plywood has no removal energy'));
    const lens = { ...bench().lens, focalMm: 0 };
    expect(setUp({ ...bench(), lens })).toEqual(refused('lens 2in: the focal length must be above 0 mm, not 0'));
    expect(setUp(bench({}, 0))).toEqual(refused('the thickness must be above 0 mm, not 0'));
    expect(setUp(bench({}, Number.NaN))).toEqual(refused('the thickness must be above 0 mm, not NaN'));
    expect(setUp(bench({}, 0.01)).problem).toBeNull();
  });
});

describe('a recipe as the march takes it', () => {
  const recipe = { powerW: 40, spread: 0.07, speedMmPerS: 6, passes: 3, focusMm: -1 };

  it('has equal passes at one focus, or a focus that is moved after each', () => {
    const pass = { powerW: 40, speedMmPerS: 6 };
    const setup = setUp(bench()).value!;
    const still = cutOf(setup, recipe);
    expect(still.passes).toEqual([-1, -1, -1].map((focusMm) => ({ ...pass, focusMm })));
    expect(still).toMatchObject({ thicknessMm: 3, bowMm: 0, kerfThresholdJPerMm2: 0.2 });
    expect(still.doubt.power).toBe(0.07);
    const moved = cutOf(setup, { ...recipe, focusStepMm: -0.5 });
    expect(moved.passes).toEqual([-1, -1.5, -2].map((focusMm) => ({ ...pass, focusMm })));
  });
});

describe('full power', () => {
  const loss = machine({ source: { atCorners: 0.5 } });

  it('is the recommended maximum, or all of it where none is stated, in the middle of the bed', () => {
    // Half is lost at the far corner and half of that in the middle: 54 W × 85 % × 75 %.
    expect(fullPower(loss).value).toMatchObject({ setting: 0.85, powerW: expect.closeTo(34.425, 6) });
    expect(fullPower(machine({ source: { atCorners: 1, ceiling: null } })).value).toMatchObject({
      setting: 1,
      powerW: 54,
    });
  });

  it('is that of a stated setting and place, and in doubt by the more the lower the setting', () => {
    const near = fullPower(loss, 0.5, { xMm: 0, yMm: 0 }).value!;
    expect(near).toMatchObject({ setting: 0.5, powerW: 27 });
    expect(fullPower(loss, 0.5, { xMm: 600, yMm: 400 }).value!.powerW).toBeCloseTo(13.5, 9);
    // A meter's 5 %, and half of the 10 % of a response taken as straight.
    expect(near.spread).toBeCloseTo(Math.hypot(0.05, 0.05), 9);
  });

  it('is refused where there is none', () => {
    const problem = (share: string) => `the profile of shed-60w gives no power at ${share}: see its source section`;
    expect(fullPower(machine(), 0)).toEqual({ value: null, problem: problem('0 %') });
    expect(fullPower(machine({ source: { measuredW: 0 } }))).toEqual({ value: null, problem: problem('85 %') });
  });

  it('is named with the kind of source', () => {
    expect(sourceText(machine(), 54)).toBe('CO₂, 54 W at the work');
    expect(sourceText(machine({ source: { kind: 'diode' } }), 7.5)).toBe('diode, 7.5 W at the work');
  });
});
