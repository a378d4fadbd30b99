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
  it('is the sheet’s share by the bounding box, and rates times the time of the run', () => {
    const { waste, time } = factsOf(files());
    const hours = time!.totalS / 3600;
    expect(waste!.sheet).toBeCloseTo((8 * (100 * 50)) / (200 * 100), 2);
    expect(waste!.machine).toBeCloseTo(36 * hours, 2);
    expect(waste!.operator).toBeCloseTo(18 * hours, 2);
    expect(waste!.energy).toBeCloseTo(0.3 * hours, 2);
    expect(waste!.tube).toBeCloseTo((400 / 1000) * (time!.cuttingS / 3600), 2);
    expect(waste!.atStake).toBeCloseTo(
      waste!.sheet + waste!.machine + waste!.operator + waste!.energy + waste!.tube,
      1,
    );
  });

  it('expected is what is at stake times the chance that the worst cut does not part', () => {
    const { waste, cuts } = factsOf(files());
    const worst = Math.min(...cuts.map((cut) => cut.prediction!.throughProbability));
    expect(waste!.expected).toBeCloseTo(waste!.atStake * (1 - worst), 2);
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
