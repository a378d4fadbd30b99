import { describe, expect, it } from 'vitest';
import { budgetInForce } from '../../../src/facts/waste/waste.ts';
import { demoFiles, type Files, factsOf, run, shed } from '../../memory-shop.ts';

const machine = (rates: string) =>
  (shed()['machines/shed-60w.machine.yaml'] as string).replace(
    /rates:[\s\S]*$/,
    rates === '' ? '' : `rates: ${rates}\n`,
  );

const files = (options: { rates?: string; sheet?: string; gcode?: string; budget?: string } = {}): Files => ({
  'shed-60w.machine.yaml': machine(
    options.rates ??
      '{ machine: 36 EUR/h, operator: 18 EUR/h, input: 1 kW, energy: 0.30 EUR/kWh, tube: { price: 400 EUR, life: 1000 h } }',
  ),
  'part.job.yaml': `kerflint: 1
machine: shed-60w
lens: 2in
material: birch-plywood
thickness: 3 mm ± 0.1 mm
zero: machine
toolpath: part.gcode
${options.sheet ?? 'sheet: { width: 200 mm, height: 100 mm, price: 8 EUR }'}
${options.budget ?? ''}
`,
  'part.gcode': options.gcode ?? 'G21 G90\nM8\nM4 S800 F540\nG0 X0 Y0\nG1 X100\nG1 Y50\nG1 X0\nG1 Y0\nM5\nM9\nM2\n',
});

