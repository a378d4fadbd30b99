import type { UnclaimedStrokes } from '../../facts/cuts/unclaimed.ts';
import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { FIRE } from '../cautions.ts';
import { defineRule } from '../rule.ts';
import { formatChance, formatCount, mm } from '../wording.ts';

export default defineRule({
  id: 'match/unclaimed-strokes',
  summary: 'The toolpath burns lines that no task of the sidecar claims.',
  severity: 'warning',
  since: '0.2.0',
  reads: ['toolpath', 'sidecar', 'prediction'],
  searches: ['tasks', 'passes'],
  decides: 'through',
  messages: {
    open: '{strokes} ({length} mm), line {line} and on, {belong} to no task of the sidecar: only a line, or through? Add a task with a `program` that selects {them}, or take {them} out. Nothing says whether {they} must part the sheet, so the job is not judged.',
    parting:
      '{strokes} ({length} mm), line {line} and on, {belong} to no task of the sidecar; {they} will part the sheet all the same, {chance} likely. Add a task with a `program` that selects {them}, or take {them} out.',
  },
  example:
    '2 strokes (42.0 mm), line 14 and on, belong to no task of the sidecar: only a line, or through? Add a task with a `program` that selects them, or take them out. Nothing says whether they must part the sheet, so the job is not judged.',
  options: {
    shortest: {
      type: 'number',
      default: 5,
      unit: 'mm',
      minimum: 0,
      description:
        'Unclaimed strokes that part the sheet and are shorter than this together are not reported; the others always are.',
    },
  },
  why: 'Left-over test lines, a frame or parts of another job cut where nobody expects them: into a finished part, or over the edge of the sheet. And where it is not known whether a line must part the sheet, nobody can say that it does: such a job cannot pass. What parts the sheet anyway is a note.',
  remedy:
    'Give the strokes a task with its aim: through, groove (a line of limited depth) or surface. Strokes are selected by a comment, tool, feed or power (`program`), or found by geometry where the artwork has them.',
  sources: ['A consequence of the sidecar’s own rules; no outside source'],
  caution: FIRE,
  check(facts, options) {
    if (facts.toolpath === null) return { notApplicable: 'the job has no toolpath' };
    if (facts.input.sidecar === null) return { notApplicable: 'there is no sidecar with tasks' };
    const { open, parting } = facts.unclaimed;
    const found: ReportDescriptor[] = [];
    if (open !== null) found.push(described('open', open));
    if (parting !== null && parting.lengthMm >= options.shortest) {
      const said = described('parting', parting);
      const chance = formatChance(parting.throughProbability ?? 0);
      found.push({ ...said, severity: 'note', args: { ...said.args, chance } });
    }
    return found;
  },
});

function described(messageId: string, { strokes, lengthMm, location }: UnclaimedStrokes): ReportDescriptor {
  const one = strokes === 1;
  return {
    messageId,
    args: {
      strokes: formatCount(strokes, 'stroke'),
      length: mm(lengthMm),
      line: location.line,
      belong: one ? 'belongs' : 'belong',
      they: one ? 'it' : 'they',
      them: one ? 'it' : 'them',
    },
    location,
    subject: messageId,
  };
}
