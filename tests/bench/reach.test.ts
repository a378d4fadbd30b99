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

  it('takes for each sheet the fastest of the lenses that part it at or above the clean-speed floor', () => {
    const { lenses, choices, floorMmPerS } = model('cast-acrylic');
    choices.forEach((choice, i) => {
      const speeds = lenses.map((lens) => lens.sureSpeedMmPerS[i] ?? 0);
      expect(choice.speedMmPerS ?? 0).toBe(Math.max(...speeds));
      if (choice.speedMmPerS !== null) expect(choice.speedMmPerS).toBeGreaterThanOrEqual(floorMmPerS!);
    });
    expect(choices.some((choice) => choice.lens !== null)).toBe(true);
    expect(choices.some((choice) => choice.lens === null)).toBe(true);
  });

  it('agrees with the check: its speed passes and one a quarter faster is warned of or fails', () => {
    const { choices } = model('birch-plywood', { setting: 0.62 });
    const choice = choices.find((one) => one.thicknessMm === 3)!;
    const job = (speed: number) => ({
      ...shed(),
      'a.svg':
        '<svg xmlns="http://www.w3.org/2000/svg" width="300mm" height="200mm" viewBox="0 0 300 200"><path d="M10 10H290V190H10Z" fill="none" stroke="#9c36b5"/></svg>',
      'a.job.yaml': `kerflint: 1\nmachine: shed-60w\nlens: "${choice.lens}"\nmaterial: birch-plywood\nthickness: nominal 3 mm\nartwork: a.svg\ntasks:\n  - { name: outline, aim: through, power: 62 %, speed: ${speed} mm/s }\n`,
    });
    const rules = (speed: number) => run(job(speed)).jobs[0]!.findings.map((finding) => finding.rule);
    expect(rules(choice.speedMmPerS!)).not.toContain('cut/marginal');
    expect(rules(choice.speedMmPerS! * 1.25)).toContain('cut/marginal');
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
    const { value } = reachOverview(SHED, materials, { lenses: [], passes: 1, setting: null, focusMm: 0 });
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
    });
    const lines = overviewTable(value!).split('\n');
    expect(lines.filter((line) => /^(material|ABS|MDF|card) /.test(line)).map((line) => line.split(/\s+/)[1])).toEqual([
      'hazard',
      'reconsider',
      'extract',
      'usual',
    ]);
  });

  it('tells it as a table: which lens for which sheet, and that nothing was measured', () => {
    const chart = model('birch-plywood');
    const table = reachTable(chart);
    for (const choice of chart.choices.filter((one) => one.lens !== null)) {
      expect(table).toMatch(
        new RegExp(`^${String(choice.thicknessMm).replace('.', '\\.')} mm +${choice.lens!.replace('.', '\\.')} `, 'm'),
      );
    }
    expect(table).toMatch('Predicted, not measured');
  });
});
