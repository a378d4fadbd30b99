import { describe, expect, it } from 'vitest';
import {
  beamFact,
  beamOf,
  opticsOf,
  upsideDownBeamOf,
  widestAcross,
  withoutDoubt,
} from '../../../src/facts/cuts/optics.ts';
import type { Lens, Machine } from '../../../src/job/model.ts';
import { machine } from '../../rules/build-job.ts';

const LENS = machine().lenses[0]!;
const spotted = (xMm: number, yMm: number): Lens => ({ ...LENS, spotMm: { xMm, yMm } });
const assumed = (...keys: [key: string, spread: number][]): Pick<Machine, 'assumed'> => ({
  assumed: keys.map(([key, spread]) => ({ key, spread, value: 1, unit: 'mm', basis: 'invented' })),
});
const withAssumed = (...keys: [key: string, spread: number][]): Machine => ({ ...machine(), ...assumed(...keys) });

describe('the lens of a job', () => {
  it('is the one that is asked for, else the machine’s first', () => {
    expect(opticsOf(machine(), '4in')).toMatchObject({ lens: { id: '4in' }, problem: null });
    expect(opticsOf(machine(), null)).toMatchObject({ lens: { id: '2in' }, problem: null });
  });

  it.each<[string, Machine | null, string | null]>([
    ['the machine is not known', null, '2in'],
    ['the machine has no such lens', machine(), '3in'],
    ['the machine has no lens at all', machine({ lenses: [] }), null],
  ])('is not known where %s', (_, at, wanted) => {
    expect(opticsOf(at, wanted)).toEqual({ lens: null, beam: null, problem: null });
  });

  it('gives no beam, and says why, where the profile’s figures allow none', () => {
    const problem = 'the beam diameter at the lens must be above 0 mm, not 0';
    const at = machine({ beam: { diameterMm: 0 } });
    expect(opticsOf(at, '2in')).toEqual({ lens: at.lenses[0], beam: null, problem });
    expect(beamOf(at, LENS)).toEqual({ beam: null, problem });
  });

  it('makes its spot of wavelength, beam and focal length where none was measured', () => {
    const { beam } = beamOf(machine(), LENS);
    // 4 M² λ f / (π D) = 4 × 1.2 × 0.0106 × 50.8 / (π × 6) mm; the cone is D / f.
    expect(beam!.diffractionMm).toBeCloseTo(0.13712, 5);
    expect(beam!.cone).toBeCloseTo(6 / 50.8, 9);
    expect(beam!.blurMm).toBeGreaterThan(0);
    expect(beamOf(machine(), { ...LENS, shape: 'plano-convex' }).beam!.blurMm).toBeGreaterThan(beam!.blurMm);
    expect(beamOf(machine(), { ...LENS, material: 'GaAs' }).beam!.blurMm).not.toBe(beam!.blurMm);
    expect(beamOf(machine(), spotted(0.2, 0.2)).beam).toMatchObject({ spotMm: 0.2, blurMm: 0 });
  });
});

describe('a spot that is not round', () => {
  const across = (xMm: number, yMm: number) => widestAcross(beamOf(machine(), spotted(xMm, yMm)).beam!).spotMm;

  it('counts with its wider side, since an outline runs in every direction', () => {
    expect(across(0.1, 0.3)).toBeCloseTo(0.3, 12);
    expect(across(0.3, 0.1)).toBeCloseTo(0.3, 12);
    expect(opticsOf(machine({ lenses: [spotted(0.1, 0.3)] }), null).beam!.spotMm).toBeCloseTo(0.3, 12);
  });

  it('is left as it is where it is round', () => {
    const round = beamOf(machine(), spotted(0.2, 0.2)).beam!;
    expect(widestAcross(round)).toBe(round);
  });
});

