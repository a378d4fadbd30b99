import { describe, expect, it } from 'vitest';
import { type Calibrated, calibrateFrom } from '../../src/bench/calibration/calibrate-material.ts';
import { calibrationReport } from '../../src/bench/calibration/calibration-report.ts';
import { calibratedMaterial } from '../../src/bench/calibration/material-text.ts';
import { cutOf, setUp } from '../../src/facts/bench/set-up.ts';
import { removalSpread } from '../../src/facts/cuts/coupon-span.ts';
import { wattsAt } from '../../src/facts/cuts/power.ts';
import type { CouponResults } from '../../src/job/material/coupon-results.ts';
import { readMaterial } from '../../src/job/material/material.ts';
import type { Material } from '../../src/job/model.ts';
import { marchDepth } from '../../src/physics/march/march.ts';
import { textSource } from '../../src/source/source.ts';
import { factsOf } from '../memory-shop.ts';
import { bench, couponOf, fileOf, filled, material, materialText, resultsOf, SHED, shedText } from './on-bench.ts';

const PLYWOOD = material('birch-plywood');
const sheet = fileOf(couponOf('birch-plywood', 4).value!, '.results.yaml');

/** What a shop sees whose plywood takes so many times the catalogue's energy. */
function seenAt(factor: number, mm = 4, text = sheet): CouponResults {
  const setup = setUp(bench('birch-plywood', mm)).value!;
  const empty = resultsOf(filled(text, () => 'through: no'));
  const parted = new Map(
    empty.tongues.map((tongue) => {
      const setting = 'fraction' in tongue.power ? tongue.power.fraction : 0;
      const { powerW } = wattsAt(SHED, setting, empty.at)!;
      const cut = cutOf(setup, { powerW, spread: 0, ...tongue });
      const stock = { ...cut.stock, removalJPerMm3: cut.stock.removalJPerMm3 * factor };
      return [tongue.tongue, marchDepth(cut.beam, stock, cut.passes).depthMm >= mm];
    }),
  );
  return resultsOf(filled(text, (tongue) => (parted.get(tongue) ? 'through: yes' : 'through: no')));
}

function fitted(results: CouponResults, more: Partial<Parameters<typeof calibrateFrom>[0]> = {}): Calibrated {
  const { value, problem } = calibrateFrom({
    results,
    machine: SHED,
    lens: SHED.lenses[0]!,
    material: PLYWOOD,
    catalogue: PLYWOOD,
    machineOf: (id) => (id === SHED.id ? SHED : null),
    ...more,
  });
  if (value === null) throw new Error(problem);
  return value;
}

function readBack(calibrated: Calibrated, text = materialText('birch-plywood')): Material {
  const written = calibratedMaterial(text, calibrated, 'a test');
  const { value, problems } = readMaterial(textSource('birch-plywood.material.yaml', written), 'shop');
  if (value === null) throw new Error(problems.map((problem) => problem.args.text).join('\n'));
  return value;
}

