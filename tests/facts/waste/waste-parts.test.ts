import { describe, expect, it } from 'vitest';
import { CostLedger } from '../../../src/facts/waste/cost-ledger.ts';
import { costOfCutting } from '../../../src/facts/waste/cost-of-cutting.ts';
import { expectedWaste, wasteOf } from '../../../src/facts/waste/waste.ts';
import type { Machine, Money, Sidecar } from '../../../src/job/model.ts';
import { machine, sidecar } from '../../rules/build-job.ts';

const eur = (amount: number): Money => ({ amount, currency: 'EUR' });

const NO_RATES: Machine['rates'] = {
  machinePerH: null,
  operatorPerH: null,
  inputW: null,
  energyPerKWh: null,
  tube: null,
};
const ALL_RATES: Machine['rates'] = {
  machinePerH: eur(36),
  operatorPerH: eur(18),
  inputW: 1500,
  energyPerKWh: eur(0.3),
  tube: { price: eur(400), lifeH: 1000 },
};
const rated = (rates: Partial<Machine['rates']>): Machine => ({ ...machine(), rates: { ...NO_RATES, ...rates } });

/** A sheet of 400 by 200 mm at 8 EUR. */
const SHEET: Sidecar = sidecar({ sheet: { widthMm: 400, heightMm: 200, price: eur(8) } });
/** Two hours, of which the beam is on for one. */
const TIME = { totalS: 7200, cuttingS: 2700, rasterS: 900, travelS: 3000, dwellS: 600, basis: 'toolpath' } as const;
/** A quarter of the sheet, away from its corner. */
const BOX = { minX: 100, minY: 50, maxX: 300, maxY: 150 };

const waste = (change: Partial<Parameters<typeof wasteOf>[0]> = {}) =>
  wasteOf({ sidecar: SHEET, machine: rated(ALL_RATES), time: TIME, box: BOX, worstThrough: 0.75, ...change });

describe('what a run puts at stake', () => {
  it('is a share of the sheet, the run’s time of machine, operator and energy, and the beam’s time of the tube', () => {
    // 8/4; 2 × 36; 2 × 18; 1 h of 1000 at 400; 1.5 kW × 2 h × 0.30. A quarter of it is expected to be lost.
    expect(waste()).toEqual({
      currency: 'EUR',
      atStake: 111.3,
      expected: 27.83,
      sheet: 2,
      machine: 72,
      operator: 36,
      tube: 0.4,
      energy: 0.9,
      missing: [],
    });
  });

  it('is told to the cent, the sum from what was not yet rounded', () => {
    // Two hours at 0.333 EUR are 0.666 EUR each.
    const found = waste({ machine: rated({ machinePerH: eur(0.333), operatorPerH: eur(0.333) }), sidecar: null });
    expect(found).toMatchObject({ machine: 0.67, operator: 0.67, atStake: 1.33 });
  });

  it('is expected to be lost by the chance that the worst cut does not part, and not at all where nothing was predicted', () => {
    expect(waste({ worstThrough: 0 })!.expected).toBe(111.3);
    expect(waste({ worstThrough: 1 })!.expected).toBe(0);
    expect(waste({ worstThrough: null })!.expected).toBe(0);
  });

  it('is not known without a machine, a time or any price', () => {
    expect(waste({ machine: null })).toBeNull();
    expect(waste({ time: null })).toBeNull();
    expect(waste({ machine: rated({}), sidecar: sidecar() })).toBeNull();
  });

  it.each<[string, Parameters<typeof waste>[0]]>([
    ['no sheet price', { sidecar: sidecar() }],
    ['no sheet price', { sidecar: null }],
    ['no machine rate', { machine: rated({ ...ALL_RATES, machinePerH: null }) }],
    ['no operator rate', { machine: rated({ ...ALL_RATES, operatorPerH: null }) }],
    ['no tube price', { machine: rated({ ...ALL_RATES, tube: null }) }],
    ['no energy price', { machine: rated({ ...ALL_RATES, energyPerKWh: null }) }],
    ['no energy price', { machine: rated({ ...ALL_RATES, inputW: null }) }],
  ])('names what could not be priced, which then counts for nothing: %s', (missing, change) => {
    const found = waste(change)!;
    expect(found.missing).toEqual([missing]);
    const { sheet, machine: perH, operator, tube, energy } = found;
    expect([sheet, perH, operator, tube, energy].filter((part) => part === 0)).toHaveLength(1);
    expect(found.atStake).toBeCloseTo(sheet + perH + operator + tube + energy, 6);
  });

  it('has the price of a sheet alone', () => {
    const missing = ['no machine rate', 'no operator rate', 'no tube price', 'no energy price'];
    expect(waste({ machine: rated({}) })).toMatchObject({ sheet: 2, atStake: 2, currency: 'EUR', missing });
  });

  it('has nothing of the sheet where nothing is drawn or moves', () => {
    expect(waste({ box: null })).toMatchObject({ sheet: 0, missing: [] });
  });

  it('is not added up in two currencies: which ones is said', () => {
    const mixed = rated({ ...ALL_RATES, tube: { price: { amount: 400, currency: 'CHF' }, lifeH: 1000 } });
    expect(waste({ machine: mixed })).toEqual({
      currency: 'EUR',
      atStake: 0,
      expected: 0,
      sheet: 0,
      machine: 0,
      operator: 0,
      tube: 0,
      energy: 0,
      missing: ['prices stand in more than one currency (EUR, CHF)'],
    });
  });

  it('is all lost where something else stops the job', () => {
    const some = waste()!;
    expect(expectedWaste(some, true)).toEqual({ ...some, expected: 111.3 });
    expect(expectedWaste(some, false)).toBe(some);
    expect(expectedWaste(null, true)).toBeNull();
  });
});