describe('the doubt of a beam', () => {
  const doubtOf = (at: Machine, lens = LENS) => beamOf(at, lens).beam!.doubt;

  it('is nothing where the profile states all', () => {
    expect(doubtOf(machine())).toBeNull();
    // What is assumed of another lens, or of M² where the spot was measured, is no doubt of this one.
    expect(doubtOf(withAssumed(['lenses.4in.spot', 0.2]), spotted(0.2, 0.2))).toBeNull();
    expect(doubtOf(withAssumed(['beam.m2', 0.2]), spotted(0.2, 0.2))).toBeNull();
    expect(doubtOf(withAssumed(['lenses.2in.spot', 0.2]))).toBeNull();
  });

  it('is that of diameter and M² for a spot that is computed; M² cannot be below 1', () => {
    const least = expect.closeTo(1 / 1.2, 9);
    expect(doubtOf(withAssumed(['beam.diameter', 0.1], ['beam.m2', 0.2]))).toEqual({
      diameter: 0.1,
      spot: 0.2,
      computed: true,
      leastFactor: least,
    });
    expect(doubtOf(withAssumed(['beam.m2', 0.2]))).toMatchObject({ diameter: 0, spot: 0.2 });
    expect(doubtOf(withAssumed(['beam.diameter', 0.1]))).toMatchObject({ diameter: 0.1, spot: 0 });
  });

  it('is that of the spot itself where that was assumed', () => {
    expect(doubtOf(withAssumed(['lenses.2in.spot', 0.3]), spotted(0.2, 0.2))).toEqual({
      diameter: 0,
      spot: 0.3,
      computed: false,
      leastFactor: 0,
    });
  });

  it('can be left out, and the rest of the beam stays', () => {
    const { beam } = beamOf(withAssumed(['beam.m2', 0.2]), LENS);
    expect(withoutDoubt(beam!)).toEqual({ ...beam, doubt: null });
    const sure = beamOf(machine(), LENS).beam!;
    expect(withoutDoubt(sure)).toBe(sure);
  });
});

describe('what is told of the beam', () => {
  it('is its spot, and the depth within which that grows by √2: twice z_R, spot over cone', () => {
    const at = machine({ lenses: [spotted(0.2, 0.2)] });
    // 0.2 / (6 / 50.8) = 1.6933 mm.
    expect(beamFact(at, opticsOf(at, '2in'))).toEqual({
      spotMm: 0.2,
      rayleighMm: expect.closeTo(1.69333, 5),
      depthOfFocusMm: expect.closeTo(3.38667, 5),
      spotBasis: 'measured',
    });
  });

  it('says whether the spot was measured, assumed or computed', () => {
    const basis = (at: Machine) => beamFact(at, opticsOf(at, '2in'))!.spotBasis;
    expect(basis(machine())).toBe('computed');
    expect(basis({ ...machine({ lenses: [spotted(0.2, 0.2)] }), ...assumed(['lenses.2in.spot', 0.3]) })).toBe(
      'assumed',
    );
    expect(basis({ ...machine({ lenses: [spotted(0.2, 0.2)] }), ...assumed(['lenses.4in.spot', 0.3]) })).toBe(
      'measured',
    );
    expect(basis({ ...machine(), ...assumed(['lenses.2in.spot', 0.3]) })).toBe('computed');
  });

  it('is nothing without a machine, a lens or a beam', () => {
    const optics = opticsOf(machine(), '2in');
    expect(beamFact(null, optics)).toBeNull();
    expect(beamFact(machine(), { ...optics, lens: null })).toBeNull();
    expect(beamFact(machine(), { ...optics, beam: null })).toBeNull();
  });
});

describe('a lens upside down', () => {
  it('blurs the more, unless it is as good either way round', () => {
    const plano: Lens = { ...LENS, shape: 'plano-convex' };
    expect(upsideDownBeamOf(machine(), plano)!.blurMm).toBeGreaterThan(beamOf(machine(), plano).beam!.blurMm);
    expect(upsideDownBeamOf(machine(), { ...LENS, shape: 'plano-convex-reversed' })).toBeNull();
  });
});
