import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { marchDepth } from '../../src/physics/march/march.ts';
import type { CutPass } from '../../src/physics/march/passes.ts';
import { ACRYLIC, beamOf, co2Beam, PINE, withoutConduction } from './sample-cuts.ts';

const pass = fc.record({
  powerW: fc.double({ min: 1, max: 400, noNaN: true }),
  speedMmPerS: fc.double({ min: 0.5, max: 200, noNaN: true }),
  focusMm: fc.double({ min: -12, max: 3, noNaN: true }),
});
const recipe = fc.array(pass, { minLength: 1, maxLength: 4 });
const stock = fc.record({
  removalJPerMm3: fc.double({ min: 0.1, max: 20, noNaN: true }),
  divergenceShare: fc.double({ min: 0, max: 1, noNaN: true }),
  conductivityWPerMK: fc.double({ min: 0, max: 0.5, noNaN: true }),
  diffusivityMm2PerS: fc.double({ min: 0.05, max: 0.3, noNaN: true }),
  temperatureRiseK: fc.double({ min: 0, max: 500, noNaN: true }),
});
const beam = fc
  .record({
    spot: fc.double({ min: 0.05, max: 0.4, noNaN: true }),
    rayleigh: fc.double({ min: 0.2, max: 6, noNaN: true }),
  })
  .map(({ spot, rayleigh }) => beamOf(spot, rayleigh));
/** Room for the rounding of the quadrature. */
const SLACK = 1 + 2e-3;
const runs = { numRuns: 400, seed: 11 };

