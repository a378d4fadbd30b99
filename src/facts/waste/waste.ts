import type { Box } from '../../geometry/outlines/outline.ts';
import type { Machine, Money, Sidecar } from '../../job/model.ts';
import type { TimeFact } from '../time/job-time.ts';
import { CostLedger } from './cost-ledger.ts';

const S_PER_H = 3600;
const W_PER_KW = 1000;

/** What a failed run costs, in the currency of the prices; each part to the cent. */
export interface WasteFact {
  readonly currency: string;
  readonly atStake: number;
  readonly expected: number;
  readonly sheet: number;
  readonly machine: number;
  readonly operator: number;
  readonly tube: number;
  readonly energy: number;
  /** Parts that could not be priced, in words: "no sheet price". */
  readonly missing: readonly string[];
}

/** The budget that a job is held to: its own only where that is the tighter one. In another currency it cannot be compared. */
export function budgetInForce(own: Money | null, shops: Money | null): Money | null {
  if (own === null || shops === null) return own ?? shops;
  return own.currency === shops.currency && own.amount < shops.amount ? own : shops;
}

/**
 * What the run puts at stake: the sheet's share, and machine, operator, tube and energy for the whole run. Null without a
 * machine or a time, and where there is no price at all.
 */
export function wasteOf(input: {
  sidecar: Sidecar | null;
  machine: Machine | null;
  time: TimeFact | null;
  /** Around the job, mm. */
  box: Box | null;
  /** P(through) of the worst through cut; null when none was predicted. */
  worstThrough: number | null;
}): WasteFact | null {
  const { sidecar, machine, time, box } = input;
  if (!machine || !time) return null;
  const { rates } = machine;
  const missing: string[] = [];
  const prices = new CostLedger();
  const sheet = sidecar?.sheet ?? null;

  let sheetCost = 0;
  if (!sheet?.price) missing.push('no sheet price');
  else if (box) {
    const jobMm2 = (box.maxX - box.minX) * (box.maxY - box.minY);
    const share = Math.min(1, jobMm2 / (sheet.widthMm * sheet.heightMm));
    sheetCost = prices.take(sheet.price, share);
  }
  const hours = time.totalS / S_PER_H;
  const beamHours = (time.cuttingS + time.rasterS) / S_PER_H;
  const machineCost = rates.machinePerH ? prices.take(rates.machinePerH, hours) : 0;
  if (!rates.machinePerH) missing.push('no machine rate');
  const operatorCost = rates.operatorPerH ? prices.take(rates.operatorPerH, hours) : 0;
  if (!rates.operatorPerH) missing.push('no operator rate');
  const tubeCost = rates.tube ? prices.take(rates.tube.price, beamHours / rates.tube.lifeH) : 0;
  if (!rates.tube) missing.push('no tube price');
  let energyCost = 0;
  if (rates.energyPerKWh && rates.inputW !== null) {
    energyCost = prices.take(rates.energyPerKWh, (rates.inputW / W_PER_KW) * hours);
  } else missing.push('no energy price');
  if (prices.currency === null) return null;
  if (prices.mixed) {
    return nothingComparable(prices.currency, [`prices stand in more than one currency (${prices.seen.join(', ')})`]);
  }
  const atStake = sheetCost + machineCost + operatorCost + tubeCost + energyCost;
  return {
    currency: prices.currency,
    atStake: cents(atStake),
    expected: cents(atStake * (1 - (input.worstThrough ?? 1))),
    sheet: cents(sheetCost),
    machine: cents(machineCost),
    operator: cents(operatorCost),
    tube: cents(tubeCost),
    energy: cents(energyCost),
    missing,
  };
}

/** All that is at stake is expected to be lost where something else than a shallow cut stops the job. */
export function expectedWaste(waste: WasteFact | null, allLost: boolean): WasteFact | null {
  return waste && allLost ? { ...waste, expected: waste.atStake } : waste;
}

function nothingComparable(currency: string, missing: string[]): WasteFact {
  return { currency, atStake: 0, expected: 0, sheet: 0, machine: 0, operator: 0, tube: 0, energy: 0, missing };
}

function cents(amount: number): number {
  return Math.round(amount * 100) / 100;
}
