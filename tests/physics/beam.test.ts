import { describe, expect, it } from 'vitest';
import {
  type BeamInput,
  beamAcross,
  diameterAtMm,
  focusBeam,
  spotAcrossMm,
} from '../../src/physics/beam/focused-beam.ts';
import { refractiveIndex } from '../../src/physics/beam/lens.ts';

const input: BeamInput = {
  wavelengthUm: 10.6,
  diameterMm: 7,
  m2: 1.2,
  focalMm: 50.8,
  shape: 'meniscus',
  lensMaterial: 'ZnSe',
  spotMm: null,
};

describe('the focused beam', () => {
  it('keeps the cone of the lens, whatever the spot', () => {
    const computed = focusBeam(input);
    const measured = focusBeam({ ...input, spotMm: { xMm: 0.27, yMm: 0.27 } });
    expect(computed.cone).toBe(measured.cone);
    expect(diameterAtMm(measured, 100)).toBeCloseTo(diameterAtMm(computed, 100), 2);
  });

  it('takes a measured spot over the computed one, and its Rayleigh range from spot and cone', () => {
    const beam = focusBeam({ ...input, spotMm: { xMm: 0.27, yMm: 0.27 } });
    expect(beam.spotMm).toBe(0.27);
    expect(beam.rayleighMm).toBeCloseTo((0.27 * 50.8) / 7, 9);
  });

  it('lets blur widen the spot but not lengthen the focus', () => {
    const curvedAway = focusBeam({ ...input, shape: 'plano-convex-reversed' });
    const bestForm = focusBeam({ ...input, shape: 'best-form' });
    expect(curvedAway.spotMm).toBeGreaterThan(bestForm.spotMm);
    expect(curvedAway.rayleighMm).toBe(bestForm.rayleighMm);
  });

  it('meets a rectangular spot by the direction of the cut', () => {
    const beam = focusBeam({ ...input, wavelengthUm: 0.45, spotMm: { xMm: 0.08, yMm: 0.15 } });
    expect(spotAcrossMm(beam, 0)).toBeCloseTo(0.15, 9);
    expect(spotAcrossMm(beam, Math.PI / 2)).toBeCloseTo(0.08, 9);
    expect(beamAcross(beam, Math.PI / 2).spotMm).toBeCloseTo(0.08, 9);
    expect(beam.spotMm, 'without a direction the wider side counts').toBe(0.15);
  });

  it('meets a round spot alike in all directions', () => {
    const beam = focusBeam(input);
    for (const direction of [0, 0.4, 1, 2, 3]) expect(spotAcrossMm(beam, direction)).toBeCloseTo(beam.spotMm, 12);
  });

  it.each([
    ['a spot of 0', { spotMm: { xMm: 0, yMm: 0.1 } }, /spot/],
    ['M² below 1', { m2: 0.9 }, /M²/],
    ['a beam without a diameter', { diameterMm: 0 }, /diameter/],
    ['a focal length that is no number', { focalMm: Number.NaN }, /focal/],
    ['an endless wavelength', { wavelengthUm: Number.POSITIVE_INFINITY }, /wavelength/],
  ])('refuses %s', (_, change, message) => {
    expect(() => focusBeam({ ...input, ...change })).toThrow(message);
  });

  it('says where the index came from, and when the lens material is not known', () => {
    expect(refractiveIndex('ZnSe', 10.6).source).toMatch(/\[REFRACTIVEINDEX\]/);
    expect(refractiveIndex('sugar', 10.6).source).toMatch(/not known/);
    expect(refractiveIndex('sugar', 10.6).n).toBe(refractiveIndex('ZnSe', 10.6).n);
  });

  // Ranges of the formulas: src/physics/beam/lens.ts names their sources.
  it.each([
    ['ZnSe', 0.54, 18.2, /\[REFRACTIVEINDEX\]/],
    ['fused silica', 0.21, 3.7, /\[MALITSON-1965\]/],
    ['BK7', 0.3, 2.5, /\[SCHOTT\]/],
  ])(
    'knows %s from %d to %d µm, both included, and takes it for the usual glass beyond',
    (glass, fromUm, toUm, source) => {
      for (const um of [fromUm, toUm]) expect(refractiveIndex(glass, um).source).toMatch(source);
      for (const um of [fromUm - 0.001, toUm + 0.001])
        expect(refractiveIndex(glass, um).source).toMatch(/not known here/);
    },
  );

  it.each([
    ['zinc selenide', 'ZnSe'],
    ['gallium arsenide', 'GaAs'],
    ['Germanium', 'Ge'],
  ])('knows %s as %s', (name, symbol) => {
    expect(refractiveIndex(name, 10.6)).toEqual(refractiveIndex(symbol, 10.6));
    expect(refractiveIndex(name, 10.6).source).not.toMatch(/not known/);
  });

  it.each([
    ['quartz', 'fused silica'],
    ['SiO2', 'fused silica'],
    ['UVFS', 'fused silica'],
    ['glass', 'BK7'],
    ['N-BK7', 'BK7'],
  ])('knows %s as %s', (name, usual) => {
    expect(refractiveIndex(name, 1.064)).toEqual(refractiveIndex(usual, 1.064));
  });

  it('computes a perfect beam', () => {
    expect(focusBeam({ ...input, m2: 1 }).spotMm).toBeLessThan(focusBeam(input).spotMm);
  });

  it('agrees with remembered indices of fused silica and BK7 at 1.064 µm', () => {
    // Memory: 1.4496 and 1.5066.
    expect(refractiveIndex('fused silica', 1.064).n).toBeCloseTo(1.4496, 4);
    expect(refractiveIndex('N-BK7', 1.064).n).toBeCloseTo(1.5066, 4);
  });
});
