import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { lineOfToolpath } from '../places.ts';
import { defineRule } from '../rule.ts';
import { quoted } from '../wording.ts';

export default defineRule({
  id: 'match/not-found',
  summary: 'The artwork, or a task of it, was not found in the toolpath.',
  severity: 'error',
  since: '0.1.0',
  reads: ['toolpath', 'artwork', 'sidecar'],
  searches: ['drawn-lines', 'tasks', 'placement'],
  decides: 'through',
  messages: {
    artwork:
      'The artwork was not found in the toolpath in any place, turn, mirror image or size. Name the toolpath that was written from this artwork. These two files do not seem to belong together.',
    task: 'Task {task} was not found in the toolpath: {reason}. Say which strokes are its own with `program` in the task, or write the toolpath again. They were not guessed.',
  },
  example:
    'The artwork was not found in the toolpath in any place, turn, mirror image or size. Name the toolpath that was written from this artwork. These two files do not seem to belong together.',
  options: {},
  why: 'A toolpath of another job under the right name is cut without a murmur. And where it is not known which strokes belong to a task, its settings and passes cannot be checked (a warning).',
  remedy:
    'Check the names `toolpath` and `artwork` in the sidecar. Have the program write a comment ahead of each layer and select by it: `program: { comment: outline }`.',
  sources: ['A consequence of the sidecar’s own rules; no outside source'],
  check(facts) {
    const { match, toolpath, artwork } = facts;
    if (match === null || toolpath === null)
      return { notApplicable: 'there is no plan or artwork to hold the toolpath against' };
    const found: ReportDescriptor[] = [];
    const comparable = artwork !== null && artwork.outlines.length > 0 && toolpath.strokes.count > 0;
    // What was not tried may be the place: then nothing is said but that the search ended early.
    const sought = match.placement === null && match.placementEndedEarly === null;
    if (comparable && toolpath.analysed && artwork.analysed && sought) {
      const location = lineOfToolpath(facts, toolpath.strokes.line[0] ?? 1);
      found.push({ messageId: 'artwork', args: {}, location, subject: 'artwork' });
    }
    for (const { task, reason, location } of match.unmatchedTasks) {
      found.push({
        messageId: 'task',
        severity: 'warning',
        args: { task: quoted(task), reason },
        location,
        subject: task,
      });
    }
    return found;
  },
});
