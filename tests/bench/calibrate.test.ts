import { describe, expect, it } from 'vitest';
import { benchText } from '../../src/bench/calibration/bench-text.ts';
import { type Calibrated, type CalibrateRequest, calibrateFrom } from '../../src/bench/calibration/calibrate-bench.ts';
import { calibrationReport } from '../../src/bench/calibration/calibration-report.ts';
import { cutOf, setUp } from '../../src/facts/bench/set-up.ts';
import { groundsOf } from '../../src/facts/coupons/grounds.ts';
import { wattsAt } from '../../src/facts/cuts/power.ts';
import { readBench } from '../../src/job/machine/bench.ts';
import type { CouponResults } from '../../src/job/material/coupon-results.ts';
import type { Bench, Machine, Material } from '../../src/job/model.ts';
import { marchDepth } from '../../src/physics/march/march.ts';
import { textSource } from '../../src/source/source.ts';
import { factsOf } from '../memory-shop.ts';
import { bench, couponOf, fileOf, filled, material, resultsOf, SHED, shedText } from './on-bench.ts';

const PLYWOOD = material('birch-plywood');
const LENS = SHED.lenses[0]!;
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

function fitted(results: CouponResults, more: Partial<CalibrateRequest> = {}): Calibrated {
  const { value, problem } = calibrateFrom({
    results,
    machine: SHED,
    lens: LENS,
    material: PLYWOOD,
    materialOf: (name) => material(name),
    ...more,
  });
  if (value === null) throw new Error(problem);
  return value;
}

function readBack(calibrated: Calibrated, text: string | null = null): Bench {
  const { value, problems } = readBench(textSource('shed-60w.bench.yaml', benchText(text, calibrated)));
  if (value === null) throw new Error(problems.map((problem) => problem.args.text).join('\n'));
  return value;
}

/** The demo's machine with a bench. */
const shedWithBench = (kept: Bench): Machine => ({ ...SHED, bench: kept });
const RAMP = { nearMm: 4, farMm: -4, lengthMm: 100, fromMm: 55, toMm: 65 };

