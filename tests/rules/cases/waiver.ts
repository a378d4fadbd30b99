import type { WaiverFact } from '../../../src/facts/input/waiver-fact.ts';
import { at, facts } from '../build-facts.ts';
import { casesOf } from '../case.ts';

const waiver = (change: Partial<WaiverFact> = {}): WaiverFact => ({
  rule: 'cut/marginal',
  known: true,
  suggestion: null,
  safety: false,
  where: 'sidecar',
  reason: 'proved on coupon 12',
  until: null,
  location: at('coaster.job.yaml', 25),
  counts: true,
  covered: 1,
  ...change,
});
const waived = (change: Partial<WaiverFact>) => facts({ waivers: [waiver(change)] });

export const waiverCases = [
  ...casesOf('waiver/expired', [
    ['accepts a waiver without a date', waived({}), []],
    ['accepts its last day', waived({ until: '2026-11-25' }), []],
    [
      'warns from the day after',
      waived({ until: '2026-11-24', counts: false }),
      [{ messageId: 'expired', says: ['2026-11-24', '2026-11-25'], at: 'coaster.job.yaml:25' }],
    ],
    ['has nothing to judge without waivers', facts(), 'no waivers'],
  ]),
  ...casesOf('waiver/unused', [
    ['accepts a waiver that covers a finding', waived({}), []],
    ['notes one that covers none', waived({ covered: 0 }), [{ messageId: 'unused', says: ['"cut/marginal"'] }]],
    ['leaves waivers to other rules that do not count', waived({ covered: 0, counts: false }), []],
    ['has nothing to judge without waivers', facts(), 'no waivers'],
  ]),
  ...casesOf('waiver/unknown-rule', [
    ['accepts the id of a rule', waived({}), []],
    [
      'warns of a slip in the id and names what was probably meant',
      waived({ rule: 'cut/marginl', known: false, suggestion: 'cut/marginal', counts: false }),
      [{ messageId: 'unknown', says: ['"cut/marginl"', 'perhaps "cut/marginal"'] }],
    ],
    [
      'names nothing when nothing is like it',
      waived({ rule: 'zzz', known: false, counts: false }),
      [{ messageId: 'unknown', says: ['Correct the id;'] }],
    ],
    ['has nothing to judge without waivers', facts(), 'no waivers'],
  ]),
  ...casesOf('waiver/no-reason', [
    ['accepts a reason', waived({}), []],
    ['accepts a safety rule in the sidecar with reason and date', waived({ safety: true, until: '2027-03-01' }), []],
    ['warns of a blank reason', waived({ reason: '  ', counts: false }), [{ messageId: 'noReason' }]],
    ['warns of none', waived({ reason: null, counts: false }), [{ messageId: 'noReason', says: ['does not count'] }]],
    ['asks for a date on a safety rule', waived({ safety: true, counts: false }), [{ messageId: 'noDate' }]],
    [
      'refuses a safety rule waived in a comment',
      waived({ safety: true, where: 'inline', until: '2027-03-01', counts: false }),
      [{ messageId: 'inline', says: ['sidecar'] }],
    ],
    ['leaves unknown ids to their own rule', waived({ known: false, reason: null, counts: false }), []],
    ['has nothing to judge without waivers', facts(), 'no waivers'],
  ]),
];
