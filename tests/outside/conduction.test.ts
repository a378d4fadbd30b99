import { describe, expect, it } from 'vitest';
import { conductionWPerMm, type Stock } from '../../src/physics/march/stock.ts';

const PMMA: Stock = {
  removalJPerMm3: 4.17,
  divergenceShare: 0.15,
  conductivityWPerMK: 0.19,
  diffusivityMm2PerS: 0.11,
  temperatureRiseK: 350,
};
const WIDTH_MM = 0.2;

/** Modified Bessel function of the first kind, by its power series. */
function besselI(n: number, x: number): number {
  let term = 1;
  for (let i = 1; i <= n; i++) term *= x / 2 / i;
  let sum = term;
  for (let m = 1; m < 60; m++) {
    term *= (x * x) / 4 / (m * (m + n));
    sum += term;
  }
  return sum;
}

/** Modified Bessel function of the second kind, by ∫ exp(−x cosh t) cosh(nt) dt. */
function besselK(n: number, x: number): number {
  let sum = 0;
  const step = 1e-3;
  for (let t = step / 2; t < 12; t += step) sum += Math.exp(-x * Math.cosh(t)) * Math.cosh(n * t) * step;
  return sum;
}

/**
 * Heat that an isothermal cylinder moving through a solid leaves in the walls, over k ΔT: the textbook separation of
 * ∇²T + (v/α) ∂T/∂x = 0 in I_n, K_n, summed, less the heat 4p of the strip that the cylinder sweeps, which is removed and
 * counted in the removal energy; p = v a / 2α.
 */
function movingCylinder(p: number): number {
  let sum = 0;
  for (let n = 0; n < 12; n++) {
    const slope = n === 0 ? -besselK(1, p) : -(besselK(n - 1, p) + besselK(n + 1, p)) / 2;
    sum += (n === 0 ? 1 : 2) * (n % 2 === 0 ? 1 : -1) * ((besselI(n, p) ** 2 * slope) / besselK(n, p));
  }
  return -2 * Math.PI * p * sum - 4 * p;
}

describe('conduction into the walls of a kerf in PMMA, 0.2 mm wide', () => {
  // Form after [SCHULZ-1993] (memory); percentages derived by hand from it.
  it.each([
    [0.5, 37.4],
    [1, 24.0],
    [2, 15.4],
    [5, 8.6],
  ])('at %s mm/s it is %s %% of the removal power', (speed, percent) => {
    const removal = PMMA.removalJPerMm3 * speed * WIDTH_MM;
    expect((100 * conductionWPerMm(PMMA, speed, WIDTH_MM)) / removal).toBeCloseTo(percent, 1);
  });

  it.each([
    [0.5, 2.65, 2.35],
    [1, 3.23, 3.01],
    [2, 3.99, 3.87],
    [5, 5.33, 5.38],
  ])('at %s mm/s the exact moving cylinder gives %s k ΔT, this form %s', (speed, exact, form) => {
    const p = (speed * WIDTH_MM) / (4 * PMMA.diffusivityMm2PerS);
    const here = conductionWPerMm(PMMA, speed, WIDTH_MM) / ((0.19 / 1000) * 350);
    expect(Math.abs(movingCylinder(p) / exact - 1)).toBeLessThan(0.002);
    expect(here).toBeCloseTo(form, 2);
    expect(Math.abs(here / movingCylinder(p) - 1), 'within 12 % of the exact solution').toBeLessThan(0.12);
  });

  it('depends on the Péclet number alone ([CHIN-2001])', () => {
    expect(conductionWPerMm(PMMA, 4, 0.1)).toBeCloseTo(conductionWPerMm(PMMA, 2, 0.2), 12);
  });
});
