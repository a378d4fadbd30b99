import { describe, expect, it } from 'vitest';
import { taperDeg, thresholdKerfMm } from '../../src/physics/march/kerf.ts';

describe('the reported kerf', () => {
  it('is the width over which a line scan of a Gaussian exceeds the threshold', () => {
    // By integrating the 2-D Gaussian fluence along the scan numerically instead of in closed form.
    const diameter = 0.2;
    const lineEnergy = 4;
    const threshold = 0.5;
    const radius = diameter / 2;
    const fluence = (y: number) => {
      let sum = 0;
      const step = radius / 200;
      for (let x = -4 * radius; x <= 4 * radius; x += step) {
        sum += (2 / (Math.PI * radius ** 2)) * Math.exp((-2 * (x * x + y * y)) / radius ** 2) * step;
      }
      return sum * lineEnergy;
    };
    let half = 0;
    while (fluence(half) > threshold) half += 1e-5;
    expect(thresholdKerfMm(diameter, lineEnergy, threshold)).toBeCloseTo(2 * half, 3);
  });

  it('is 0 where the fluence stays below the threshold, and where there is no beam', () => {
    expect(thresholdKerfMm(0.2, 0.01, 1)).toBe(0);
    expect(thresholdKerfMm(0, 1, 1)).toBe(0);
    expect(thresholdKerfMm(0.2, Number.NaN, 1)).toBe(0);
  });

  it('leans by half the difference over the height', () => {
    expect(taperDeg(0.3, 0.1, 0.1)).toBeCloseTo(45, 9);
    expect(taperDeg(0.1, 0.3, 0.1)).toBeCloseTo(-45, 9);
    expect(taperDeg(0.3, 0.1, 0)).toBe(0);
  });
});
