// The depth that a recipe reaches, as it is drawn: its band, its digits, and where the focus lies that nobody stated.
import { describe, expect, it } from 'vitest';
import { type CurveRecipe, reachDepth } from '../../../src/facts/bench/reach-depth.ts';
import { cutOf, setUp } from '../../../src/facts/bench/set-up.ts';
import { marchedDepthMm } from '../../../src/physics/march/march.ts';
import { machine, material } from '../../rules/build-job.ts';

const setup = setUp({
  machine: machine(),
  lens: machine().lenses[0]!,
  material: material({ removal: { jPerMm3: 2.6 } }),
  thickness: { mm: 1, plusMinusMm: null, nominal: true },
}).value!;
const recipe: CurveRecipe = { powerW: 45, spread: 0.05, speedMmPerS: 8, passes: 1, focusMm: 0 };
const depth = (more: Partial<CurveRecipe> = {}) => reachDepth(setup, { ...recipe, ...more });

describe('the depth that a recipe reaches', () => {
  it('is about what the march makes of it with nothing off, whatever the thickness of the set-up, between its band', () => {
    const { beam, stock, passes } = cutOf(setup, { ...recipe, focusMm: -1 });
    const found = depth({ focusMm: -1 });
    expect(found.speedMmPerS).toBe(8);
    expect(found.depthMm / marchedDepthMm(beam, stock, passes)).toBeCloseTo(1, 1);
    expect(reachDepth({ ...setup, thicknessMm: 12, thicknessSpreadMm: 1 }, { ...recipe, focusMm: -1 })).toEqual(found);
    const rising = [found.lowMm, found.sureMm, found.depthMm, found.highMm];
    expect([...rising].sort((a, b) => a - b)).toEqual(rising);
  });

  it('is told to a hundredth of a millimetre', () => {
    const { lowMm, sureMm, depthMm, highMm } = depth({ speedMmPerS: 7.3 });
    for (const mm of [lowMm, sureMm, depthMm, highMm]) expect(mm).toBe(Number(mm.toFixed(2)));
  });

  it('counts every pass, and the focus that is stated', () => {
    expect(depth({ passes: 2 }).depthMm).toBeGreaterThan(depth().depthMm * 1.2);
    expect(depth({ focusMm: 6 }).depthMm).toBeLessThan(depth().depthMm * 0.8);
    expect(depth({ powerW: 20 }).depthMm).toBeLessThan(depth().depthMm * 0.7);
  });

  it('is the less sure the more the power wanders', () => {
    const width = ({ lowMm, highMm }: ReturnType<typeof depth>) => highMm / lowMm;
    expect(width(depth({ spread: 0.3 }))).toBeGreaterThan(width(depth()) * 1.1);
  });

  it('is nothing, and no error, where the beam is too weak to take anything away', () => {
    expect(depth({ powerW: 0.001, speedMmPerS: 300 })).toMatchObject({ depthMm: 0, lowMm: 0, sureMm: 0 });
    expect(depth({ powerW: 0.001, speedMmPerS: 300, focusMm: null })).toMatchObject({ depthMm: 0, sureMm: 0 });
  });
});

describe('a focus that nobody states', () => {
  it.each([
    ['a thin sheet’s speed', 60],
    ['a thick one’s', 4],
    ['that of the thickest', 0.6],
  ])(
    'lies where the depth that can be relied on is greatest, in steps of half a millimetre, at %s',
    (_, speedMmPerS) => {
      const best = depth({ speedMmPerS, focusMm: null });
      const face = depth({ speedMmPerS, focusMm: 0 });
      const down = Array.from({ length: 2 * Math.floor(face.depthMm) + 1 }, (_, i) =>
        depth({ speedMmPerS, focusMm: -i / 2 }),
      );
      // None of the typed positions is better; where they are many, every other one is tried.
      const greatest = Math.max(...down.map(({ sureMm }) => sureMm));
      expect(best.sureMm).toBeGreaterThan(greatest * 0.99);
      expect(down).toContainEqual(best);
      expect(best.sureMm).toBeGreaterThanOrEqual(face.sureMm);
    },
  );

  it('lies below the face where the cut is deep, and on it where no typed step is within the cut', () => {
    expect(depth({ focusMm: null }).sureMm).toBeGreaterThan(depth().sureMm);
    const quick = { speedMmPerS: 400 };
    expect(depth(quick).depthMm).toBeLessThan(0.5);
    expect(depth({ ...quick, focusMm: null })).toEqual(depth(quick));
  });
});
