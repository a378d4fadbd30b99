import { describe, expect, it } from 'vitest';
import { basisOf, thicknessSpreadMm } from '../../../src/facts/cuts/prediction.ts';
import { removalUnder } from '../../../src/facts/cuts/removal.ts';
import type { Material } from '../../../src/job/model.ts';
import { COUPLING } from '../../../src/physics/coupling.ts';
import { material } from '../../rules/build-job.ts';

const removal = (change: Partial<NonNullable<Material['removal']>>) =>
  material({ removal: { ...material().removal!, jPerMm3: 3, spread: 0.3, ...change } });

describe('what it takes to remove a material', () => {
  it('is what stands in its file under a CO₂ source, and more in doubt under a diode', () => {
    expect(removalUnder(removal({}), 'co2')).toEqual({ jPerMm3: 3, spread: 0.3 });
    expect(removalUnder(removal({}), 'fibre')).toEqual({ jPerMm3: 3, spread: 0.3 });
    const { energyFactor, spread } = COUPLING.diode;
    expect(removalUnder(removal({}), 'diode')).toEqual({ jPerMm3: 3 * energyFactor, spread: Math.hypot(0.3, spread) });
  });

  it('is what the shop found on its own bench, whatever the source', () => {
    const own = { kind: 'measured-here', source: 'comb of 2026' } as const;
    expect(removalUnder(removal({ provenance: own }), 'diode')).toEqual({ jPerMm3: 3, spread: 0.3 });
    expect(removalUnder(removal({ coupons: 4 }), 'diode')).toEqual({ jPerMm3: 3, spread: 0.3 });
  });

  it('is nothing that is known where no source cuts it', () => {
    const none = material({ removal: null });
    expect(removalUnder(none, 'co2')).toBeNull();
    expect(basisOf(none, 'co2')).toBe('none');
  });
});

describe('the basis of a prediction', () => {
  // 5–95 %: 1.645 standard deviations.
  it('tells the band as ±, and as a factor where that would reach to nothing', () => {
    expect(basisOf(removal({ spread: 0.3 }), 'co2')).toBe('catalogue, ± 49 %');
    expect(basisOf(removal({ spread: 0.6 }), 'co2')).toBe('catalogue, within a factor of 2.7');
    expect(basisOf(removal({ spread: 0.3 }), 'diode')).toMatch(/^catalogue, within a factor of 3\.0$/);
    expect(basisOf(removal({ coupons: 4 }), 'co2')).toBe('calibrated, 4 coupons');
  });
});

describe('the doubt of a thickness', () => {
  it.each([
    [{ mm: 3, plusMinusMm: null, nominal: false }, 0.1],
    [{ mm: 0.3, plusMinusMm: null, nominal: false }, 0.03],
    [{ mm: 0.3, plusMinusMm: null, nominal: true }, 0.03],
    [{ mm: 6, plusMinusMm: null, nominal: true }, 0.3],
    [{ mm: 6, plusMinusMm: 0.2, nominal: false }, 0.1],
  ])('of %j is %s mm', (thickness, spreadMm) => {
    expect(thicknessSpreadMm(thickness)).toBeCloseTo(spreadMm, 9);
  });
});
