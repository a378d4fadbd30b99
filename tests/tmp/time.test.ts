import { it } from 'vitest';
import { calibrate } from '../../src/physics/calibration/calibration.ts';
import { weigh } from '../../src/physics/calibration/posterior.ts';
import { learnedStock } from '../../src/physics/calibration/learned.ts';
import { RowEnergies, focusNodes, shareNodes } from '../../src/physics/calibration/row-energies.ts';
import { focusBeam } from '../../src/physics/beam/focused-beam.ts';
const base = { wavelengthUm: 10.6, diameterMm: 6, m2: 1.2, focalMm: 50.8, shape: 'meniscus' as const, lensMaterial: 'ZnSe', spotMm: null };
const beam = focusBeam(base);
const stock = { removalJPerMm3: 3.83, divergenceShare: 0.15, conductivityWPerMK: 0.19, diffusivityMm2PerS: 0.11, temperatureRiseK: 350 };
it('time', () => {
  const rows = [0.21, 0.073].flatMap((sp, p) => Array.from({ length: 8 }, (_, i) => { const v = 9 * Math.exp((i - 3.5) * sp); return { beam, lens: 'a', piece: 'p' + p, passes: [{ powerW: 60, speedMmPerS: v, focusMm: 0 }], thicknessMm: 5, through: i < 4, depthMm: null }; }));
  const prior = { stock, removalSpread: 0.36, divergence: { low: 0.05, high: 0.4 }, focusSpreadMm: 0.5, repeat: { pieces: 0.05, focusMm: 0.12, tongues: 0.03 } };
  for (let k = 0; k < 4; k++) {
    const t0 = performance.now(); new RowEnergies(prior, rows, focusNodes(prior), shareNodes(prior));
    const t1 = performance.now(); const w = weigh(prior, rows);
    const t2 = performance.now(); learnedStock(w);
    const t3 = performance.now(); calibrate(prior, rows); const t4 = performance.now();
    console.log('energies', (t1 - t0).toFixed(1), 'weigh', (t2 - t1).toFixed(1), 'learned', (t3 - t2).toFixed(1), 'all', (t4 - t3).toFixed(1));
  }
});
