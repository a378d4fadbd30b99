import { FIRE } from '../cautions.ts';
import { countOf, inToolpath, relatedPlaces, toolpathProblems } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatCount } from '../wording.ts';

export default defineRule({
  id: 'toolpath/modal-conflict',
  summary: 'One line holds two codes of which only one can be in force.',
  severity: 'error',
  since: '0.1.0',
  reads: ['toolpath'],
  messages: {
    conflict:
      '{first} and {second} stand on one line and belong to one modal group ({group}){more}. Keep the one that is meant, or write two lines. Controllers refuse the line or take one of the two.',
    place: 'two codes of one group here as well',
  },
  example:
    'G0 and G1 stand on one line and belong to one modal group (motion) (2 such lines in all). Keep the one that is meant, or write two lines. Controllers refuse the line or take one of the two.',
  options: {},
  why: 'Which of two rivals wins is up to the controller: one may switch the beam on while the other would switch it off.',
  remedy: 'Split the line, or take out the code that is not meant.',
  sources: ['Modal groups: RS274/NGC [NISTIR-6556]'],
  caution: FIRE,
  check(facts) {
    if (facts.toolpath === null) return { notApplicable: 'the job has no toolpath' };
    const conflicts = toolpathProblems(facts).filter((problem) => problem.code === 'modal-conflict');
    const first = conflicts[0];
    if (first === undefined) return [];
    const count = countOf(conflicts);
    return [
      {
        messageId: 'conflict',
        args: {
          first: String(first.args['first'] ?? ''),
          second: String(first.args['second'] ?? ''),
          group: String(first.args['group'] ?? ''),
          more: count > 1 ? ` (${formatCount(count, 'such line')} in all)` : '',
        },
        location: inToolpath(facts, first.place),
        related: relatedPlaces(
          conflicts.slice(1).map((problem) => inToolpath(facts, problem.place)),
          'place',
        ),
      },
    ];
  },
});
