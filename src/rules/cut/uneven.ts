import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { defineRule } from '../rule.ts';
import { mm, quoted } from '../wording.ts';

export default defineRule({
  id: 'cut/uneven',
  summary: 'Stretches of one closed outline get fewer passes than the rest.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['toolpath', 'prediction'],
  searches: ['tasks', 'passes'],
  decides: 'through',
  messages: {
    fewer:
      'In task {task}, {length} mm of a closed outline get {fewest} pass{es} and the rest {most}. Run the whole outline equally often. What gets fewer will hold the part.',
  },
  example:
    'In task "outline", 50.0 mm of a closed outline get 1 pass and the rest 2. Run the whole outline equally often. What gets fewer will hold the part.',
  options: {},
  why: 'A part comes free only when its whole outline is cut. Where a pass was shortened, started in another place or lost in an export, a stretch stays attached, and it is found only when the part is lifted.',
  remedy:
    'Write the passes of an outline as repetitions of the whole outline. If a bridge is meant to hold the part, waive the finding with that reason.',
  sources: ['Common practice, no source'],
  check(facts) {
    if (facts.toolpath === null) return { notApplicable: 'the job has no toolpath' };
    const found = new Map<string, ReportDescriptor>();
    for (const cut of facts.cuts) {
      if (cut.aim !== 'through' || cut.uneven === null || found.has(cut.task)) continue;
      const { fewest, most, shortMm, location } = cut.uneven;
      found.set(cut.task, {
        messageId: 'fewer',
        args: { task: quoted(cut.task), length: mm(shortMm), fewest, es: fewest === 1 ? '' : 'es', most },
        location,
        subject: cut.task,
      });
    }
    return found.values();
  },
});
