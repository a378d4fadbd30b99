import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { FIRE } from '../cautions.ts';
import { defineRule } from '../rule.ts';
import { mm, quoted } from '../wording.ts';

export default defineRule({
  id: 'match/settings-differ',
  summary: 'The toolpath runs with other settings than the sidecar plans.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['toolpath', 'sidecar'],
  searches: ['tasks', 'passes'],
  messages: {
    differs:
      'Task {task} plans {planned} and the toolpath has {found}, on {length} mm. Write it again with the planned settings, or plan what it has. The prediction goes by the toolpath.',
    planned: 'planned here',
  },
  example:
    'Task "outline" plans power 80 % and the toolpath has 60 %, on 291.2 mm. Write it again with the planned settings, or plan what it has. The prediction goes by the toolpath.',
  options: {
    shortest: {
      type: 'number',
      default: 1,
      unit: 'mm',
      minimum: 0,
      description: 'Differences on less length than this are not reported.',
    },
  },
  why: 'The plan was agreed on or tested; the toolpath is what will happen. Where they differ, one of them was changed and the other forgotten.',
  remedy: 'Decide which of the two is right and change the other.',
  sources: ['A consequence of the sidecar’s own rules; no outside source'],
  caution: FIRE,
  check(facts, options) {
    if (facts.match === null || facts.toolpath === null)
      return { notApplicable: 'there is no plan to hold the toolpath against' };
    const found = new Map<string, ReportDescriptor>();
    for (const one of facts.match.settings) {
      const key = `${one.task} ${one.what}`;
      // Of a power on another scale there is one thing to say, and power/scale-mismatch says it.
      if (one.what === 'power' && facts.scaleDoubt !== null) continue;
      if (one.lengthMm < options.shortest || found.has(key)) continue;
      const { file, ...place } = one.plannedAt;
      found.set(key, {
        messageId: 'differs',
        args: {
          task: quoted(one.task),
          planned: one.what === 'passes' ? one.planned : `${one.what} ${one.planned}`,
          found: one.found,
          length: mm(one.lengthMm),
        },
        location: one.location,
        related: [{ file, place, messageId: 'planned', args: {} }],
        subject: key,
      });
    }
    return found.values();
  },
});
