// What the lenses of a chart rest on, in one line, and what its sheets are held to, where the lenses rest on different things.
import { describe, expect, it } from 'vitest';
import { basisUnder, limitsUnder } from '../../../src/facts/bench/reach-basis.ts';
import type { BenchCoupon, Machine } from '../../../src/job/model.ts';
import { at, machine, material } from '../../rules/build-job.ts';

const plain = machine();
const lenses = [...plain.lenses, { ...plain.lenses[1]!, id: '5in', focalMm: 127 }];
const [two, four, five] = lenses as [(typeof lenses)[0], (typeof lenses)[0], (typeof lenses)[0]];

/** The machine, on which two tongues were cut under the 2 in lens: one parted at 8 mm/s and one stayed at 16. */
const benched = ((): Machine => {
  const row = (speedMmPerS: number, through: boolean): BenchCoupon => ({
    ...{ machine: plain.id, lens: '2in', material: 'birch-plywood', date: '2026-10-01' },
    ...{ thicknessMm: 4, powerW: 45, passes: 1, focusMm: 0, focusStepMm: 0, depthMm: null },
    speedMmPerS,
    through,
  });
  const coupons = [row(8, true), row(16, false)];
  const bench = { id: plain.id, file: 'shed-60w.bench.yaml', ramps: [], coupons, placeOf: () => at('b.yaml', 1) };
  return { ...plain, lenses, bench };
})();

describe('what reach rests on', () => {
  it('is one text where all lenses share it', () => {
    // Half a band of 5 to 95 %: 1.645 × 25 %.
    expect(basisUnder(plain, lenses, material())).toBe('catalogue, ± 41 %');
    expect(basisUnder(benched, [two], material())).toBe('calibrated, 2 coupons');
    expect(basisUnder(plain, lenses, material({ removal: null }))).toBe('none');
  });

  it('is told for each lens where coupons were cut under one of them, lenses alike together', () => {
    const rest = basisUnder(benched, [four], material());
    expect(rest).toMatch(/^catalogue, ± \d\d %$/);
    expect(basisUnder(benched, [five], material())).toBe(rest);
    expect(basisUnder(benched, lenses, material())).toBe(`2in: calibrated, 2 coupons; 4in, 5in: ${rest}`);
    expect(basisUnder(benched, [four, two, five], material())).toBe(`4in, 5in: ${rest}; 2in: calibrated, 2 coupons`);
  });
});

describe('what the sheets of a chart are held to', () => {
  const [catalogue, calibrated] = [
    { limit: 0.9, errorLimit: 0.14 },
    { limit: 0.95, errorLimit: 0.5 },
  ];

  it('is the strictest that one of its lenses is judged by, wherever that stands', () => {
    expect(limitsUnder(plain, lenses, material())).toEqual(catalogue);
    expect(limitsUnder(benched, [four, five], material())).toEqual(catalogue);
    expect(limitsUnder(benched, [two], material())).toEqual(calibrated);
    expect(limitsUnder(benched, lenses, material())).toEqual(calibrated);
    expect(limitsUnder(benched, [four, two], material())).toEqual(calibrated);
  });

  it('is the catalogue’s where nothing is known', () => {
    expect(limitsUnder(plain, lenses, material({ removal: null }))).toEqual(catalogue);
  });
});