describe('what cutting costs', () => {
  it('is time at the rates of machine, operator, tube and energy', () => {
    // Half an hour: 18 + 9 + 400/2000 + 0.75 × 0.30 EUR.
    expect(costOfCutting(rated(ALL_RATES), 1800)).toEqual({
      amount: expect.closeTo(18 + 9 + 0.2 + 0.225, 9),
      currency: 'EUR',
    });
  });

  it.each<[string, Partial<Machine['rates']>, number | null]>([
    ['the machine', { machinePerH: eur(36) }, 18],
    ['the operator', { operatorPerH: eur(18) }, 9],
    ['the tube', { tube: { price: eur(400), lifeH: 1000 } }, 0.2],
    ['the energy', { inputW: 1500, energyPerKWh: eur(0.3) }, 0.225],
    ['nothing: what is taken in has no price', { inputW: 1500 }, null],
    ['nothing: what is taken in is not known', { energyPerKWh: eur(0.3) }, null],
    ['nothing at all', {}, null],
  ])('is that of %s where nothing else is known', (_, rates, amount) => {
    const cost = costOfCutting(rated(rates), 1800);
    expect(cost?.amount ?? null).toEqual(amount === null ? null : expect.closeTo(amount, 9));
  });

  it('is not known in two currencies', () => {
    expect(costOfCutting(rated({ ...ALL_RATES, operatorPerH: { amount: 18, currency: 'CHF' } }), 1800)).toBeNull();
  });
});

it('a ledger takes each currency once, and goes by the first', () => {
  const ledger = new CostLedger();
  expect([ledger.currency, ledger.mixed]).toEqual([null, false]);
  expect([ledger.take(eur(3), 2), ledger.take(eur(5), 0.5)]).toEqual([6, 2.5]);
  expect([ledger.currency, ledger.mixed, ledger.seen]).toEqual(['EUR', false, ['EUR']]);
  ledger.take({ amount: 1, currency: 'CHF' }, 1);
  expect([ledger.currency, ledger.mixed, ledger.seen]).toEqual(['EUR', true, ['EUR', 'CHF']]);
});
