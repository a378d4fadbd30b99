import { it } from 'vitest';
import { focusBeam } from '../../src/physics/beam/focused-beam.ts';
import { calibrate } from '../../src/physics/calibration/calibration.ts';
import type { CouponRow } from '../../src/physics/calibration/coupon-row.ts';
import { shareAt } from '../../src/physics/doubt/samples.ts';
import { marchedDepthMm } from '../../src/physics/march/march.ts';
import type { CutInput } from '../../src/physics/doubt/predict.ts';
import { throughProbability } from '../../src/physics/doubt/predict.ts';
import { speedForProbability } from '../../src/physics/search/reach-curve.ts';
import { Dice } from '../physics/synthetic-shop.ts';

const base = { wavelengthUm: 10.6, diameterMm: 6, m2: 1.2, focalMm: 50.8, shape: 'meniscus' as const, lensMaterial: 'ZnSe', spotMm: null };
const beam = focusBeam(base);
const CLASSES = {
  acrylic: { stock: { removalJPerMm3: 3.83, divergenceShare: 0.15, conductivityWPerMK: 0.19, diffusivityMm2PerS: 0.11, temperatureRiseK: 350 }, own: 0.13, spread: 0.32, tongue: 0.03, sheet: 0.02 },
  plywood: { stock: { removalJPerMm3: 2.59, divergenceShare: 0.15, conductivityWPerMK: 0.14, diffusivityMm2PerS: 0.14, temperatureRiseK: 300 }, own: 0.16, spread: 0.33, tongue: 0.06, sheet: 0.07 },
};
const DIV = { low: 0.05, high: 0.4 };
const day = Number(process.env.DAY ?? 0.03), repeat = Number(process.env.REP ?? 0.12), POWER_RATED = 0.15, TONGUES = 8;
const RATED = 60; const FOC = Number(process.env.FOC ?? 0.5);
it('proto', () => {
  for (const [name, c] of Object.entries(CLASSES)) {
    for (const ramp of [false]) {
    const dice = new Dice(5);
    const out = { cover: [0, 0], half: [[], []] as number[][], err: [[], []] as number[][], n: 0, sure: 0, fail: 0, cover0: 0, half0: [] as number[], scat: [] as number[], lo: [0,0], hi: [0,0], ms: 0 };
    for (let shop = 0; shop < 100; shop++) {
      const H = c.stock.removalJPerMm3 * Math.exp(Math.hypot(c.own, 0.15, 0.13) * dice.normal());
      const spotF = Math.exp(0.15 * dice.normal());
      const powerF = Math.exp(POWER_RATED * dice.normal());
      const g = shareAt(0.15, DIV, dice.normal());
      const foc = FOC * dice.normal();
      const vary = Math.exp(0.3 * dice.normal());
      const trueBeam = { ...beam, spotMm: beam.spotMm * spotF };
      // one piece: its own factor
      const cutPiece = () => ({ e: Math.exp(vary * Math.hypot(c.sheet, day) * dice.normal()), f: foc + repeat * dice.normal() });
      const depth = (p: {e: number; f: number}, v: number, scatter: number, t: number) => marchedDepthMm(trueBeam, { ...c.stock, removalJPerMm3: H * p.e * scatter, divergenceShare: g }, [{ powerW: RATED * powerF, speedMmPerS: v, focusMm: p.f }]) >= t;
      const prior = { stock: c.stock, removalSpread: Math.hypot(c.spread, POWER_RATED), divergence: DIV, focusSpreadMm: FOC, repeat: { pieces: Math.hypot(c.sheet, day), focusMm: repeat, tongues: c.tongue } };
      const t1 = 3 + Math.floor(dice.uniform() * 4);
      const rows: CouponRow[] = [];
      const catalogueCut = (t: number, v: number): CutInput => ({ beam, stock: c.stock, doubt: { removal: c.spread, power: POWER_RATED, focusMm: 0.5, divergence: DIV, thicknessMm: 0.05 }, passes: [{ powerW: RATED, speedMmPerS: v, focusMm: 0 }], thicknessMm: t, bowMm: 0 });
      let learnt: ReturnType<typeof calibrate>['calibration'] = null;
      const cutFrom = (t: number, v: number): CutInput => learnt === null ? catalogueCut(t, v) : ({ beam, stock: { ...c.stock, removalJPerMm3: learnt.learned.removalJPerMm3, divergenceShare: learnt.learned.divergenceShare }, doubt: { learned: learnt.learned.points, removal: learnt.onTop, power: 0, divergence: DIV, focusMm: repeat, thicknessMm: 0.05 }, passes: [{ powerW: RATED, speedMmPerS: v, focusMm: learnt.learned.focusMm }], thicknessMm: t, bowMm: 0 });
      const ladder = (t: number, piece: string) => {
        for (let attempt = 0, shift = 1; attempt < 6; attempt++) {
          const hi = speedForProbability(cutFrom(t, 10), 0.036)!, lo = speedForProbability(cutFrom(t, 10), 0.964)!;
          const p = cutPiece();
          const seen: CouponRow[] = [];
          for (let i = 0; i < TONGUES; i++) {
            const v = shift * lo * (hi / lo) ** (i / (TONGUES - 1));
            const through = depth(p, v, Math.exp(vary * c.tongue * dice.normal()), t);
            seen.push({ beam, lens: '2in', piece: piece + attempt, passes: [{ powerW: RATED, speedMmPerS: v, focusMm: 0 }], thicknessMm: t, through, depthMm: null });
          }
          rows.push(...seen);
          const yes = seen.filter((r) => r.through).length;
          if (yes > 0 && yes < TONGUES) return;
          shift *= yes > 0 ? hi / lo : lo / hi;
        }
        throw new Error('no bracket');
      };
      const evaluate = (k: number) => {
        const t = process.env.SAME ? t1 : t1 * (0.5 + dice.uniform());
        const p = cutPiece(); const s = Math.exp(vary * c.tongue * dice.normal());
        let low = 0.01, high = 10000; for (let i = 0; i < 40; i++) { const m = Math.sqrt(low * high); if (depth(p, m, s, t)) low = m; else high = m; }
        const vTrue = low;
        const vlo = speedForProbability(cutFrom(t, 10), 0.95)!, vhi = speedForProbability(cutFrom(t, 10), 0.05)!, vm = speedForProbability(cutFrom(t, 10), 0.5)!;
        if (k < 0) { if (vTrue >= vlo && vTrue <= vhi) out.cover0++; out.half0.push((vhi - vlo) / 2 / vm); return; }
        if (vTrue >= vlo && vTrue <= vhi) out.cover[k]!++;
        if (vTrue < vlo) out.lo[k]!++; if (vTrue > vhi) out.hi[k]!++;
        out.half[k]!.push((vhi - vlo) / 2 / vm); out.err[k]!.push(Math.abs(Math.log(vTrue / vm)));
        // cuts with P >= .95
        for (const q of [0.95, 0.97, 0.99]) { const v = speedForProbability(cutFrom(t, 10), q)!; out.sure++; if (!depth(p, v, Math.exp(vary * c.tongue * dice.normal()), t)) out.fail++; }
      };
      evaluate(-1);
      for (const k of [0, 1]) {
        ladder(k === 0 ? t1 : t1 * (0.5 + dice.uniform()), 'p' + k);
        const t0 = performance.now();
        const r = calibrate(prior, rows);
        out.ms += performance.now() - t0;
        learnt = r.calibration!;
        evaluate(k);
        if (k === 1) out.scat.push(learnt.scatter);
      }
      out.n++;
    }
    const med = (a: number[]) => [...a].sort((x, y) => x - y)[a.length >> 1]!;
    console.log(name, { n: out.n, cover0: out.cover0 / out.n, half0: med(out.half0), cover: out.cover.map((x) => x / out.n), lo: out.lo, hi: out.hi, half: out.half.map(med), err: out.err.map(med), scat: med(out.scat), failShare: out.fail / out.sure, ms: out.ms / out.n / 2 });
  }}
});