describe('waste', () => {
  // Worked by hand from 20 hours of waiting with the beam off, beside which the cutting takes half a minute:
  // 36 EUR/h and 18 EUR/h are 720 and 360 EUR; 1.5 kW for 20 h are 30 kWh at 0.30 EUR: 9 EUR.
  const WAITING = 'G21 G90\nM8\nM4 S800 F540\nG0 X0 Y0\nG1 X100\nG1 Y50\nG1 X0\nG1 Y0\nM5\nG4 P72000\nM9\nM2\n';

  it('is rates times the time of the whole run, energy too', () => {
    const rates = '{ machine: 36 EUR/h, operator: 18 EUR/h, input: 1.5 kW, energy: 0.30 EUR/kWh }';
    const { waste, time } = factsOf(files({ rates, gcode: WAITING }));
    expect(time!.dwellS).toBeGreaterThanOrEqual(72_000);
    expect(time!.totalS).toBeLessThan(72_060);
    expect(waste!.machine / 720).toBeCloseTo(1, 3);
    expect(waste!.operator / 360).toBeCloseTo(1, 3);
    expect(waste!.energy / 9).toBeCloseTo(1, 3);
    expect(waste!.missing).toEqual(['no tube price']);
  });

  it('wears the tube only while the beam is on', () => {
    // A tube of 3600 EUR that lasts an hour costs 1 EUR for each second of beam: 300 mm at 9 mm/s, and some more at the corners.
    const rates = '{ tube: { price: 3600 EUR, life: 1 h } }';
    const { waste, time } = factsOf(files({ rates, gcode: WAITING }));
    expect(waste!.tube).toBeCloseTo(time!.cuttingS, 2);
    expect(waste!.tube).toBeGreaterThan(300 / 9);
    expect(waste!.tube).toBeLessThan(300 / 9 + 1);
  });

  it('wears the tube in rasters too', () => {
    const rows = Array.from(
      { length: 20 },
      (_, i) => `G0 X${i % 2 ? 40 : 20} Y${10 + i / 10}\nG1 X${i % 2 ? 20 : 40} S300`,
    );
    const gcode = `${WAITING.replace('M5\n', 'F6000\n' + rows.join('\n') + '\nM5\n')}`;
    const { waste, time } = factsOf(files({ rates: '{ tube: { price: 3600 EUR, life: 1 h } }', gcode }));
    // Twenty rows of 20 mm at no more than 100 mm/s.
    expect(time!.rasterS).toBeGreaterThan(4);
    expect(waste!.tube).toBeCloseTo(time!.cuttingS + time!.rasterS, 2);
  });

  it.each([
    ['by the bounding box: 100 mm × 50 mm of 200 mm × 100 mm', '{ width: 200 mm, height: 100 mm, price: 8 EUR }', 2],
    ['never more than the sheet', '{ width: 60 mm, height: 40 mm, price: 8 EUR }', 8],
  ])('is the sheet’s share, %s', (_, sheet, eur) => {
    expect(factsOf(files({ sheet: `sheet: ${sheet}` })).waste!.sheet).toBe(eur);
  });

  it('at stake is the sum of its parts', () => {
    const rates =
      '{ machine: 36 EUR/h, operator: 18 EUR/h, input: 1.5 kW, energy: 0.30 EUR/kWh, tube: { price: 3600 EUR, life: 1 h } }';
    const { waste } = factsOf(files({ rates, gcode: WAITING }));
    const { sheet, machine, operator, tube, energy } = waste!;
    for (const part of [sheet, machine, operator, tube, energy]) expect(part).toBeGreaterThan(0.01);
    expect(waste!.atStake).toBeCloseTo(sheet + machine + operator + tube + energy, 1);
    expect(waste!.missing).toEqual([]);
  });

  it('expected is what is at stake times the chance that the worst cut does not part', () => {
    const fast = WAITING.replace('F540', 'F1300');
    const { waste, cuts } = factsOf(files({ gcode: fast }));
    const worst = Math.min(...cuts.map((cut) => cut.prediction!.throughProbability));
    expect(worst).toBeGreaterThan(0.05);
    expect(worst).toBeLessThan(0.95);
    expect(waste!.expected).toBeCloseTo(waste!.atStake * (1 - worst), 1);
  });

  it('is all of it when another error stands', () => {
    const dwell = 'G21 G90\nM8\nM3 S800 F540\nG4 P5\nG1 X100\nG1 Y50\nG1 X0\nG1 Y0\nM5\nM9\nM2\n';
    const [job] = run(files({ gcode: dwell })).jobs;
    expect(job!.findings.some((one) => one.rule === 'toolpath/dwell-burn')).toBe(true);
    expect(job!.waste!.expected).toBe(job!.waste!.atStake);
  });

  it('over the budget is told with the final amount', () => {
    const dwell = 'G21 G90\nM8\nM3 S800 F540\nG4 P5\nG1 X100\nG1 Y50\nG1 X0\nG1 Y0\nM5\nM9\nM2\n';
    const rules = (gcode?: string) =>
      run(files({ budget: 'budget: 1 EUR', ...(gcode ? { gcode } : {}) })).jobs[0]!.findings.map((one) => one.rule);
    expect(rules()).not.toContain('waste/over-budget');
    expect(rules(dwell)).toContain('waste/over-budget');
  });

  it.each([
    ['its own where it is lower', 1, 5, 1],
    ['the shop’s where its own is higher', 5, 1, 1],
    ['its own where the shop has none', 5, null, 5],
    ['the shop’s where it has none', null, 1, 1],
    ['none where neither has', null, null, null],
  ])('is held to a budget: %s', (_, own, shops, inForce) => {
    const eur = (amount: number | null) => (amount === null ? null : { amount, currency: 'EUR' });
    expect(budgetInForce(eur(own), eur(shops))).toEqual(eur(inForce));
  });

  it('is held to the shop’s budget where the job’s is in another currency', () => {
    const shops = { amount: 5, currency: 'EUR' };
    expect(budgetInForce({ amount: 1, currency: 'CHF' }, shops)).toBe(shops);
  });

  it('without any price is none', () => {
    expect(factsOf(files({ rates: '', sheet: '' })).waste).toBeNull();
  });

  it('in two currencies is not added up', () => {
    const { waste } = factsOf(files({ sheet: 'sheet: { width: 200 mm, height: 100 mm, price: 8 CHF }' }));
    expect(waste!.atStake).toBe(0);
    expect(waste!.missing[0]).toContain('CHF');
  });

  it('and time are complete for artwork alone', () => {
    const facts = factsOf({
      ...shed(),
      ...demoFiles('plant-labels.svg'),
      'labels.job.yaml': `kerflint: 1
machine: shed-60w
lens: 2in
material: card
thickness: 0.5 mm
zero: sheet-corner
sheet: { width: 300 mm, height: 200 mm, price: 1 EUR }
artwork: plant-labels.svg
tasks:
  - { name: all, aim: through, power: 40 %, speed: 40 mm/s, passes: 2, air: 1 bar }
`,
    });
    expect(facts.time!.basis).toBe('artwork');
    // Two passes over the outlines at no more than 40 mm/s take at least this long.
    expect(facts.time!.cuttingS).toBeGreaterThan((2 * facts.artwork!.lengthMm) / 40);
    expect(facts.waste!.atStake).toBeGreaterThan(0);
    expect(facts.cuts[0]!.prediction!.throughProbability).toBeGreaterThan(0);
    expect(facts.cuts[0]!.passes).toHaveLength(2);
  });
});
