import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { FIRE } from '../cautions.ts';
import { groupOf, inToolpath, relatedPlaces, toolpathProblems } from '../places.ts';
import { defineRule } from '../rule.ts';
import { planPlace } from '../tasks.ts';
import { formatCount, quoted } from '../wording.ts';

export default defineRule({
  id: 'speed/missing-feed',
  summary: 'A cut has no speed.',
  severity: 'error',
  since: '0.1.0',
  reads: ['toolpath', 'sidecar'],
  messages: {
    none: '{moves} with the feed rate not set. Write an F word (mm/min, or the unit in force) at or ahead of this move. Without one the speed is whatever the controller last had.',
    zero: 'The feed rate is set to {feed}{more}. Write the F that the cut needs. The head would stand still under the beam, or the controller stops.',
    planned:
      'Task {task} states no speed and the job has no toolpath to take it from. State it, such as `speed: 12 mm/s`. Without it nothing can be predicted for the task.',
    place: 'here as well',
  },
  example:
    '4 moves run with the feed rate not set. Write an F word (mm/min, or the unit in force) at or ahead of this move. Without one the speed is whatever the controller last had.',
  options: {},
  why: 'Without a feed rate the result depends on what ran before: the cut may fail, or the beam may stand in one place and set the sheet alight. For grooves and surfaces of artwork alone, where only the prediction is lacking, it is a warning; cuts that must part the sheet are judged by what the machine can do.',
  remedy: 'State the feed rate at the first cutting move after every change of tool, mode (G93/G94) or units.',
  sources: [
    'G1 without a feed rate is an error in RS274/NGC ([NISTIR-6556])',
    'That some controllers go on with the last feed: common practice, no source',
  ],
  caution: FIRE,
  check(facts) {
    const found: ReportDescriptor[] = [];
    for (const [code, messageId] of [
      ['missing-feed', 'none'],
      ['zero-feed', 'zero'],
    ] as const) {
      const group = groupOf(toolpathProblems(facts), code);
      if (group === null) continue;
      const { count } = group;
      const more = count > 1 ? ` (${formatCount(count, 'time')} in this file)` : '';
      found.push({
        messageId,
        args:
          messageId === 'none'
            ? { moves: formatCount(count, 'move runs', 'moves run') }
            : { feed: group.first.args['feed'] ?? 0, more },
        location: inToolpath(facts, group.first.place),
        related: relatedPlaces(
          group.others.map((problem) => inToolpath(facts, problem.place)),
          'place',
        ),
        subject: code,
      });
    }
    if (facts.toolpath === null) {
      const named = facts.input.sidecar?.toolpath ?? null;
      if (named !== null) return { notApplicable: 'the toolpath that would state it could not be read' };
      for (const task of facts.tasks) {
        // What must part the sheet is judged by what the machine can do (cut/proposed, cut/out-of-reach).
        if (task.planned === null || task.aim === 'through' || task.planned.speedMmPerS !== null) continue;
        const location = planPlace(facts, task, 'speed');
        found.push({
          messageId: 'planned',
          severity: 'warning',
          args: { task: quoted(task.name) },
          location,
          subject: task.name,
        });
      }
      if (facts.tasks.every((task) => task.planned === null))
        return { notApplicable: 'nothing in this job states a speed' };
    }
    return found;
  },
});
