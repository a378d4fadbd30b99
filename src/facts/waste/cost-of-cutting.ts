import type { Machine, Money } from '../../job/model.ts';
import { CostLedger } from './cost-ledger.ts';

const S_PER_H = 3600;
const W_PER_KW = 1000;

/** What the machine, its operator, its tube and its energy cost for so long a cut, s; null where no rate is known or the prices are not in one currency. */
export function costOfCutting({ rates }: Machine, timeS: number): Money | null {
  const hours = timeS / S_PER_H;
  const prices = new CostLedger();
  let amount = 0;
  if (rates.machinePerH) amount += prices.take(rates.machinePerH, hours);
  if (rates.operatorPerH) amount += prices.take(rates.operatorPerH, hours);
  if (rates.tube) amount += prices.take(rates.tube.price, hours / rates.tube.lifeH);
  if (rates.energyPerKWh && rates.inputW !== null) {
    amount += prices.take(rates.energyPerKWh, (rates.inputW / W_PER_KW) * hours);
  }
  if (prices.currency === null || prices.mixed) return null;
  return { amount, currency: prices.currency };
}
