import { it } from 'vitest';
import { calibrate } from '../../src/physics/calibration/calibration.ts';
import { focusBeam } from '../../src/physics/beam/focused-beam.ts';
import { speedForProbability } from '../../src/physics/search/reach-curve.ts';
import { marginal } from '../../src/physics/calibration/posterior.ts';
const base = { wavelengthUm: 10.6, diameterMm: 6, m2: 1.2, focalMm: 50.8, shape: 'meniscus' as const, lensMaterial: 'ZnSe', spotMm: null };
const beam = focusBeam(base);
const stock = { removalJPerMm3: 3.83, divergenceShare: 0.15, conductivityWPerMK: 0.19, diffusivityMm2PerS: 0.11, temperatureRiseK: 350 };
const DIV = { low: 0.05, high: 0.4 };
it('one', () => {
  const v0 = 9;
  const rows = [0.21, 0.073].flatMap((sp, p) => Array.from({ length: 8 }, (_, i) => { const v = v0 * Math.exp((i - 3.5) * sp); return { beam, lens: 'a', piece: 'p' + p, passes: [{ powerW: 60, speedMmPerS: v, focusMm: 0 }], thicknessMm: 5, through: i < 4, depthMm: null }; }));
  for (const pieces of [0.036]) for (const tongues of [0.03]) for (const foc of [0.5, 0.1, 0]) for (const n of [8, 16]) {
    const prior = { stock, removalSpread: 0.36, divergence: foc === 0 ? { low: 0.15, high: 0.15 } : DIV, focusSpreadMm: foc, repeat: { pieces, focusMm: 0.12, tongues } };
    const c = calibrate(prior, rows.slice(0, n)).calibration!;
    const { learned } = c;
    const cut = { beam, stock: { ...stock, removalJPerMm3: learned.removalJPerMm3, divergenceShare: learned.divergenceShare }, doubt: { learned: learned.points, removal: c.onTop, power: 0, divergence: DIV, focusMm: foc === 0 ? 0 : 0.12, thicknessMm: 0.05 }, passes: [{ powerW: 60, speedMmPerS: 9, focusMm: learned.focusMm }], thicknessMm: 5, bowMm: 0 }; const at = (c: typeof cut, t: number) => { const [a, b, d] = [0.95, 0.5, 0.05].map((p) => speedForProbability({ ...c, thicknessMm: t }, p)!); return ((d! - a!) / 2 / b!).toFixed(3); };
    const [lo, m, hi] = [0.95, 0.5, 0.05].map((p) => speedForProbability(cut, p)!);
    const pts = learned.points.map((p) => Math.log(p.removalFactor)); const mean = pts.reduce((a, b) => a + b) / 251; const sd = Math.sqrt(pts.reduce((a, b) => a + (b - mean) ** 2, 0) / 251);
    const nos = { ...cut, doubt: { ...cut.doubt, learned: learned.points.map((p) => ({ ...p, scatter: 0 })), removal: 0, focusMm: 0, thicknessMm: 0 } };
    const [lo2, , hi2] = [0.95, 0.5, 0.05].map((p) => speedForProbability(nos, p)!);
    console.log({ pieces, tongues, foc, n }, 'half', ((hi! - lo!) / 2 / m!).toFixed(3), 'posterior only', ((hi2! - lo2!) / 2 / m!).toFixed(3), 'at 2.5, 3.5, 7.5:', at(cut, 2.5), at(cut, 3.5), at(cut, 7.5), 'no scatter', at({ ...cut, doubt: { ...cut.doubt, learned: learned.points.map((p) => ({ ...p, scatter: 0 })) } }, 5), 'no repeat', at({ ...cut, doubt: { ...cut.doubt, focusMm: 0 } }, 5), 'no thickness', at({ ...cut, doubt: { ...cut.doubt, thicknessMm: 0 } }, 5), 'median v', m!.toFixed(2), 'scatter', c.scatter.toFixed(3), [...marginal(c.posterior, 'scatter')].map((x) => x.toFixed(2)).join(' '), 'sdH', sd.toFixed(3));
  }
});