describe('the march', () => {
  it('deepens with power', () => {
    fc.assert(
      fc.property(beam, stock, recipe, fc.double({ min: 1, max: 3, noNaN: true }), (b, s, passes, more) => {
        const stronger = passes.map((each) => ({ ...each, powerW: each.powerW * more }));
        expect(marchDepth(b, s, stronger).depthMm * SLACK).toBeGreaterThanOrEqual(marchDepth(b, s, passes).depthMm);
      }),
      runs,
    );
  });

  it('gets shallower with speed', () => {
    fc.assert(
      fc.property(beam, stock, recipe, fc.double({ min: 1, max: 3, noNaN: true }), (b, s, passes, faster) => {
        const quick = passes.map((each) => ({ ...each, speedMmPerS: each.speedMmPerS * faster }));
        expect(marchDepth(b, s, quick).depthMm).toBeLessThanOrEqual(marchDepth(b, s, passes).depthMm * SLACK);
      }),
      runs,
    );
  });

  it('gets shallower with the removal energy', () => {
    fc.assert(
      fc.property(beam, stock, recipe, fc.double({ min: 1, max: 3, noNaN: true }), (b, s, passes, harder) => {
        const hard = { ...s, removalJPerMm3: s.removalJPerMm3 * harder };
        expect(marchDepth(b, hard, passes).depthMm).toBeLessThanOrEqual(marchDepth(b, s, passes).depthMm * SLACK);
      }),
      runs,
    );
  });

  it('never loses depth with one more pass', () => {
    fc.assert(
      fc.property(beam, stock, recipe, pass, (b, s, passes, one) => {
        const depths = marchDepth(b, s, [...passes, one]).depthAfterPassMm;
        for (let i = 1; i < depths.length; i++) expect(depths[i]).toBeGreaterThanOrEqual(depths[i - 1]!);
      }),
      runs,
    );
  });

  it('has converged: half the step moves no depth by 0.2 %', () => {
    fc.assert(
      fc.property(beam, stock, recipe, (b, s, passes) => {
        const depth = marchDepth(b, s, passes).depthMm;
        const finer = marchDepth(b, s, passes, undefined, 2).depthMm;
        expect(Math.abs(depth - finer)).toBeLessThan(0.002 * finer);
      }),
      runs,
    );
  });

  it('agrees with a plain march in steps of 1 µm', () => {
    const passes: CutPass[] = [
      { powerW: 60, speedMmPerS: 10, focusMm: 0 },
      { powerW: 40, speedMmPerS: 8, focusMm: -3 },
      { powerW: 60, speedMmPerS: 12, focusMm: 1 },
    ];
    const b = co2Beam(2);
    expect(marchDepth(b, ACRYLIC, passes).depthMm / plainMarch(b, ACRYLIC, passes)).toBeCloseTo(1, 2);
    expect(marchDepth(b, PINE, passes).depthMm / plainMarch(b, PINE, passes)).toBeCloseTo(1, 2);
  });

  it('agrees with that plain march whatever the passes, as their slots cross and hold each other', () => {
    const some = fc.array(
      fc.record({
        powerW: fc.double({ min: 20, max: 80, noNaN: true }),
        speedMmPerS: fc.double({ min: 6, max: 20, noNaN: true }),
        focusMm: fc.double({ min: -6, max: 2, noNaN: true }),
      }),
      { minLength: 2, maxLength: 5 },
    );
    fc.assert(
      fc.property(fc.constantFrom(1, 0.6, 0.15), some, (divergenceShare, passes) => {
        const b = beamOf(0.12, 1);
        const s = { ...PINE, divergenceShare };
        const plain = plainMarch(b, s, passes);
        // Below half a millimetre the micrometre of the plain march counts.
        fc.pre(plain > 0.5);
        expect(Math.abs(marchDepth(b, s, passes).depthMm / plain - 1)).toBeLessThan(0.005);
      }),
      { numRuns: 150, seed: 12 },
    );
  });

  it('stops at the limit and says what power is left', () => {
    const march = marchDepth(co2Beam(2), ACRYLIC, [{ powerW: 50, speedMmPerS: 4, focusMm: 0 }], 3);
    expect(march.depthMm).toBe(3);
    expect(march.powerLeftW).toBeGreaterThan(20);
    expect(march.bottomWidthMm).toBeGreaterThan(march.topWidthMm);
  });

  it('charges a lowered focus for the width it has to add', () => {
    const b = beamOf(0.12, 1);
    const s = withoutConduction(4, 0);
    const first = { powerW: 50, speedMmPerS: 10, focusMm: 0 };
    const alone = marchDepth(b, s, [first, { ...first, focusMm: -2 }]);
    const unmoved = marchDepth(b, s, [first, first]);
    expect(alone.depthMm, 'walls that guide perfectly give a lowered focus nothing').toBeLessThan(unmoved.depthMm);
    expect(alone.topWidthMm, 'the slot is widened at the face').toBeGreaterThan(unmoved.topWidthMm);
  });

  it('gains from a lowered focus where the beam spreads freely', () => {
    const b = beamOf(0.12, 1);
    const s = withoutConduction(4, 1);
    const first = { powerW: 50, speedMmPerS: 10, focusMm: 0 };
    const step = [first, { ...first, focusMm: -2 }, { ...first, focusMm: -4 }];
    expect(marchDepth(b, s, step).depthMm).toBeGreaterThan(marchDepth(b, s, [first, first, first]).depthMm);
  });

  it('starts as wide as the free beam when the waist stands above the face', () => {
    const b = beamOf(0.12, 1);
    const march = marchDepth(b, withoutConduction(4, 0), [{ powerW: 50, speedMmPerS: 10, focusMm: 2 }]);
    expect(march.topWidthMm).toBeCloseTo(0.12 * Math.sqrt(5), 9);
  });

  it('cuts nothing without power', () => {
    expect(marchDepth(co2Beam(2), ACRYLIC, [{ powerW: 0, speedMmPerS: 4, focusMm: 0 }]).depthMm).toBe(0);
  });

  it.each([0, -1, Number.NaN, Number.POSITIVE_INFINITY])('refuses a speed of %s', (speedMmPerS) => {
    expect(() => marchDepth(co2Beam(2), ACRYLIC, [{ powerW: 50, speedMmPerS, focusMm: 0 }])).toThrow(RangeError);
  });

  it('stays finite at the ends of what can be typed', () => {
    const extremes = [1e-308, 1e-9, 1, 1e9, 1e308];
    for (const powerW of extremes) {
      for (const speedMmPerS of extremes) {
        for (const focusMm of [-1e6, -1, 0, 1e6]) {
          const { depthMm } = marchDepth(co2Beam(2), ACRYLIC, [{ powerW, speedMmPerS, focusMm }]);
          expect(depthMm).toBeGreaterThanOrEqual(0);
          expect(Number.isFinite(depthMm)).toBe(true);
        }
      }
    }
  });
});

/** The same balance by Euler's rule in micrometres, the slot kept as an array: slow, and written without the march's tricks. */
function plainMarch(b: ReturnType<typeof co2Beam>, s: typeof ACRYLIC, passes: readonly CutPass[]): number {
  const step = 0.001;
  const slot: number[] = [];
  let depth = 0;
  for (const { powerW, speedMmPerS: v, focusMm } of passes) {
    let left = powerW;
    for (let i = 0; left > 0; i++) {
      const z = (i + 0.5) * step;
      const above = Math.max(0, focusMm);
      const free = Math.hypot(b.spotMm, b.cone * (z + focusMm));
      const entry = Math.hypot(b.spotMm, b.cone * above);
      const w = z + focusMm <= 0 ? free : Math.sqrt(entry ** 2 + s.divergenceShare * (free ** 2 - entry ** 2));
      const was = slot[i] ?? 0;
      const pe = (v * w) / (2 * s.diffusivityMm2PerS);
      const q = ((4 * s.conductivityWPerMK) / 1000) * s.temperatureRiseK * (pe / 2) ** 0.36;
      left -= step * (s.removalJPerMm3 * v * Math.max(0, w - was) + (was === 0 ? q : 0));
      if (left > 0) slot[i] = Math.max(was, w);
    }
    depth = slot.length * step;
  }
  return depth;
}
