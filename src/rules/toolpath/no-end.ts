import { FIRE } from '../cautions.ts';
import { inToolpath } from '../places.ts';
import { defineRule } from '../rule.ts';

export default defineRule({
  id: 'toolpath/no-end',
  summary: 'The program has no end (M2 or M30): it may be cut off.',
  severity: 'note',
  since: '0.1.0',
  reads: ['toolpath'],
  messages: {
    noEnd:
      'The program stops after {lines} lines without M2 or M30. End it with M5 and M2. A file that was cut off on its way would look the same.',
  },
  example:
    'The program stops after 10 lines without M2 or M30. End it with M5 and M2. A file that was cut off on its way would look the same.',
  options: {},
  why: 'An upload that broke off, a full disk or a lost connection leave a program that looks complete up to its last line. An explicit end shows that all of it is there, and most controllers switch beam and air off at it.',
  remedy: 'Have the program end with M5, M9 and M2 (or M30).',
  sources: ['M2 and M30 end a program: RS274/NGC [NISTIR-6556]'],
  caution: FIRE,
  check(facts) {
    const toolpath = facts.toolpath;
    if (toolpath === null) return { notApplicable: 'the job has no toolpath' };
    if (toolpath.end.stated || toolpath.moves === 0) return [];
    return [{ messageId: 'noEnd', args: { lines: toolpath.lines }, location: inToolpath(facts, toolpath.end.place) }];
  },
});
