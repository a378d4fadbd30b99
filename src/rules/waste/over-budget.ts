import { inSidecar } from '../places.ts';
import { defineRule } from '../rule.ts';
import { fixed, roundTo } from '../wording.ts';

export default defineRule({
  id: 'waste/over-budget',
  summary: 'The job is likely to waste more than its budget allows.',
  severity: 'warning',
  phase: 'waste',
  since: '0.1.0',
  reads: ['sidecar', 'machine', 'prediction'],
  searches: ['passes'],
  messages: {
    over: 'The expected waste is {expected} {currency} of {atStake} {currency} at stake, over the budget of {budget} {currency}. Put right what the other findings name, or test on a small piece first. The budget is that of the sidecar or the shop’s settings.',
  },
  example:
    'The expected waste is 0.06 EUR of 0.92 EUR at stake, over the budget of 0.05 EUR. Put right what the other findings name, or test on a small piece first. The budget is that of the sidecar or the shop’s settings.',
  options: {},
  why: 'Expected waste is what is at stake (the job’s share of the sheet, machine, operator, tube and energy for the whole run) times the chance that the worst through cut fails; all of it when another error stands. A shop sets a budget to have such jobs looked at before they run.',
  remedy: 'Raise the chance of the worst cut, or lower the stake: an offcut for the first part, a smaller first run.',
  sources: ['The budget comes from the sidecar or `.kerflint.yaml`; prices and rates from sidecar and profile'],
  check(facts) {
    const { budget, waste } = facts;
    if (budget === null) return { notApplicable: 'no budget is set' };
    if (waste === null) return { notApplicable: 'the waste could not be priced' };
    if (waste.currency !== budget.currency) {
      return { notApplicable: `the budget is in ${budget.currency} and the waste in ${waste.currency}` };
    }
    if (!(roundTo(waste.expected, 2) > roundTo(budget.amount, 2))) return [];
    const args = {
      expected: fixed(waste.expected, 2),
      atStake: fixed(waste.atStake, 2),
      budget: fixed(budget.amount, 2),
      currency: budget.currency,
    };
    return [{ messageId: 'over', args, location: inSidecar(facts, ['budget']) }];
  },
});
