import { describe, expect, it } from 'vitest';
import { material } from '../bench/on-bench.ts';
import { Dice } from '../physics/synthetic-shop.ts';
import { SimulatedShop } from './simulated-shop.ts';

const SHOPS = Number(process.env['SHOPS'] ?? 200);
const UNRULY = Number(process.env['UNRULY'] ?? 1);

function simulate(id: string, seed: number) {
  const dice = new Dice(seed);
  const out = {
    covered: [0, 0, 0],
    below: [0, 0, 0],
    half: [[], [], []] as number[][],
    off: [[], [], []] as number[][],
    sure: [0, 0, 0],
    failed: [0, 0, 0],
  };
  for (let i = 0; i < SHOPS; i++) {
    const shop = new SimulatedShop(material(id), dice, { unruly: UNRULY });
    const firstMm = 3 + 3 * dice.uniform();
    for (const coupons of [0, 1, 2]) {
      if (coupons > 0) shop.cutCoupon(coupons === 1 ? firstMm : firstMm * (0.5 + dice.uniform()));
      const mm = firstMm * (0.5 + dice.uniform());
      const { low, median, high } = shop.predicted(mm);
      const truth = shop.throughSpeed(mm);
      if (truth >= low && truth <= high) out.covered[coupons]!++;
      if (truth < low) out.below[coupons]!++;
      out.half[coupons]!.push((high - low) / 2 / median);
      out.off[coupons]!.push(Math.abs(Math.log(truth / median)));
      for (const chance of [0.95, 0.97, 0.99]) {
        const speed = shop.speedFor(mm, chance);
        const t = shop.throughSpeed(mm);
        out.sure[coupons]!++;
        if (t < speed) out.failed[coupons]!++;
      }
    }
  }
  return out;
}
const median = (values: number[]) => [...values].sort((a, b) => a - b)[values.length >> 1]!;

describe('simulated shops', () => {
  it.each(['cast-acrylic', 'birch-plywood', 'mdf'])('%s', (id) => {
    const t0 = performance.now();
    const out = simulate(id, 14);
    console.log(
      id,
      JSON.stringify({
        n: SHOPS,
        unruly: UNRULY,
        covered: out.covered.map((c) => c / SHOPS),
        below: out.below,
        half: out.half.map(median),
        off: out.off.map(median),
        fail: out.failed.map((f, i) => f / out.sure[i]!),
        ms: (performance.now() - t0) / SHOPS,
      }),
    );
    expect(1).toBe(1);
  });
});
