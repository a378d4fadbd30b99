// A beam that was assumed and not stated: how its doubt enters a depth. Held against the optics of focused-beam.ts with the figures changed,
// and against a plain random sample of the same doubts.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Beam, type BeamDoubt, type BeamInput, focusBeam } from '../../src/physics/beam/focused-beam.ts';
import { beamOffBy, beamSpread } from '../../src/physics/doubt/beam-doubt.ts';
import { predictCut, sampleDepths, throughProbability } from '../../src/physics/doubt/predict.ts';
import { quantile } from '../../src/physics/doubt/quantile.ts';
import { marchDepth, marchedDepthMm } from '../../src/physics/march/march.ts';
import { NO_DOUBT, pineCut } from './sample-cuts.ts';

const INPUT: BeamInput = {
  wavelengthUm: 10.6,
  diameterMm: 6,
  m2: 1.2,
  focalMm: 50.8,
  shape: 'plano-convex',
  lensMaterial: 'ZnSe',
  spotMm: null,
};
const COMPUTED: BeamDoubt = { diameter: 0.15, spot: 0.1, computed: true, leastFactor: 1 / 1.2 };
const ASSUMED_SPOT: BeamDoubt = { diameter: 0.3, spot: 0.3, computed: false, leastFactor: 0 };

const cutWith = (beam: Beam, speed = 8) => ({ ...pineCut(speed), beam });
const halfBand = (beam: Beam) => {
  const { depths } = sampleDepths(cutWith(beam));
  return Math.log(quantile(depths, 0.95) / quantile(depths, 0.05)) / 2;
};

describe('a beam in doubt', () => {
  it('is the very same beam where nothing of it was assumed, and widens nothing', () => {
    const beam = focusBeam(INPUT);
    expect(beamOffBy(beam, { diameter: 1, spot: 1 })).toBe(beam);
    expect(beamSpread(beam, pineCut(8).stock, pineCut(8).passes)).toBe(0);
    const nothing = focusBeam({ ...INPUT, doubt: { diameter: 0, spot: 0, computed: true, leastFactor: 0 } });
    expect(predictCut(cutWith(nothing))).toEqual(predictCut(cutWith(beam)));
  });

  it('follows the diameter at the lens and M² as the optics have it', () => {
    const beam = focusBeam({ ...INPUT, doubt: COMPUTED });
    for (const sigmas of [-2, -1, -0.5, 0.5, 1, 2]) {
      const wider = beamOffBy(beam, { diameter: sigmas, spot: 0 });
      const diameterMm = INPUT.diameterMm * Math.exp(0.15 * sigmas);
      expect(wider.spotMm).toBeCloseTo(focusBeam({ ...INPUT, diameterMm }).spotMm, 9);
      expect(wider.cone).toBeCloseTo(focusBeam({ ...INPUT, diameterMm }).cone, 9);
      const coarser = beamOffBy(beam, { diameter: 0, spot: sigmas });
      const m2 = Math.max(1, INPUT.m2 * Math.exp(0.1 * sigmas));
      expect(coarser.spotMm).toBeCloseTo(focusBeam({ ...INPUT, m2 }).spotMm, 9);
      expect(coarser.cone).toBe(beam.cone);
    }
  });

  it('leaves a spot that was stated alone and lets only its cone spread', () => {
    const spotMm = { xMm: 0.1, yMm: 0.08 };
    const beam = focusBeam({ ...INPUT, spotMm, doubt: { diameter: 0.2, spot: 0, computed: false, leastFactor: 0 } });
    const off = beamOffBy(beam, { diameter: 1, spot: 1 });
    expect([off.spotMm, off.cone / beam.cone]).toEqual([0.1, Math.exp(0.2)]);
  });

  it('is in doubt where nothing is cut, and widens nothing there', () => {
    const beam = focusBeam({ ...INPUT, doubt: COMPUTED });
    expect(beamSpread(beam, pineCut(8).stock, [{ powerW: 0, speedMmPerS: 8, focusMm: 0 }])).toBe(0);
  });
});