describe('calibrate', () => {
  it.each([0.8, 1, 1.25])(
    'finds where a sheet parts that takes %s times the catalogue’s energy, and is surer of it',
    (factor) => {
      const { parting, fit } = fitted(seenAt(factor)).fit!;
      const setup = setUp(bench('birch-plywood', 4)).value!;
      const { powerW } = wattsAt(SHED, parting!.setting, null)!;
      const cut = cutOf(setup, { powerW, spread: 0, speedMmPerS: parting!.medianMmPerS, passes: 1, focusMm: 0 });
      const stock = { ...cut.stock, removalJPerMm3: cut.stock.removalJPerMm3 * factor };
      expect(marchDepth(cut.beam, stock, cut.passes).depthMm / 4).toBeCloseTo(1, 0.9);
      const half = (parting!.highMmPerS - parting!.lowMmPerS) / 2 / parting!.medianMmPerS;
      expect(half).toBeLessThan(0.35);
      expect(fit.calibration.spread).toBeLessThan(fit.calibration.priorSpread);
    },
  );

  it('prints a bench file that reads back with all coupons in it, and keeps what stood in it, comments too', () => {
    const calibrated = fitted({ ...seenAt(1.1), date: '2026-11-20' });
    const back = readBack(calibrated);
    expect(back).toMatchObject({ id: 'shed-60w', ramps: [] });
    expect(back.coupons).toHaveLength(12);
    expect(back.coupons[0]).toMatchObject({
      machine: 'shed-60w',
      lens: '2in',
      material: 'birch-plywood',
      thicknessMm: 4,
      through: true,
      date: '2026-11-20',
    });
    expect(back.coupons).toEqual(calibrated.coupons);
    const text = `${benchText(null, calibrated)}# gauge block no. 2\n`;
    const later = benchText(text, fitted({ ...seenAt(1.1), date: '2026-11-25' }, { machine: shedWithBench(back) }));
    expect(later.startsWith(text.slice(0, text.indexOf('coupons:')))).toBe(true);
    expect(later).toContain('# gauge block no. 2');
    expect(readBack(calibrated, 'kerflint: 1\nmachine: shed-60w\ncoupons: []\n').coupons).toHaveLength(12);
  });

  it('makes the check say so and hold recipes to more, on this machine and under this lens alone', () => {
    const written = benchText(null, fitted(seenAt(1)));
    const outline =
      '<svg xmlns="http://www.w3.org/2000/svg" width="90mm" height="90mm" viewBox="0 0 90 90"><path d="M10 10H80V80H10Z" fill="none" stroke="#9c36b5"/></svg>';
    const sidecar = (machine: string, lens: string) =>
      `kerflint: 1\nmachine: ${machine}\nlens: ${lens}\nmaterial: birch-plywood\nthickness: 4 mm ± 0.1 mm\nartwork: a.svg\ntasks:\n  - { name: outline, aim: through, power: 80 %, speed: 6 mm/s }\n`;
    const files = (machine = 'shed-60w', lens = '2in') => ({
      'machines/shed-60w.machine.yaml': shedText(),
      'machines/barn.machine.yaml': shedText().replace('id: shed-60w', 'id: barn'),
      'machines/shed-60w.bench.yaml': written,
      'a.svg': outline,
      'a.job.yaml': sidecar(machine, lens),
    });
    const predicted = (all: Record<string, string>) => factsOf(all).cuts[0]!.prediction!;
    const prediction = predicted(files());
    expect(prediction).toMatchObject({ basis: 'calibrated, 12 coupons', limit: 0.95, errorLimit: 0.5 });
    const { 'machines/shed-60w.bench.yaml': _, ...plain } = files();
    const before = predicted(plain);
    expect(prediction.depthHighMm - prediction.depthLowMm).toBeLessThan(before.depthHighMm - before.depthLowMm);
    expect(predicted(files('barn'))).toEqual(before);
    const underOther = predicted(files('shed-60w', '4in'));
    expect(underOther).toMatchObject({ limit: 0.9, errorLimit: before.errorLimit });
    expect(factsOf(files()).calibratedHere).toBe(true);
    expect(factsOf(files('barn')).calibratedHere).toBe(false);
  });

  it('counts kept coupons again, and one sheet that is read twice only once', () => {
    const first = fitted({ ...seenAt(1), date: '2026-11-20' });
    const kept = shedWithBench(readBack(first));
    const second = fitted({ ...seenAt(1), date: '2026-11-25' }, { machine: kept });
    expect(second.fit!.fit.calibration.coupons).toBe(24);
    expect(second.coupons).toHaveLength(12);
    const half = ({ fit }: Calibrated) => fit!.parting!.highMmPerS / fit!.parting!.lowMmPerS;
    expect(half(second)).toBeLessThan(half(first));
    const twice = fitted({ ...seenAt(1), date: '2026-11-20' }, { machine: kept });
    expect(twice).toMatchObject({ keptAlready: 12, coupons: [] });
    expect(twice.fit!.fit.calibration.coupons).toBe(12);
    expect(half(twice)).toBeCloseTo(half(first), 9);
    expect(calibrationReport(twice)).toMatch(/12 tongues are kept already and count once/);
    expect(calibrationReport(second)).toMatch(/kept 1 \(2026-11-20\)/);
  });

  it('takes coupons of this machine over from the material’s own file, and counts them once', () => {
    const rows = fitted({ ...seenAt(1), date: '2026-11-20' }).coupons;
    const listed: Material = { ...PLYWOOD, file: 'materials/birch-plywood.material.yaml', coupons: rows };
    const calibrated = fitted({ ...seenAt(1), date: '2026-11-25' }, { material: listed });
    expect(calibrated).toMatchObject({ moved: 12 });
    expect(readBack(calibrated).coupons).toHaveLength(24);
    expect(calibrated.fit!.fit.calibration.coupons).toBe(24);
    expect(calibrationReport(calibrated)).toMatch(
      /12 coupons that the material's own file listed are now in the bench file: take them out of materials\/birch-plywood\.material\.yaml/,
    );
    const theirs = { ...listed, coupons: rows.map((row) => ({ ...row, machine: 'barn' })) };
    expect(fitted({ ...seenAt(1), date: '2026-11-25' }, { material: theirs })).toMatchObject({ moved: 0 });
  });

  it('tells the divergence share only from coupons of two thicknesses', () => {
    const thin = fitted({ ...seenAt(1), date: '2026-11-20' });
    expect(thin.fit!.fit.calibration.shareFitted).toBe(false);
    const other = seenAt(1, 7, fileOf(couponOf('birch-plywood', 7).value!, '.results.yaml'));
    const both = fitted(other, { machine: shedWithBench(readBack(thin)) });
    expect(both.fit!.fit.calibration.shareFitted).toBe(true);
    expect(calibrationReport(both)).toMatch(/divergence share now/);
  });

  it('keeps the focus that a ramp found by its lens, and weighs the coupons of that lens anew', () => {
    const alone = fitted({ ...seenAt(1), tongues: [], ramp: RAMP, date: '2026-11-21' });
    expect(alone).toMatchObject({ fit: null, focus: { offsetMm: 0.8, spreadMm: 0.2 }, refits: [] });
    expect(readBack(alone).ramps).toEqual([{ lens: '2in', offsetMm: 0.8, spreadMm: 0.2, date: '2026-11-21' }]);
    // ± is nine in ten: 1.645 standard deviations.
    expect(calibrationReport(alone)).toBe(
      'Focus of the 2in lens on shed-60w: the waist stands 0.8 mm above where it is set, ± 0.33 mm.\n',
    );
    const kept = readBack(fitted({ ...seenAt(1), date: '2026-11-20' }));
    const after = fitted({ ...seenAt(1), tongues: [], ramp: RAMP }, { machine: shedWithBench(kept) });
    expect(after.refits).toMatchObject([{ material: 'birch plywood', coupons: 12 }]);
    expect(calibrationReport(after)).toMatch(
      /The 12 coupons of birch plywood under this lens were weighed anew: before, 4\.0 mm at 85 % parts up to [\d.]+ mm\/s ± \d+ %; now, up to [\d.]+ mm\/s ± \d+ %\./,
    );
    const bench = readBack(after, benchText(null, { ...after, ramp: null, coupons: kept.coupons }));
    expect(groundsOf(shedWithBench(bench), LENS, PLYWOOD)!.focus.offsetMm).toBe(0.8);
    expect(groundsOf(shedWithBench(bench), SHED.lenses[1]!, PLYWOOD)!.focus.offsetMm).toBe(0);
  });

  it('takes a ramp of the same sheet of results into account', () => {
    const { fit } = fitted({ ...seenAt(1), ramp: RAMP }).fit!;
    expect(fit.calibration.prior.focusSpreadMm).toBe(0.2);
  });
});

