// What is said where no single change of a plan brings a cut through: another recipe altogether, layers, or that it is out of reach.
import { describe, expect, it } from 'vitest';
import { setUp } from '../../../src/facts/bench/set-up.ts';
import type { PassFact } from '../../../src/facts/cuts/cut-fact.ts';
import { CutPredictor } from '../../../src/facts/cuts/prediction.ts';
import { remediesOf } from '../../../src/facts/recipes/remedies.ts';
import type { Lens, Machine } from '../../../src/job/model.ts';
import { at } from '../../rules/build-facts.ts';
import { machine, material } from '../../rules/build-job.ts';

const [TWO] = machine().lenses as [Lens];
const PASS: PassFact = {
  setting: 0.1,
  powerW: 5.4,
  programmedMmPerS: 400,
  speedMmPerS: 400,
  focusMm: 6,
  air: true,
  scaled: true,
};
function remedies(mm: number, { on = machine(), stockMm = [3, 6] as number[], passes = [PASS] } = {}) {
  const thickness = { mm, plusMinusMm: 0.2, nominal: false };
  const sheet = material({ removal: { jPerMm3: 2.6 }, stockMm });
  const predictor = new CutPredictor(setUp({ machine: on, lens: TWO, material: sheet, thickness }).value!);
  return remediesOf(predictor, passes, { spread: 0.05, at: null, cutTimeS: 10, focusMoves: false });
}
const alone: Machine = machine({ lenses: [TWO] });
/** The settings of a fact as its sentence has them. */
const words = ({ setting, speedMmPerS, passes, focusMm }: ReturnType<typeof remedies>[number]) =>
  `in ${passes === 1 ? '1 pass' : `${passes} passes`} at ${setting! * 100} % and ${speedMmPerS} mm/s, the focus ${focusMm === 0 ? 'on the face' : `${-focusMm!}${Number.isInteger(focusMm) ? '.0' : ''} mm below the face`}`;

describe('where no single change does it', () => {
  it('layers of a sheet that the machine is sure of are told with the recipe of one', () => {
    const [only, ...more] = remedies(18, { on: machine({ lenses: [TWO], source: { measuredW: 15, ratedW: 15 } }) });
    expect(more).toEqual([]);
    expect(only).toMatchObject({ kind: 'stack', lens: null, focusStepMm: 0 });
    expect(only!.layers! * only!.layerThicknessMm!).toBe(18);
    expect(only!.text).toBe(
      `Cut ${only!.layers} layers of ${only!.layerThicknessMm}.0 mm ${words(only!)}, and stack them`,
    );
    expect(only!.powerW).toBeCloseTo(15 * only!.setting! * 0.975, 3);
    expect(only!.throughProbability).toBeGreaterThanOrEqual(0.9);
  });

  it('nothing is promised that is out of reach', () => {
    const [only, ...more] = remedies(150, { on: alone });
    expect(more).toEqual([]);
    expect(only).toMatchObject({
      kind: 'none',
      text: 'No setting within the machine’s ceiling and the material’s clean speed is sure enough to part it: use thinner stock or a stronger source',
      throughProbability: 0,
      passes: null,
      layers: null,
    });
  });

  it('the chance of the best there is goes with that', () => {
    const [only] = remedies(23, { on: alone, stockMm: [23] });
    expect(only!.kind).toBe('none');
    expect(only!.throughProbability).toBeGreaterThan(0.3);
    expect(only!.throughProbability).toBeLessThan(0.9);
  });

  it('a machine of another lens that gives no beam is none the worse for it', () => {
    const broken = { ...TWO, id: 'broken', focalMm: 0 };
    expect(remedies(150, { on: machine({ lenses: [TWO, broken] }) })[0]!.kind).toBe('none');
  });
});

describe('more power as the single change that does it', () => {
  it('has the setting as well as the watts: a whole per cent, and sure', () => {
    const passes = [{ ...PASS, setting: 0.2, powerW: 10.8, speedMmPerS: 8, programmedMmPerS: 8, focusMm: -1.5 }];
    const found = remedies(4, { passes }).find(({ kind }) => kind === 'more-power')!;
    expect(found.throughProbability).toBeGreaterThanOrEqual(0.9);
    expect(Math.round(100 * found.setting!) / 100).toBe(found.setting);
    expect(found.setting).toBeGreaterThan(0.2);
    // Half of what is lost at the corners is lost in the middle of the bed: 2.5 %.
    expect(found.powerW).toBeCloseTo(54 * found.setting! * 0.975, 1);
  });
});

describe('another lens as the single change that does it', () => {
  /** Of a machine whose ramps found the waist of its longer lens so far above where it was set, mm. */
  const longer = (offsetMm: number) => {
    const on = machine();
    const { id } = on.lenses.at(-1)!;
    const ramps = [{ lens: id, offsetMm, spreadMm: 0.1, date: null }];
    const bench = {
      id: on.id,
      file: 'shed-60w.bench.yaml',
      ramps,
      coupons: [],
      placeOf: () => at('shed-60w.bench.yaml', 1),
    };
    const passes = [{ ...PASS, setting: 0.85, powerW: 45.9, speedMmPerS: 8, programmedMmPerS: 8, focusMm: 0 }];
    return remedies(10, { on: { ...on, bench }, passes }).find(
      ({ kind, lens }) => kind === 'other-lens' && lens === id,
    )!;
  };

  it('is set by the ramp of that lens, not by that of the one that is fitted', () => {
    const [plain, shifted] = [longer(0), longer(0.75)];
    expect(shifted.throughProbability).toBe(plain.throughProbability);
    expect(shifted.focusMm).toBeCloseTo(plain.focusMm! - 0.75, 6);
  });
});
