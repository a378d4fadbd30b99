import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { BEAM, FIRE } from '../cautions.ts';
import { inToolpath, toolpathProblems } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatCount } from '../wording.ts';

export default defineRule({
  id: 'toolpath/after-end',
  summary: 'Motion stands behind the end of the program.',
  severity: 'error',
  since: '0.1.0',
  reads: ['toolpath'],
  messages: {
    powered:
      '{lines} of motion with the beam on {stand} behind {by}, which ends the program. Take out the early end, or what stands behind it. A controller that stops there leaves them out, a sender that streams line by line cuts them; they were not checked.',
    unpowered:
      '{lines} of motion without the beam {stand} behind {by}, which ends the program. Take out the early end, or what stands behind it. It depends on the sender whether they run.',
  },
  example:
    '2 lines of motion with the beam on stand behind M2, which ends the program. Take out the early end, or what stands behind it. A controller that stops there leaves them out, a sender that streams line by line cuts them; they were not checked.',
  options: {},
  why: 'Two files pasted together, or an end that a template puts too early, leave motion behind the program’s end. Whether it runs depends on how the program is sent: read from memory it stops at the end, streamed line by line it goes on. Either a part stays uncut, or something is cut that nobody has checked. Motion without the beam, such as a way home, is a note.',
  remedy:
    'Keep one end, on the last line (M2 or M30, then a closing % where the program opened with one). A closing % by itself is nothing to report.',
  sources: [
    'M2, M30 and % end a program: RS274/NGC [NISTIR-6556], 3.6.1 and 3.3',
    'That senders which stream go on: common practice, no source',
  ],
  caution: `${BEAM} ${FIRE}`,
  check(facts) {
    if (facts.toolpath === null) return { notApplicable: 'the job has no toolpath' };
    const behind = toolpathProblems(facts).filter((problem) => problem.code === 'after-end');
    const powered = behind.filter(({ args }) => args['powered'] === 1);
    // What runs on without the beam is no matter beside what runs on with it.
    const told = powered.length > 0 ? powered : behind;
    const first = told[0];
    if (first === undefined) return [];
    const lines = told.reduce((sum, { args }) => sum + Number(args['lines'] ?? 1), 0);
    const finding: ReportDescriptor = {
      messageId: powered.length > 0 ? 'powered' : 'unpowered',
      args: {
        lines: formatCount(lines, 'line'),
        stand: lines === 1 ? 'stands' : 'stand',
        by: String(first.args['by'] ?? 'the end'),
      },
      location: inToolpath(facts, first.place),
    };
    return [powered.length > 0 ? finding : { ...finding, severity: 'note' }];
  },
});