describe('calibrate on bad evidence', () => {
  const seen = (words: (tongue: number) => string) => resultsOf(filled(sheet, words));
  const sane = (calibrated: Calibrated) => {
    const { calibration } = calibrated.fit!.fit;
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

  it('tells many contradictions as one finding; of very many coupons it weighs the newest', () => {
    const rows = Array.from({ length: 600 }, (_, i) => {
      const through = i % 2 === 0;
      return `  - { power: 80 %, speed: ${(through ? 12 : 6) + i / 1000} mm/s, through: ${through} }`;
    });
    const head = sheet.slice(0, sheet.indexOf('coupons:'));
    const calibrated = fitted(resultsOf(`${head}coupons:\n${rows.join('\n')}\n`));
    sane(calibrated);
    expect(calibrated.fit!.fit.calibration.coupons).toBe(300);
    const report = calibrationReport(calibrated);
    expect(report.match(/contradict/gi)).toHaveLength(2);
    expect(report).toMatch(/^Contradiction: .* So do .* and \d+ more contradict others\./m);
    expect(report).toMatch('The 300 oldest coupons were left aside.');
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
    const half = (words: (tongue: number) => string) => {
      const calibrated = fitted(seen(words));
      sane(calibrated);
      const { lowMmPerS, medianMmPerS, highMmPerS } = calibrated.fit!.parting!;
      return (highMmPerS - lowMmPerS) / 2 / medianMmPerS;
    };
    const sure = half((tongue) => (tongue <= 6 ? 'through: yes' : 'through: no'));
    expect(half((tongue) => (tongue % 2 === 0 ? 'through: yes' : 'through: no'))).toBeGreaterThan(sure * 1.5);
  });

  it('proposes a next coupon about which the outcome is open, no slower than the material stays clean', () => {
    const { next } = fitted(seenAt(1)).fit!;
    expect(next!.throughProbability).toBeGreaterThan(0.2);
    expect(next!.throughProbability).toBeLessThan(0.8);
    expect(next!.speedMmPerS).toBeGreaterThanOrEqual(4);
  });
});
