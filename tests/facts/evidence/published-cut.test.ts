import { describe, expect, it } from 'vitest';
import { inputOfPublished } from '../../../src/facts/evidence/published-cut.ts';
import type { Evidence, EvidenceMachine, PublishedCut } from '../../../src/job/evidence/evidence.ts';
import { at, material } from '../../rules/build-job.ts';

const CUT: PublishedCut = {
  id: 'r1',
  material: 'birch-plywood',
  thicknessMm: 4,
  ratedW: 60,
  power: { fraction: 0.5 },
  speedMmPerS: 12,
  passes: 2,
  focusMm: -1,
  outcome: 'cut',
  depthMm: null,
  use: 'daily',
  bracket: null,
  quality: 'A',
  worn: false,
  inferred: [],
  note: null,
};
const MACHINE: EvidenceMachine = { kind: 'co2', ratedW: 60, focalMm: null, spotMm: null, spotBetweenMm: null };

const judged = (change: Partial<PublishedCut> = {}, machine: Partial<EvidenceMachine> | null = {}, own = material()) =>
  inputOfPublished(
    {
      id: 'a-shop',
      file: 'a-shop.evidence.yaml',
      citation: 'A shop, wiki',
      note: null,
      machine: machine && { ...MACHINE, ...machine },
      cuts: [],
      energies: [],
      placeOf: () => at('a-shop.evidence.yaml', 1),
    } satisfies Evidence,
    { ...CUT, ...change },
    own,
  );
const input = (...of: Parameters<typeof judged>) => judged(...of).value!;

describe('a published cut as it would be judged', () => {
  it('has its passes, sheet and focus as the source states them', () => {
    const { passes, thicknessMm } = input();
    expect(thicknessMm).toBe(4);
    expect(passes.map(({ speedMmPerS, focusMm }) => [speedMmPerS, focusMm])).toEqual([
      [12, -1],
      [12, -1],
    ]);
  });

  it('has its power by the setting of what the source is rated for', () => {
    const powerW = (change: Partial<PublishedCut>) => input(change).passes[0]!.powerW;
    expect(powerW({ power: { fraction: 1 } }) / powerW({})).toBeCloseTo(2, 6);
    expect(powerW({ ratedW: 120 }) / powerW({})).toBeCloseTo(2, 6);
    expect(powerW({})).toBeLessThanOrEqual(30);
  });

  it('counts watts that are stated at the work as measured', () => {
    const stated = input({ power: { watts: 25 } });
    expect(stated.passes[0]!.powerW).toBeCloseTo(25, 6);
    expect(stated.doubt.power).toBeLessThan(input().doubt.power);
  });

  it('is no faster than an ordinary part lets the head run', () => {
    const speed = (speedMmPerS: number) => input({ speedMmPerS }).passes[0]!.speedMmPerS;
    expect(speed(40)).toBe(40);
    expect(speed(300)).toBe(speed(500));
    expect(speed(300)).toBeLessThan(300);
    // √(a · 3 mm), at the acceleration that is taken where a profile states none.
    expect(speed(500) ** 2 / 3).toBeGreaterThan(500);
  });

  it('has a lens and a spot that are usual for its kind where the source does not say', () => {
    // 4 λ f M² / (π D) = 4 · 0.0106 · 50.8 · 1.2 / (6 π) = 0.137 mm, and some aberration.
    expect(input().beam.spotMm).toBeGreaterThan(0.137);
    expect(input().beam.spotMm).toBeLessThan(0.2);
    // The widest side of 0.08 × 0.15 mm governs.
    expect(input({}, { kind: 'diode' }).beam.spotMm).toBeCloseTo(0.15, 6);
    const fibre = material({ sources: { fibre: 'cuts' } });
    // 4 · 0.00107 · 160 · 1.3 / (7 π) = 0.04 mm.
    expect(input({}, { kind: 'fibre' }, fibre).beam.spotMm).toBeCloseTo(0.04, 2);
  });

  it('has the lens and the spot of the source where that does', () => {
    expect(input({}, { focalMm: 101.6 }).beam.spotMm).toBeCloseTo(0.274, 2);
    expect(input({}, { spotMm: { xMm: 0.25, yMm: 0.2 } }).beam.spotMm).toBeCloseTo(0.25, 6);
    expect(input({}, { spotMm: { xMm: 0.1, yMm: 0.3 } }).beam.spotMm).toBeCloseTo(0.3, 6);
  });
});

describe('a published cut that cannot be judged', () => {
  it('says that the source tells of no machine, or of none that can be', () => {
    const problem = 'a-shop: no machine can be made of what it says';
    expect(judged({}, null)).toEqual({ value: null, problem });
    expect(judged({ ratedW: -5 })).toEqual({ value: null, problem });
  });

  it('says that the material has no energy, or that there is no sheet', () => {
    expect(judged({}, {}, { ...material(), removal: null })).toEqual({
      value: null,
      problem: 'Birch plywood has no removal energy',
    });
    expect(judged({ thicknessMm: 0 }).problem).toBe('the thickness must be above 0 mm, not 0');
  });
});
