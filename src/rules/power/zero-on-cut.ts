import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { relatedPlaces } from '../places.ts';
import { defineRule } from '../rule.ts';
import { atStart, countFound, quoted } from '../wording.ts';

export default defineRule({
  id: 'power/zero-on-cut',
  summary: 'A whole planned outline gets no power.',
  severity: 'error',
  since: '0.1.0',
  reads: ['toolpath', 'artwork', 'sidecar'],
  searches: ['drawn-lines', 'placement', 'missing-lines'],
  decides: 'through',
  messages: {
    unpowered:
      '{outlines} of task {task} get no power anywhere in the toolpath. Give them a power setting above 0, or take them out of the task. The head passes and nothing is cut.',
    place: 'this outline gets no power',
  },
  example:
    '2 outlines of task "outline" get no power anywhere in the toolpath. Give them a power setting above 0, or take them out of the task. The head passes and nothing is cut.',
  options: {},
  why: 'A layer whose power was left at zero runs like any other and leaves the part in the sheet. Found afterwards, the sheet has moved and cannot be put back in register. An unpowered run-out at the end of a line is ordinary; only outlines that get no power on their whole length are reported.',
  remedy: 'Set the power of the layer or tool and write the toolpath again.',
  sources: ['Common practice, no source'],
  check(facts) {
    const found: ReportDescriptor[] = [];
    for (const task of facts.tasks) {
      const [first, ...others] = task.unpoweredOutlines.items;
      if (first === undefined) continue;
      found.push({
        messageId: 'unpowered',
        args: { outlines: atStart(countFound(task.unpoweredOutlines, 'outline')), task: quoted(task.name) },
        location: first.location,
        related: relatedPlaces(
          others.map((outline) => outline.location),
          'place',
        ),
        subject: task.name,
      });
    }
    if (found.length > 0) return found;
    if (facts.tasks.length === 0) return { notApplicable: 'no task says what is to be cut' };
    return [];
  },
});
