import { describe, expect, it } from 'vitest';
import { beamOf } from '../../../src/facts/cuts/optics.ts';
import { unchanged } from '../../../src/facts/cuts/remedy-text.ts';
import { sectionModel, sectionOf } from '../../../src/facts/drawing/section.ts';
import type { JobFacts } from '../../../src/facts/facts.ts';
import { cut, facts, machine, material, pass, prediction } from '../../rules/build-facts.ts';

const LENSES = machine().lenses;
const chance = (throughProbability: number) => prediction({ throughProbability });

describe('the section through the sheet', () => {
  it('shows the through cut that is least sure, and what to do about it', () => {
    const remedies = [unchanged('slower', 'Slow to 7.5 mm/s', 0.95)];
    const job = facts({
      cuts: [
        cut({ prediction: chance(0.9) }),
        cut({ task: 'bore', prediction: chance(0.4), remedies }),
        cut({ task: 'fold', aim: 'groove', prediction: chance(0.1) }),
      ],
    });
    expect(sectionModel(job)).toMatchObject({
      cut: 1,
      task: 'bore',
      material: 'Birch plywood',
      thicknessMm: 6,
      action: 'Slow to 7.5 mm/s',
    });
    expect(sectionModel(facts())).toMatchObject({ cut: 0, action: null });
  });

  it('has the fitted lens first, then the others of the machine', () => {
    const lensesOf = (change: Partial<JobFacts>) =>
      sectionModel(facts(change))!.lenses.map(({ id, fitted }) => [id, fitted]);
    expect(lensesOf({})).toEqual([
      ['2in', true],
      ['4in', false],
    ]);
    expect(lensesOf({ lens: LENSES[1]! })).toEqual([
      ['4in', true],
      ['2in', false],
    ]);
  });

  it('leaves out a lens that gives no beam', () => {
    const lenses = [LENSES[0]!, { ...LENSES[1]!, focalMm: 0 }];
    expect(sectionModel(facts({ machine: machine({ lenses }) }))!.lenses.map(({ id }) => id)).toEqual(['2in']);
  });

  it.each<[string, Partial<JobFacts>]>([
    ['lens', { lens: null }],
    ['material', { material: null }],
    ['thickness', { thicknessMm: null }],
    ['predicted cut', { cuts: [cut({ prediction: null as never })] }],
    ['cut', { cuts: [] }],
  ])('is none without a %s', (_, change) => {
    expect(sectionModel(facts(change))).toBeNull();
  });

  it('is none of a cut that there is not', () => {
    expect(sectionOf(facts(), 1, [])).toBeNull();
  });

  it('has no lens to show without a machine, or where no source cuts the material', () => {
    expect(sectionModel(facts({ machine: null }))!.lenses).toEqual([]);
    expect(sectionModel(facts({ material: { ...material(), removal: null } }))!.lenses).toEqual([]);
  });
});

describe('a lens of the section', () => {
  const [lens, other] = sectionModel(
    facts({ cuts: [cut({ passes: [pass({ focusMm: -1 }), pass({ focusMm: -2.5 })] })] }),
  )!.lenses;

  it('says what it is, and what it makes of a beam of 6 mm', () => {
    expect(lens).toMatchObject({ id: '2in', fitted: true, focalMm: 50.8, standoffMm: 6, focusMm: [-1, -2.5] });
    expect(other).toMatchObject({ id: '4in', fitted: false, focalMm: 101.6, standoffMm: 8, focusMm: [-1, -2.5] });
    // The beam leaves the lens about as wide as it entered it.
    expect(lens!.atLensMm).toBeCloseTo(6, 1);
    // 4 λ f M² / (π D) = 4 · 0.0106 · 101.6 · 1.2 / (6 π) mm; aberration of the long lens adds next to nothing.
    expect(other!.spotMm).toBeCloseTo(0.274, 2);
    expect(lens!.spotMm).toBe(Math.round(beamOf(machine(), LENSES[0]!).beam!.spotMm * 1000) / 1000);
    // The waist's depth of focus by √2 is twice its Rayleigh length, π w² / (λ M²): 2 · π · 0.137² / (0.0106 · 1.2) mm.
    expect(other!.depthOfFocusMm).toBeCloseTo(9.3, 0);
    expect(lens!.depthOfFocusMm).toBeLessThan(other!.depthOfFocusMm / 3);
  });

  it('has its beam from three tenths of the sheet above it to as much below, narrowest at the first pass’s focus', () => {
    const { beam } = lens!;
    expect(beam).toHaveLength(41);
    // A sheet of 6 mm: from 1.8 to −7.8 mm, in steps of 9.6 / 40 mm.
    expect([beam[0]!.zMm, beam[1]!.zMm, beam[40]!.zMm]).toEqual([1.8, 1.56, -7.8]);
    const narrowest = beam.reduce((least, point) => (point.diameterMm < least.diameterMm ? point : least));
    expect(Math.abs(narrowest.zMm + 1)).toBeLessThanOrEqual(0.12);
    expect(narrowest.diameterMm).toBeCloseTo(lens!.spotMm, 2);
    // Far from the waist it opens like the cone from the lens, 6 mm wide over 50.8 mm: about 6.8 · 6 / 50.8 mm.
    expect(beam[40]!.diameterMm).toBeCloseTo(0.82, 1);
    expect(beam[40]!.diameterMm).toBeGreaterThan(beam[0]!.diameterMm);
  });

  it('has what is predicted of the cut under it', () => {
    for (const one of [lens!, other!]) {
      expect(one.depthAfterPassMm).toHaveLength(2);
      expect(one.depthAfterPassMm[0]!).toBeLessThan(one.depthAfterPassMm[1]!);
      // The median of what is in doubt lies near what the recipe gives as it is stated.
      expect(Math.abs(one.depthMm / one.depthAfterPassMm[1]! - 1)).toBeLessThan(0.1);
      expect(one.depthLowMm).toBeLessThan(one.depthMm);
      expect(one.depthHighMm).toBeGreaterThan(one.depthMm);
      expect(one.probability).toBeGreaterThan(0);
      expect(one.probability).toBeLessThan(1);
      expect(one.limit).toBe(0.9);
    }
    // The short lens parts the sheet, by a kerf that narrows; the long one does not.
    expect(lens!.kerfTopMm!).toBeGreaterThan(lens!.kerfBottomMm!);
    expect(lens!.kerfBottomMm!).toBeGreaterThan(0);
    expect(other!.kerfBottomMm).toBeNull();
    expect(other!.depthMm).not.toBe(lens!.depthMm);
  });
});
