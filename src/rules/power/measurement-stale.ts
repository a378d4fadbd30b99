import { daysBetween } from '../../units/date.ts';
import { inSidecar } from '../places.ts';
import { defineRule } from '../rule.ts';
import { quoted } from '../wording.ts';

export default defineRule({
  id: 'power/measurement-stale',
  summary: 'The power was measured long ago.',
  severity: 'note',
  since: '0.1.0',
  oncePerRun: true,
  reads: ['machine'],
  messages: {
    old: 'The power of machine {machine} was measured on {date}, {days} days ago. Measure it again and put the new date into the profile. After {limit} days a reading says little about an ageing source and drifting mirrors.',
    undated:
      'The profile of machine {machine} states a measured power and not when it was measured. Add the date of the measurement.',
  },
  example:
    'The power of machine "shed-60w" was measured on 2025-09-01, 450 days ago. Measure it again and put the new date into the profile. After 365 days a reading says little about an ageing source and drifting mirrors.',
  options: {
    days: {
      type: 'number',
      default: 365,
      unit: 'days',
      minimum: 1,
      description: 'Age from which a reading is called stale.',
    },
  },
  why: 'Glass tubes lose power with age and use, mirrors drift and get dirty. An old reading makes the prediction surer than it ought to be.',
  remedy: 'Measure at the work again, clean and align first, and write down the date.',
  sources: ['Measuring once a year: common practice, no source'],
  check(facts, options) {
    const { machine, power, today } = facts;
    if (machine === null || power === null) return { notApplicable: 'the machine is not known' };
    if (power.basis === 'rated') return { notApplicable: 'the power was never measured' };
    const date = machine.source.measuredOn;
    const place = { location: inSidecar(facts, ['machine']), subject: machine.id };
    if (date === null) return [{ messageId: 'undated', args: { machine: quoted(machine.id) }, ...place }];
    const days = daysBetween(date, today);
    if (days === null || days <= options.days) return [];
    return [{ messageId: 'old', args: { machine: quoted(machine.id), date, days, limit: options.days }, ...place }];
  },
});
