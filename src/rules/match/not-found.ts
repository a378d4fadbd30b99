import type { JobFacts } from '../../facts/facts.ts';
import type { Artwork, DrawnElement } from '../../facts/types.ts';
import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { lineOfToolpath } from '../places.ts';
import { defineRule } from '../rule.ts';
import { planPlace } from '../tasks.ts';
import { listed, quoted } from '../wording.ts';

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
    drawn:
      'Task {task} selects nothing in the artwork ({asked}), so nothing of it is {done}. Correct its `strokes`: the artwork has {has}.',
  },
  forCustomers: { artwork: [] },
  example:
    'The artwork was not found in the toolpath in any place, turn, mirror image or size. Name the toolpath that was written from this artwork. These two files do not seem to belong together.',
  options: {},
  why: 'A toolpath of another job under the right name is cut without a murmur. And where it is not known which strokes or outlines belong to a task, its settings and passes cannot be checked: an error where it must part the sheet, a warning for a groove or a surface.',
  remedy:
    'Check the names `toolpath` and `artwork` in the sidecar. Have the program write a comment ahead of each layer and select by it: `program: { comment: outline }`.',
  sources: ['A consequence of the sidecar’s own rules; no outside source'],
  check(facts) {
    const { match, toolpath, artwork } = facts;
    const found = undrawnTasks(facts);
    if (match === null || toolpath === null) {
      if (found.length > 0 || (artwork !== null && facts.input.sidecar !== null)) return found;
      return { notApplicable: 'there is no plan or artwork to hold the toolpath against' };
    }
    const comparable = artwork !== null && artwork.outlines.length > 0 && toolpath.strokes.count > 0;
    // What was not tried may be the place: then nothing is said but that the search ended early.
    const sought = match.placement === null && match.placementEndedEarly === null;
    if (comparable && toolpath.analysed && artwork.analysed && sought) {
      const location = lineOfToolpath(facts, toolpath.strokes.line[0] ?? 1);
      found.push({ messageId: 'artwork', args: {}, location, subject: 'artwork' });
    }
    for (const { task, aim, reason, location } of match.unmatchedTasks) {
      found.push({
        messageId: 'task',
        severity: aim === 'through' ? 'error' : 'warning',
        args: { task: quoted(task), reason },
        location,
        subject: task,
      });
    }
    return found;
  },
});

/** Tasks that select by `strokes` and find none in the artwork: nearly always a name that is not spelt as the drawing has it. */
function undrawnTasks(facts: JobFacts): ReportDescriptor[] {
  const { artwork, tasks } = facts;
  // What was not read to its end may hold it.
  if (artwork === null || !artwork.analysed || artwork.endedEarly !== null) return [];
  return tasks.flatMap((task): ReportDescriptor[] => {
    const strokes = task.planned?.strokes ?? null;
    if (strokes === null || task.aim === 'surface' || task.outlines.length > 0) return [];
    const keys = (['stroke', 'layer', 'class', 'id'] as const).filter((key) => strokes[key] !== undefined);
    return [
      {
        messageId: 'drawn',
        severity: task.aim === 'through' ? 'error' : 'warning',
        args: {
          task: quoted(task.name),
          asked: keys.map((key) => `${key} ${quoted(strokes[key] ?? '')}`).join(', '),
          done: task.aim === 'through' ? 'cut' : 'grooved',
          has: whatItHas(artwork, keys[0] ?? 'stroke'),
        },
        location: planPlace(facts, task, 'strokes'),
        subject: `${task.name} in the artwork`,
      },
    ];
  });
}

/** Values of a key that the artwork does have: 'stroke "#1864ab", "#2b8a3e"'. */
function whatItHas({ outlines, elements }: Artwork, key: 'stroke' | 'layer' | 'class' | 'id'): string {
  const found = new Set<string>();
  for (const { element } of outlines) for (const value of valuesOf(elements[element]!, key)) found.add(value);
  return found.size === 0 ? `no ${key} at all` : `${key} ${listed([...found])}`;
}

function valuesOf({ stroke, layers, classes, id }: DrawnElement, key: 'stroke' | 'layer' | 'class' | 'id') {
  if (key === 'layer') return layers;
  if (key === 'class') return classes;
  return [key === 'stroke' ? stroke : id].filter((value) => value !== null);
}
