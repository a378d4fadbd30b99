import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { PartingScreen } from '../../src/physics/doubt/parting-screen.ts';
import { type CutInput, probabilityFrom, sampleDepths, throughProbability } from '../../src/physics/doubt/predict.ts';
import { shareAboveZero } from '../../src/physics/doubt/quantile.ts';
import { doubtSamples } from '../../src/physics/doubt/samples.ts';
import { marchedDepthMm } from '../../src/physics/march/march.ts';
import { evenPasses } from '../../src/physics/march/passes.ts';
import { ACRYLIC, beamOf, co2Beam, DOUBT, PINE } from './sample-cuts.ts';

/** A beam of which diameter and quality were assumed. */
const IN_DOUBT = { ...co2Beam(2), doubt: { diameter: 0.2, spot: 0.15, computed: true, leastFactor: 1 / 1.2 } };

/** Cuts of every kind: thin and thick, at any focus, of one pass and several, near the border and far from it. */
const cuts = fc
  .record({
    beam: fc.constantFrom(co2Beam(1.5), co2Beam(2), co2Beam(4), beamOf(0.1, 0.5), beamOf(0.1, 20), IN_DOUBT),
    stock: fc.constantFrom(
      PINE,
      ACRYLIC,
      { ...PINE, divergenceShare: 1 },
      { ...PINE, divergenceShare: 0 },
      { ...PINE, conductivityWPerMK: 0 },
    ),
    thicknessMm: fc.double({ min: 0.2, max: 25, noNaN: true }),
    powerW: fc.double({ min: 1, max: 100, noNaN: true }),
    speedMmPerS: fc.double({ min: 0.5, max: 100, noNaN: true }),
    focusMm: fc.double({ min: -25, max: 5, noNaN: true }),
    passes: fc.integer({ min: 1, max: 4 }),
    focusStepMm: fc.constantFrom(0, 0, -1),
    bowMm: fc.constantFrom(0, 1),
  })
  .map(
    ({ beam, stock, thicknessMm, bowMm, ...recipe }): CutInput => ({
      beam,
      stock,
      doubt: DOUBT,
      passes: evenPasses(recipe),
      thicknessMm,
      bowMm,
    }),
  );

describe('the chance that a cut parts', () => {
  it('is to the last digit that of marching every point to its end', () => {
    const met = { between: 0, none: 0, all: 0 };
    fc.assert(
      fc.property(cuts, (cut) => {
        const whole = shareAboveZero(sampleDepths(cut).margins);
        met[whole < 0.01 ? 'none' : whole > 0.99 ? 'all' : 'between']++;
        expect(throughProbability(cut)).toBe(whole);
        for (const limit of [0.5, 0.9, 0.95]) expect(probabilityFrom(limit, cut)).toBe(whole >= limit ? whole : null);
      }),
      { numRuns: 1500, seed: 17 },
    );
    expect(Math.min(...Object.values(met)), 'cuts on either side of the border and beside it').toBeGreaterThan(50);
  });
});

describe('the screen', () => {
  it('says nothing of a margin but its side, and never that it is further from 0 than it is', () => {
    const told = { short: 0, through: 0, marched: 0 };
    fc.assert(
      fc.property(cuts, (cut) => {
        const samples = doubtSamples(cut.stock.divergenceShare, cut.doubt);
        const screen = PartingScreen.of(cut, samples);
        if (screen === null) return;
        for (let i = 0; i < samples.order.length; i += 10) {
          const bound = screen.boundMm(i);
          if (Number.isNaN(bound)) {
            told.marched++;
            continue;
          }
          const place = samples.order[i]!;
          const { divergenceShare, focusShiftMm, thicknessShiftMm } = samples.places[place]!;
          const [removalFactor, powerFactor] = [samples.removalFactors[place]!, samples.powerFactors[place]!];
          const stock = { ...cut.stock, removalJPerMm3: cut.stock.removalJPerMm3 * removalFactor, divergenceShare };
          const passes = cut.passes.map((pass) => ({
            ...pass,
            powerW: pass.powerW * powerFactor,
            focusMm: pass.focusMm + focusShiftMm,
          }));
          const margin = marchedDepthMm(cut.beam, stock, passes) - (cut.thicknessMm + thicknessShiftMm);
          told[margin < 0 ? 'short' : 'through']++;
          expect(Math.sign(bound)).toBe(Math.sign(margin));
          expect(Math.abs(bound)).toBeLessThanOrEqual(Math.abs(margin));
        }
      }),
      { numRuns: 1000, seed: 3 },
    );
    expect(Math.min(told.short, told.through)).toBeGreaterThan(1000);
    expect(told.marched, 'and is seldom at a loss').toBeLessThan((told.short + told.through) / 5);
  });

  it('is silent where passes differ in speed or focus', () => {
    const pass = { powerW: 30, speedMmPerS: 10, focusMm: 0 };
    const of = (other: object) =>
      PartingScreen.of(
        { beam: co2Beam(2), stock: PINE, passes: [pass, { ...pass, ...other }], thicknessMm: 6 },
        doubtSamples(0.15, DOUBT),
      );
    expect(of({ speedMmPerS: 12 })).toBeNull();
    expect(of({ focusMm: -1 })).toBeNull();
    expect(of({ powerW: 20 })).not.toBeNull();
  });
});