describe('a depth under a beam in doubt', () => {
  it('has a wider band about nearly the same median, the wider the more is in doubt', () => {
    const sure = focusBeam(INPUT);
    const bands = [0, 0.1, 0.2, 0.3].map((diameter) =>
      halfBand(focusBeam({ ...INPUT, doubt: { ...COMPUTED, diameter, spot: diameter } })),
    );
    expect(bands[0]).toBe(halfBand(sure));
    for (const [i, band] of bands.entries()) if (i > 0) expect(band).toBeGreaterThan(bands[i - 1]!);
    const median = (beam: Beam) => predictCut(cutWith(beam)).prediction!.depthMm;
    expect(median(focusBeam({ ...INPUT, doubt: COMPUTED })) / median(sure)).toBeCloseTo(1, 1);
  });

  it('agrees with a large random sample of the same doubts', () => {
    const spotMm = { xMm: 0.12, yMm: 0.12 };
    for (const beam of [
      focusBeam({ ...INPUT, doubt: COMPUTED }),
      focusBeam({ ...INPUT, spotMm, doubt: ASSUMED_SPOT }),
    ]) {
      const cut = { ...cutWith(beam), doubt: { ...NO_DOUBT, removal: 0.25 } };
      const random = randomDepths(cut, 20_000);
      const { depthLowMm, depthHighMm, depthMm } = predictCut(cut).prediction!;
      expect(Math.abs(depthLowMm / quantile(random, 0.05) - 1)).toBeLessThan(0.03);
      expect(Math.abs(depthMm / quantile(random, 0.5) - 1)).toBeLessThan(0.03);
      expect(Math.abs(depthHighMm / quantile(random, 0.95) - 1)).toBeLessThan(0.03);
    }
  });

  it('gets less sure with the speed without jumps, so that it can be solved for', () => {
    const beam = focusBeam({ ...INPUT, doubt: COMPUTED });
    let before = 1;
    for (let speed = 2; speed < 30; speed *= 1.02) {
      const now = throughProbability(cutWith(beam, speed));
      expect(now).toBeLessThanOrEqual(before + 1e-12);
      expect(before - now).toBeLessThan(0.05);
      before = now;
    }
  });

  it('that falls short with nothing off stays well below three quarters', () => {
    // The search for remedies leaves such cuts aside at once.
    const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    const drawn = fc.record({
      diameter: number(0, 0.35),
      spot: number(0, 0.35),
      computed: fc.boolean(),
      speed: number(1, 60),
      focusMm: number(-6, 4),
      lacking: number(1e-4, 0.05),
    });
    fc.assert(
      fc.property(drawn, ({ diameter, spot, computed, speed, focusMm, lacking }) => {
        const doubt = { diameter, spot, computed, leastFactor: computed ? 1 / 1.2 : 0 };
        const beam = focusBeam({ ...INPUT, spotMm: computed ? null : { xMm: 0.12, yMm: 0.12 }, doubt });
        const cut = { ...cutWith(beam), passes: [{ powerW: 50, speedMmPerS: speed, focusMm }] };
        const thicknessMm = marchDepth(cut.beam, cut.stock, cut.passes).depthMm * (1 + lacking);
        fc.pre(thicknessMm > 0.2);
        expect(throughProbability({ ...cut, thicknessMm })).toBeLessThan(0.75);
      }),
      { numRuns: 100 },
    );
  });
});

/** Depths by a plain generator and the optics themselves, sorted. */
function randomDepths(cut: ReturnType<typeof cutWith>, count: number): Float64Array {
  let state = 2026;
  const uniform = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return (state + 0.5) / 2 ** 32;
  };
  const normal = () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
  const doubt = cut.beam.doubt!;
  return Float64Array.from({ length: count }, () => {
    const diameterMm = INPUT.diameterMm * Math.exp(doubt.diameter * normal());
    const factor = Math.exp(doubt.spot * normal());
    const side = 0.12 * factor;
    const spotMm = doubt.computed ? null : { xMm: side, yMm: side };
    const beam = focusBeam({ ...INPUT, diameterMm, m2: Math.max(1, doubt.computed ? INPUT.m2 * factor : 1.2), spotMm });
    const removalJPerMm3 = cut.stock.removalJPerMm3 * Math.exp(cut.doubt.removal * normal());
    return marchedDepthMm(beam, { ...cut.stock, removalJPerMm3 }, cut.passes);
  }).sort();
}