describe('calibrate', () => {
  it.each([0.8, 1, 1.25])(
    'finds the energy of a shop whose sheet takes %s times the catalogue’s, and is surer of it',
    (factor) => {
      const { calibration, prior } = fitted(seenAt(factor)).fit!;
      expect(calibration.removalJPerMm3 / (prior.jPerMm3 * factor)).toBeGreaterThan(0.85);
      expect(calibration.removalJPerMm3 / (prior.jPerMm3 * factor)).toBeLessThan(1.15);
      expect(calibration.spread).toBeLessThan(prior.spread / 2);
    },
  );

  it('prints a file that reads back with all coupons in it and everything else as it was', () => {
    const calibrated = fitted(seenAt(1.1));
    const back = readBack(calibrated);
    expect(back.removal).toMatchObject({ coupons: 12, provenance: { kind: 'measured-here' } });
    expect(back.removal!.spread).toBeLessThan(PLYWOOD.removal!.spread);
    expect(back.removal!.jPerMm3).toBeCloseTo(calibrated.fit!.calibration.removalJPerMm3, 2);
    expect(back.coupons).toHaveLength(12);
    expect(back.coupons[0]).toMatchObject({ machine: 'shed-60w', lens: '2in', thicknessMm: 4, through: true });
    const { removal, coupons, rank, file, placeOf, ...rest } = back;
    const { removal: _1, coupons: _2, rank: _3, file: _4, placeOf: _5, ...before } = PLYWOOD;
    expect(rest).toEqual(before);
    expect([removal, coupons, rank, file, placeOf].every((each) => each !== undefined)).toBe(true);
  });

  it('keeps the comments of a material’s file', () => {
    const text = materialText('cast-acrylic');
    const calibrated = fitted(
      resultsOf(
        filled(fileOf(couponOf('cast-acrylic', 6).value!, '.results.yaml'), (n) =>
          n < 7 ? 'through: yes' : 'through: no',
        ),
      ),
      {
        material: material('cast-acrylic'),
        catalogue: material('cast-acrylic'),
      },
    );
    const comments = (each: string) =>
      each.split('\n').filter((line) => line.startsWith('#') && !line.includes('yaml-language-server'));
    expect(comments(calibratedMaterial(text, calibrated, 'a test'))).toEqual(comments(text));
  });

  it('makes the check say so and hold recipes to more', () => {
    const written = calibratedMaterial(materialText('birch-plywood'), fitted(seenAt(1)), 'a test');
    const files = {
      'machines/shed-60w.machine.yaml': shedText(),
      'materials/birch-plywood.material.yaml': written,
      'a.svg':
        '<svg xmlns="http://www.w3.org/2000/svg" width="90mm" height="90mm" viewBox="0 0 90 90"><path d="M10 10H80V80H10Z" fill="none" stroke="#9c36b5"/></svg>',
      'a.job.yaml':
        'kerflint: 1\nmachine: shed-60w\nmaterial: birch-plywood\nthickness: 4 mm ± 0.1 mm\nartwork: a.svg\ntasks:\n  - { name: outline, aim: through, power: 80 %, speed: 6 mm/s }\n',
    };
    const { prediction } = factsOf(files).cuts[0]!;
    expect(prediction).toMatchObject({ basis: 'calibrated, 12 coupons', limit: 0.95 });
    const before = factsOf({ ...files, 'materials/birch-plywood.material.yaml': materialText('birch-plywood') })
      .cuts[0]!.prediction!;
    expect(prediction!.depthHighMm - prediction!.depthLowMm).toBeLessThan(before.depthHighMm - before.depthLowMm);
  });

  it('makes the check less sure the farther a cut lies from the coupons: in thickness, in power, under another lens', () => {
    const back = readBack(fitted(seenAt(1)));
    const spread = (mm: number, powerW: number, lens = '2in') =>
      removalSpread({ machine: SHED, lens: { id: lens }, material: back, thicknessMm: mm }, powerW);
    expect(spread(4, 40)).toBe(back.removal!.spread);
    expect(spread(8, 40)).toBeGreaterThan(spread(4, 40));
    expect(spread(16, 40)).toBeGreaterThan(spread(8, 40));
    expect(spread(1, 40)).toBeGreaterThan(spread(4, 40));
    expect(spread(4, 100)).toBeGreaterThan(spread(4, 40));
    expect(spread(4, 40, '4in')).toBeGreaterThan(spread(4, 40));
    expect(removalSpread({ machine: SHED, lens: { id: '2in' }, material: PLYWOOD, thicknessMm: 40 }, 40)).toBe(
      PLYWOOD.removal!.spread,
    );
  });

  it('counts kept coupons again from the catalogue’s prior, and one sheet that is read twice only once', () => {
    const first = fitted({ ...seenAt(1), date: '2026-11-20' });
    const kept = readBack(first);
    const second = fitted({ ...seenAt(1), date: '2026-11-25' }, { material: kept });
    expect(second.fit!.calibration.coupons).toBe(24);
    expect(second.fit!.calibration.spread).toBeLessThan(first.fit!.calibration.spread);
    const twice = fitted({ ...seenAt(1), date: '2026-11-20' }, { material: kept });
    expect(twice).toMatchObject({ keptAlready: 12, coupons: [] });
    expect(twice.fit!.calibration.coupons).toBe(12);
    expect(twice.fit!.calibration.spread).toBeCloseTo(first.fit!.calibration.spread, 3);
    expect(calibrationReport(twice)).toMatch(/12 tongues are in the material's file already and count once/);
  });

  it('fits the divergence share only from coupons of two thicknesses', () => {
    const thin = fitted({ ...seenAt(1), date: '2026-11-20' });
    expect(thin.fit!.calibration.shareFitted).toBe(false);
    const other = seenAt(1, 7, fileOf(couponOf('birch-plywood', 7).value!, '.results.yaml'));
    const both = fitted(other, { material: readBack(thin) });
    expect(both.fit!.calibration.shareFitted).toBe(true);
    expect(readBack(both).divergence).not.toEqual(PLYWOOD.divergence);
  });

  it('leaves coupons of machines that nobody knows any more aside, and says so', () => {
    const kept = readBack(fitted({ ...seenAt(1), date: '2026-11-20' }));
    const later = fitted({ ...seenAt(1), date: '2026-11-25' }, { material: kept, machineOf: () => null });
    expect(later.unused).toHaveLength(12);
    expect(later.fit!.calibration.coupons).toBe(12);
    expect(calibrationReport(later)).toMatch('Not used, machine or lens unknown: kept 1: shed-60w');
  });

  it('sets the focus from a ramp, alone or together with coupons', () => {
    const ramp = { nearMm: 4, farMm: -4, lengthMm: 100, fromMm: 55, toMm: 65 };
    const alone = fitted({ ...seenAt(1), tongues: [], ramp });
    expect(alone).toMatchObject({ fit: null, focus: { offsetMm: 0.8, spreadMm: 0.2 } });
    expect(readBack(alone)).toMatchObject({
      focusCalibration: { offsetMm: 0.8, spreadMm: 0.2 },
      removal: PLYWOOD.removal,
    });
    const { rows } = fitted({ ...seenAt(1), ramp }).fit!;
    expect(rows[0]!.row.passes[0]!.focusMm).toBeCloseTo(0.8, 6);
  });
});

describe('calibrate on bad evidence', () => {
  const seen = (words: (tongue: number) => string) => resultsOf(filled(sheet, words));
  const sane = (calibrated: Calibrated) => {
    const { calibration } = calibrated.fit!;
    for (const value of [
      calibration.removalJPerMm3,
      calibration.spread,
      calibration.removalLow,
      calibration.removalHigh,
    ]) {
      expect(Number.isFinite(value) && value > 0).toBe(true);
    }
    expect(calibrationReport(calibrated)).not.toMatch(/NaN|Infinity|undefined/);
    return calibration;
  };

  it('names the rows that contradict each other: one parted with less energy than one that did not', () => {
    const calibrated = fitted(
      seen((tongue) => (tongue === 2 ? 'through: no' : tongue <= 8 ? 'through: yes' : 'through: no')),
    );
    sane(calibrated);
    const report = calibrationReport(calibrated);
    // Tongue 2 contradicts six others, and is one cause.
    expect(report.match(/^Contradiction:/gm)).toHaveLength(1);
    expect(report).toMatch(
      /^Contradiction: tongue 2 did not part with more energy than .* and \d+ more, which did\. tongue 2 is probably misread/m,
    );
  });

  it('names ten of many contradictions and counts the rest; of very many coupons it weighs the newest', () => {
    const rows = Array.from({ length: 600 }, (_, i) => {
      const through = i % 2 === 0;
      return `  - { power: 80 %, speed: ${(through ? 12 : 6) + (i % 100) / 100} mm/s, through: ${through} }`;
    });
    const head = sheet.slice(0, sheet.indexOf('coupons:'));
    const calibrated = fitted(resultsOf(`${head}coupons:\n${rows.join('\n')}\n`));
    sane(calibrated);
    expect(calibrated.fit!.calibration.coupons).toBe(500);
    const report = calibrationReport(calibrated);
    expect(report.match(/^Contradiction:/gm)).toHaveLength(10);
    expect(report).toMatch(/and \d+ more coupons that contradict others/);
    expect(report).toMatch('The 100 oldest coupons were left aside.');
    expect(readBack(calibrated).coupons).toHaveLength(600);
  });

  it.each([
    ['all parted', 'yes', /Every coupon parted.*Cut faster/],
    ['none parted', 'no', /No coupon parted.*Cut slower/],
  ])('stays wide and asks for the other side when %s', (_, word, advice) => {
    const calibrated = fitted(seen(() => `through: ${word}`));
    expect(sane(calibrated).spread).toBeGreaterThan(PLYWOOD.removal!.spread / 2);
    expect(calibrationReport(calibrated)).toMatch(advice);
  });

  it('stays wide on one coupon', () => {
    const calibrated = fitted(seen((tongue) => (tongue === 6 ? 'through: yes' : 'through: ')));
    expect(sane(calibrated).spread).toBeGreaterThan(PLYWOOD.removal!.spread / 2);
  });

  it('stays wide when the outcomes have nothing to do with the settings', () => {
    const sure = sane(fitted(seen((tongue) => (tongue <= 6 ? 'through: yes' : 'through: no')))).spread;
    const mixed = fitted(seen((tongue) => (tongue % 2 === 0 ? 'through: yes' : 'through: no')));
    expect(sane(mixed).spread).toBeGreaterThan(sure * 1.5);
  });

  it('proposes a next coupon about which the outcome is open, no slower than the material stays clean', () => {
    const { next } = fitted(seenAt(1)).fit!;
    expect(next!.throughProbability).toBeGreaterThan(0.2);
    expect(next!.throughProbability).toBeLessThan(0.8);
    expect(next!.speedMmPerS).toBeGreaterThanOrEqual(4);
  });
});
