import { describe, expect, it } from 'vitest';
import { type ReachRequest, reach, reachOverview } from '../../src/bench/reach/reach-overview.ts';
import { overviewTable, reachTable } from '../../src/bench/reach/reach-table.ts';
import { libraryOf, run, shed } from '../memory-shop.ts';
import { material, SHED, shedWith } from './on-bench.ts';

const CITED_CUTS = libraryOf({}).citedCuts();

const request = (id: string, more: Partial<ReachRequest> = {}): ReachRequest => ({
  machine: SHED,
  material: material(id),
  lenses: [],
  passes: 1,
  setting: null,
  focusMm: 0,
  at: null,
  citedCuts: CITED_CUTS,
  ...more,
});

function model(id: string, more: Partial<ReachRequest> = {}) {
  const { value, problem } = reach(request(id, more));
  if (value === null) throw new Error(problem);
  return value;
}

describe('reach', () => {
  it('has a band around the median at every speed, and less depth at more speed', () => {
    for (const lens of model('birch-plywood').lenses) {
      lens.points.forEach((point, i) => {
        expect(point.lowMm).toBeLessThan(point.sureMm);
        expect(point.sureMm).toBeLessThan(point.depthMm);
        expect(point.depthMm).toBeLessThan(point.highMm);
        if (i > 0) expect(point.depthMm).toBeLessThan(lens.points[i - 1]!.depthMm);
      });
    }
  });

  const FREE = { passes: null, focusMm: null };

  it('takes for each sheet the fastest of the lenses that are sure to part it, at or above the clean-speed floor', () => {
    const { choices, floorMmPerS, limit, errorLimit } = model('cast-acrylic', FREE);
    for (const { standing, recipe, byLens } of choices) {
      const times = byLens.map((one) => (one === null ? Number.POSITIVE_INFINITY : one.passes / one.speedMmPerS));
      expect(recipe.speedMmPerS).toBeGreaterThanOrEqual(floorMmPerS!);
      expect(standing === 'sure').toBe(times.some(Number.isFinite));
      if (standing === 'sure') {
        expect(recipe.passes / recipe.speedMmPerS).toBe(Math.min(...times));
        expect(recipe.throughProbability).toBeGreaterThanOrEqual(limit);
      } else {
        expect(recipe.throughProbability).toBeLessThan(limit);
        expect(recipe.throughProbability >= errorLimit).toBe(standing === 'prove');
      }
    }
    expect(new Set(choices.map(({ standing }) => standing))).toEqual(new Set(['sure', 'prove', 'out-of-reach']));
  });

  it('draws what its table says: a sheet that is cut in one pass lies on or under the bold line of its lens', () => {
    for (const id of ['birch-plywood', 'cast-acrylic']) {
      const { lenses, choices } = model(id, FREE);
      const once = choices.filter(({ standing, recipe }) => standing === 'sure' && recipe.passes === 1);
      expect(once.length).toBeGreaterThan(3);
      for (const { thicknessMm, recipe } of once) {
        const { points } = lenses.find((lens) => lens.id === recipe.lens)!;
        const next = points.findIndex(({ speedMmPerS }) => speedMmPerS >= recipe.speedMmPerS);
        if (next < 1) continue;
        // Between two points of the curve, whose steps are a fifth: the line lies above that of the faster one.
        expect(points[next - 1]!.sureMm).toBeGreaterThanOrEqual(thicknessMm * 0.97);
      }
    }
  });

  it('agrees with the check: its recipe passes and one a quarter faster is warned of or fails', () => {
    const { choices } = model('birch-plywood', { ...FREE, setting: 0.62 });
    const { recipe } = choices.find((one) => one.thicknessMm === 3)!;
    const job = (speed: number) => ({
      ...shed(),
      'a.svg':
        '<svg xmlns="http://www.w3.org/2000/svg" width="300mm" height="200mm" viewBox="0 0 300 200"><path d="M10 10H290V190H10Z" fill="none" stroke="#9c36b5"/></svg>',
      'a.job.yaml': `kerflint: 1\nmachine: shed-60w\nlens: "${recipe.lens}"\nmaterial: birch-plywood\nthickness: nominal 3 mm\nartwork: a.svg\ntasks:\n  - { name: outline, aim: through, power: 62 %, speed: ${speed} mm/s, passes: ${recipe.passes}, focus: ${recipe.focusMm} mm }\n`,
    });
    const rules = (speed: number) => run(job(speed)).jobs[0]!.findings.map((finding) => finding.rule);
    expect(rules(recipe.speedMmPerS)).not.toContain('cut/marginal');
    expect(rules(recipe.speedMmPerS * 1.25)).toContain('cut/marginal');
  });

  it('knows what the trade counts a 4 in lens for: acrylic of 12.7 mm at 100 W is in its reach, and at the very end of that of a 1.5 in lens (common practice, no source)', () => {
    const machine = shedWith(
      ['rated: 60 W', 'rated: 120 W'],
      ['measured: 54 W', 'measured: 100 W'],
      ['diameter: 6 mm', 'diameter: 7 mm'],
    );
    const { lenses } = model('cast-acrylic', { machine, setting: 1 });
    const depth = (id: string) => lenses.find((lens) => lens.id === id)!.greatest.depthMm;
    expect(depth('4in')).toBeGreaterThan(12.7);
    expect(depth('1.5in')).toBeLessThan(12.7 * 1.02);
    expect(depth('4in') / depth('1.5in')).toBeGreaterThan(1.2);
  });

  it('has what others published of the material beside it, scaled to the power of the chart', () => {
    const one = model('birch-plywood');
    expect(one.published.length).toBeGreaterThan(5);
    for (const { cut, speedMmPerS } of one.published) {
      expect([cut.material, cut.kind, cut.passes, cut.worn]).toEqual(['birch-plywood', 'co2', 1, false]);
      expect(speedMmPerS / one.powerW).toBeCloseTo(cut.speedMmPerS / cut.powerW, 1);
    }
    const known = CITED_CUTS.filter(({ material: id, kind }) => id === 'birch-plywood' && kind === 'co2').length;
    expect(one.published.length + one.publishedElse).toBe(known);
    const text = reachTable(one);
    expect(text).toMatch(/^3 mm +50 % of 60 W +15 mm\/s +\d+(\.\d)? mm\/s +parted +\d+ % +swindon-makerspace r022$/m);
    expect(text).toMatch(/^\d+ more are of other passes, or less well stated\. Citations: kerflint evidence\.$/m);
  });

  it('says nothing of published cuts where there are none', () => {
    expect(model('walnut')).toMatchObject({ published: [], publishedElse: 0 });
    expect(reachTable(model('walnut'))).not.toMatch(/others published/);
    expect(reachTable(model('birch-plywood', { passes: 9 }))).toMatch(/others published, 9 passes.*:\n\nnone\n/);
  });

  it('reaches deeper with more passes and with a higher setting', () => {
    const depth = (more: Partial<ReachRequest>) => model('mdf', more).lenses[0]!.greatest.depthMm;
    expect(depth({ passes: 3 })).toBeGreaterThan(depth({}));
    expect(depth({ setting: 0.5 })).toBeLessThan(depth({}));
  });

  it('is surer beside the coupons of a calibrated material than far from them', () => {
    const coupon = {
      machine: SHED.id,
      lens: '2in',
      thicknessMm: 4,
      powerW: 40,
      speedMmPerS: 8,
      passes: 1,
      focusMm: 0,
      focusStepMm: 0,
      through: true,
      depthMm: null,
      date: null,
    };
    const plywood = material('birch-plywood');
    const calibrated = { ...plywood, removal: { ...plywood.removal!, spread: 0.06, coupons: 1 }, coupons: [coupon] };
    const { points } = model('birch-plywood', { material: calibrated, lenses: [SHED.lenses[0]!] }).lenses[0]!;
    const width = (mm: number) => {
      const near = points.reduce((best, point) =>
        Math.abs(point.depthMm - mm) < Math.abs(best.depthMm - mm) ? point : best,
      );
      return Math.log(near.highMm / near.lowMm);
    };
    expect(width(0.5)).toBeGreaterThan(width(4) * 1.3);
  });

  it('draws one lens when asked for one', () => {
    expect(model('mdf', { lenses: [SHED.lenses[2]!] }).lenses.map((lens) => lens.id)).toEqual(['4in']);
  });

  it.each<[string, Partial<ReachRequest>, string, RegExp]>([
    ['a material that is never cut', {}, 'pvc', /never cut/],
    ['a material that the source only marks', {}, 'slate', /does not cut/],
    ['a setting without power', { setting: 0 }, 'mdf', /gives no power at 0 %/],
  ])('is refused for %s', (_, more, id, reason) => {
    const { value, problem } = reach(request(id, more));
    expect(value).toBeNull();
    expect(problem).toMatch(reason);
  });

  it('lists every material that the source cuts, and says how many are left out', () => {
    const materials = ['birch-plywood', 'pvc', 'aluminium', 'card'].map(material);
    const { value } = reachOverview(SHED, materials, { lenses: [], passes: 1, setting: null, focusMm: 0, at: null });
    expect(value!.rows.map((row) => row.material)).toEqual(['birch-plywood', 'card']);
    expect(value!.leftOut).toBe(2);
    expect(overviewTable(value!)).toMatch('2 materials are left out');
  });

  it('carries the caution of a material that is to be reconsidered, and none where that is usual', () => {
    expect(reachTable(model('abs'))).toMatch(/^Reconsider this material: /m);
    expect(reachTable(model('birch-plywood'))).not.toMatch('Reconsider');
  });

  it('says the hazard class of a material, and of each in a list', () => {
    for (const [id, hazard] of [
      ['birch-plywood', 'usual'],
      ['mdf', 'extract'],
      ['abs', 'reconsider'],
    ] as const) {
      const { reason } = material(id).hazard;
      const table = reachTable(model(id));
      expect(table).toMatch(new RegExp(`^Hazard class: ${hazard}$`, 'm'));
      expect([id, table.split(reason).length - 1]).toEqual([id, 1]);
    }
    const { value } = reachOverview(SHED, ['abs', 'mdf', 'card'].map(material), {
      lenses: [],
      passes: 1,
      setting: null,
      focusMm: 0,
      at: null,
    });
    const lines = overviewTable(value!).split('\n');
    expect(lines.filter((line) => /^(material|ABS|MDF|card) /.test(line)).map((line) => line.split(/\s+/)[1])).toEqual([
      'hazard',
      'reconsider',
      'extract',
      'usual',
    ]);
  });

  it('has the sheets of its table on the bold line of their lens: a recipe of one pass parts what the line says at its speed', () => {
    for (const id of ['abs', 'birch-plywood', 'cast-acrylic']) {
      const { choices, lenses } = model(id, FREE);
      const once = choices.filter(({ standing, recipe }) => standing === 'sure' && recipe.passes === 1);
      expect(once.length).toBeGreaterThan(3);
      for (const { thicknessMm, recipe } of once) {
        const { points } = lenses.find((lens) => lens.id === recipe.lens)!;
        const above = points.findIndex(({ speedMmPerS }) => speedMmPerS >= recipe.speedMmPerS);
        const [slower, faster] = [points[above - 1], points[above]];
        // Below the slowest speed drawn there is no line; and where the head is the limit, the power is lowered instead.
        if (!slower || !faster || recipe.setting < model(id, FREE).setting) continue;
        const share =
          Math.log(recipe.speedMmPerS / slower.speedMmPerS) / Math.log(faster.speedMmPerS / slower.speedMmPerS);
        const sureMm = slower.sureMm * (faster.sureMm / slower.sureMm) ** share;
        // Within a tenth: the line is one of endless stock between drawn points, and the doubt of a thickness is in the recipe alone.
        expect(sureMm / thicknessMm).toBeGreaterThan(0.9);
        expect(sureMm / thicknessMm).toBeLessThan(1.25);
      }
    }
  });

  it('tells it as a table: what each sheet takes, and that nothing was measured', () => {
    const chart = model('birch-plywood', { ...FREE, sheetMm: 90 });
    const table = reachTable(chart);
    const written = (text: string) => text.replaceAll('.', '\\.');
    for (const { thicknessMm, standing, recipe } of chart.choices) {
      const row = new RegExp(`^${written(String(thicknessMm))} mm +(\\S+) +(.*)$`, 'm').exec(table)!;
      expect(row[1]).toBe(standing === 'out-of-reach' ? 'none' : recipe.lens);
      if (standing === 'out-of-reach') expect(row[2]).toMatch(/^at best /);
      else expect(row[2]).toMatch(new RegExp(`^${recipe.passes} +${written(String(recipe.focusMm))} mm.* mm/s `));
      expect(row[2]!.endsWith('prove it')).toBe(standing === 'prove');
    }
    expect(table).toMatch('Predicted, not measured');
  });
});
