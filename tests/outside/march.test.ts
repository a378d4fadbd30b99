import { describe, expect, it } from 'vitest';
import { marchDepth } from '../../src/physics/march/march.ts';
import { beamOf, withoutConduction } from '../physics/sample-cuts.ts';

/** ½[x√(1+x²) + asinh x] = N p, solved by halving: what the march's balance integrates to for a free beam without losses. */
function closedForm(total: number): number {
  let low = 0;
  let high = 1000;
  for (let i = 0; i < 80; i++) {
    const x = (low + high) / 2;
    if (0.5 * (x * Math.sqrt(1 + x * x) + Math.asinh(x)) < total) low = x;
    else high = x;
  }
  return low;
}

const spotMm = 0.12;
const rayleighMm = 0.85;
const beam = beamOf(spotMm, rayleighMm);
const passes = (count: number, onePass: number) =>
  Array.from({ length: count }, () => ({
    powerW: onePass * 4 * 10 * spotMm * rayleighMm,
    speedMmPerS: 10,
    focusMm: 0,
  }));

describe('the march against its closed forms (derived: integrals of the balance without conduction)', () => {
  const free = withoutConduction(4, 1);

  it('reaches 0.893, 1.528, … Rayleigh ranges in 1, 2, 3, 4, 6, 8, 10 passes of parameter 1, to 0.1 %', () => {
    const depths = marchDepth(beam, free, passes(10, 1)).depthAfterPassMm;
    const published = { 1: 0.893, 2: 1.528, 3: 2.019, 4: 2.429, 6: 3.108, 8: 3.674, 10: 4.168 };
    for (const [count, x] of Object.entries(published)) {
      expect(Math.abs(depths[Number(count) - 1]! / rayleighMm / x - 1)).toBeLessThan(0.001);
    }
  });

  it('agrees with the free beam’s closed form to 0.1 % from shallow to very deep', () => {
    for (const onePass of [0.001, 0.1, 1, 10, 1000]) {
      for (const count of [1, 2, 5]) {
        const x = marchDepth(beam, free, passes(count, onePass)).depthMm / rayleighMm;
        expect(Math.abs(x / closedForm(count * onePass) - 1)).toBeLessThan(0.001);
      }
    }
  });

  it('agrees with the linear law N E_L / (H d₀) of walls that guide perfectly to 0.1 %', () => {
    const guided = withoutConduction(4, 0);
    for (const onePass of [0.001, 0.1, 1, 10, 1000]) {
      for (const count of [1, 2, 5]) {
        const { depthMm } = marchDepth(beam, guided, passes(count, onePass));
        const lineEnergy = passes(1, onePass)[0]!.powerW / 10;
        expect(Math.abs(depthMm / ((count * lineEnergy) / (4 * spotMm)) - 1)).toBeLessThan(0.001);
      }
    }
  });
});
