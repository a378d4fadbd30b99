import type { Money } from '../../job/model.ts';

/** Adds up prices and sees whether they are in one currency. */
export class CostLedger {
  readonly seen: string[] = [];

  get currency(): string | null {
    return this.seen[0] ?? null;
  }

  get mixed(): boolean {
    return this.seen.length > 1;
  }

  take(price: Money, times: number): number {
    if (!this.seen.includes(price.currency)) this.seen.push(price.currency);
    return price.amount * times;
  }
}
