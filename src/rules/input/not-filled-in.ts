import { defineRule } from '../rule.ts';
import { formatCount } from '../wording.ts';

/** Lines that a message names. */
const MOST_NAMED = 6;

export default defineRule({
  id: 'input/not-filled-in',
  summary: 'Lines of the sidecar wait for a value.',
  severity: 'warning',
  since: '0.2.0',
  reads: ['sidecar'],
  messages: {
    fill: 'The sidecar has {lines} without a value: {keys}. Fill in what stands there empty: `kerflint init` leaves what nobody but you knows.',
  },
  example:
    'The sidecar has 2 lines without a value: machine (line 2), thickness (line 5). Fill in what stands there empty: `kerflint init` leaves what nobody but you knows.',
  options: {},
  why: 'A form that is not filled in is no error of anybody’s, and a check of it is no answer either: where machine, material or thickness is missing the job is incomplete, and where power or speed is missing it is judged only whether the machine could part the sheet at all.',
  remedy: 'Write a value behind each key named, with its unit, or take the line out.',
  sources: ['A consequence of the sidecar’s own rules; no outside source'],
  check(facts) {
    if (facts.input.sidecar === null) return { notApplicable: 'there is no sidecar' };
    const { unfilled } = facts.input.sidecar;
    const [first] = unfilled;
    if (first === undefined) return [];
    const named = unfilled.slice(0, MOST_NAMED).map(({ key, location }) => `${key} (line ${location.line})`);
    const more = unfilled.length > MOST_NAMED ? ` and ${unfilled.length - MOST_NAMED} more` : '';
    const args = { lines: formatCount(unfilled.length, 'line'), keys: `${named.join(', ')}${more}` };
    return [{ messageId: 'fill', args, location: first.location, subject: 'form' }];
  },
});
