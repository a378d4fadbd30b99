import { describe, expect, it } from 'vitest';
import { type BeamInput, depthOfFocusMm, diameterAtMm, focusBeam } from '../../src/physics/beam/focused-beam.ts';
import { blurFactor, refractiveIndex } from '../../src/physics/beam/lens.ts';

const IN = 25.4;
const base: BeamInput = {
  wavelengthUm: 10.6,
  diameterMm: 7,
  m2: 1.2,
  focalMm: 2 * IN,
  shape: 'plano-convex',
  lensMaterial: 'ZnSe',
  spotMm: null,
};

describe('ZnSe at 10.6 µm', () => {
  it('has the index 2.4028 ([REFRACTIVEINDEX]: [CONNOLLY-1979])', () => {
    expect(refractiveIndex('ZnSe', 10.6).n).toBeCloseTo(2.4028, 4);
  });

  // Third-order aberration formula of the textbooks, evaluated by hand for n = 2.4028.
  it.each([
    ['plano-convex', 0.0286],
    ['plano-convex-reversed', 0.0917],
    ['best-form', 0.0187],
    ['meniscus', 0.0187],
  ] as const)('has the blur factor of a %s lens', (shape, k) => {
    expect(blurFactor(shape, 2.4028)).toBeCloseTo(k, 4);
  });

  it('blurs 3.2 times as much through a plano-convex lens put in upside down', () => {
    expect(blurFactor('plano-convex-reversed', 2.4028) / blurFactor('plano-convex', 2.4028)).toBeCloseTo(3.2, 1);
  });
});

// Refractive indices at the yellow helium line, 0.5876 µm: [SCHOTT] for N-BK7 (1.5168), [MALITSON-1965] for fused silica
// (1.4585). GaAs and Ge near 10.6 µm: memory.
describe('other lens materials', () => {
  it.each([
    ['N-BK7', 0.5876, 1.5168],
    ['glass', 0.5876, 1.5168],
    [' Fused Silica ', 0.5876, 1.4585],
    ['SiO2', 0.5876, 1.4585],
    ['GaAs', 10.6, 3.27],
    ['germanium', 10.6, 4],
  ])('%s has at %d µm the index %d', (material, wavelengthUm, n) => {
    const found = refractiveIndex(material, wavelengthUm);
    expect(found.n).toBeCloseTo(n, 4);
    expect(found.source).not.toContain('taken for');
  });

  it.each([
    ['gorilla glass', 10.6, 2.4028, 'znse'],
    ['gorilla glass', 0.5876, 1.5168, 'bk7'],
    ['bk7', 10.6, 2.4028, 'znse'],
    ['GaAs', 0.5876, 1.5168, 'bk7'],
  ])('%s is not known at %d µm: the index is %d, and it is said for what it is taken', (material, um, n, taken) => {
    const found = refractiveIndex(material, um);
    expect(found.n).toBeCloseTo(n, 4);
    expect(found.source).toContain(`index of “${material}” not known here, taken for ${taken}`);
  });
});

describe('the smallest spot of a 5 in meniscus ([II-VI]: about 85 µm at about 25 mm, M² = 1)', () => {
  const spotAt = (diameterMm: number) =>
    focusBeam({ ...base, m2: 1, focalMm: 5 * IN, shape: 'meniscus', diameterMm }).spotMm * 1000;
  const diameters = Array.from({ length: 300 }, (_, i) => 10 + i * 0.1);
  const best = diameters.reduce((a, b) => (spotAt(b) < spotAt(a) ? b : a));

  it('is within 2 % of the published spot', () => {
    expect(Math.abs(spotAt(best) / 85 - 1)).toBeLessThan(0.02);
    expect(spotAt(best)).toBeCloseTo(86.2, 1);
  });

  it('comes at a beam of about the published diameter', () => {
    expect(best).toBeCloseTo(26.5, 1);
    expect(Math.abs(best / 25 - 1)).toBeLessThan(0.07);
  });
});

describe('spots of a 7 mm beam, M² 1.2, plano-convex, 10.6 µm (derived by hand from the textbook formulas)', () => {
  it.each([
    [1.5, 95, 88, 0.96],
    [2, 121, 118, 1.71],
    [2.5, 149, 147, 2.67],
    [4, 236, 235, 6.82],
  ])('%s in: total %s µm, diffraction %s µm, depth of focus %s mm', (inches, totalUm, diffractionUm, depthMm) => {
    const beam = focusBeam({ ...base, focalMm: inches * IN });
    expect(Math.round(beam.spotMm * 1000)).toBe(totalUm);
    expect(Math.round(beam.diffractionMm * 1000)).toBe(diffractionUm);
    expect(depthOfFocusMm(beam, 'sqrt2')).toBeCloseTo(depthMm, 2);
  });
});

describe('depth of focus (derived from d(z) = d₀ √(1 + (z/z_R)²))', () => {
  const beam = focusBeam(base);
  it.each([
    ['sqrt2', 2],
    ['five-percent', 0.64],
    ['ten-percent', 0.917],
  ] as const)('by the criterion %s is %s z_R', (criterion, factor) => {
    expect(depthOfFocusMm(beam, criterion) / beam.rayleighMm).toBeCloseTo(factor, 3);
  });

  it('is where an ideal beam has grown by as much (S. Prahl, beam-size notes on ISO 11146)', () => {
    const ideal = focusBeam({ ...base, spotMm: { xMm: 0.12, yMm: 0.12 } });
    for (const z of [0, 0.5, 1, 3]) {
      const growth = Math.sqrt(1 + (z / ideal.rayleighMm) ** 2);
      expect(diameterAtMm(ideal, z)).toBeCloseTo(ideal.spotMm * growth, 12);
    }
    expect(diameterAtMm(ideal, depthOfFocusMm(ideal, 'ten-percent') / 2)).toBeCloseTo(1.1 * ideal.spotMm, 12);
  });
});
