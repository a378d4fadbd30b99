import { facts } from '../build-facts.ts';
import { casesOf } from '../case.ts';

const budget = (amount: number, currency = 'EUR') => ({ amount, currency });

export const wasteCases = casesOf('waste/over-budget', [
  ['accepts expected waste within the budget', facts({ budget: budget(0.13) }), []],
  [
    'warns above it',
    facts({ budget: budget(1), waste: { atStake: 24.1, expected: 9.6 } }),
    [{ messageId: 'over', says: ['9.60 EUR of 24.10 EUR', 'budget of 1.00 EUR'] }],
  ],
  ['is not applicable without a budget', facts(), 'no budget'],
  ['compares no currencies', facts({ budget: budget(1, 'CHF') }), 'CHF'],
  ['is not applicable where nothing could be priced', facts({ budget: budget(1), waste: null }), 'could not be priced'],
]);
