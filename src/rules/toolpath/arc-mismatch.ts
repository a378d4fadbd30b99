import { FIRE } from '../cautions.ts';
import { isAssumed } from '../machine.ts';
import { groupOf, inToolpath, toolpathProblems } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatCount, roundTo } from '../wording.ts';

export default defineRule({
  id: 'toolpath/arc-mismatch',
  summary: 'Start and end of an arc do not lie on one circle.',
  severity: 'error',
  since: '0.1.0',
  reads: ['toolpath', 'machine'],
  messages: {
    mismatch:
      '{arcs}: the first starts {start} mm and ends {end} mm from its centre, {difference} mm apart. Write the arcs with more decimals, or as straight moves. The controller accepts {tolerance} mm {origin}.',
  },
  example:
    '2 arcs do not close up: the first starts 3 mm and ends 3.08 mm from its centre, 0.08 mm apart. Write the arcs with more decimals, or as straight moves. The controller accepts 0.05 mm by the machine’s profile.',
  options: {},
  why: 'A controller that finds two radii stops with an alarm in the middle of the sheet, or bends the arc to fit. Too few decimals, a wrong centre mode (G90.1/G91.1) or an edited file are the usual causes.',
  remedy:
    'Raise the number of decimals in the export, check whether the controller counts I and J from the start (G91.1) or absolutely (G90.1), or have arcs written as lines.',
  sources: [
    'RS274/NGC [NISTIR-6556]: radii may differ by 0.002 mm; later controllers allow 0.5 mm, or 0.005 mm and 0.1 %, so the machine’s profile decides',
  ],
  caution: FIRE,
  check(facts) {
    if (facts.toolpath === null) return { notApplicable: 'the job has no toolpath' };
    const group = groupOf(toolpathProblems(facts), 'arc-mismatch');
    if (group === null) return [];
    const assumed = facts.machine !== null && isAssumed(facts.machine, 'controller.arc-tolerance');
    const value = (name: string) => roundTo(Number(group.first.args[name] ?? 0), 4);
    return [
      {
        messageId: 'mismatch',
        args: {
          arcs: formatCount(group.count, 'arc does not close up', 'arcs do not close up'),
          start: value('startRadiusMm'),
          end: value('endRadiusMm'),
          difference: value('differenceMm'),
          tolerance: value('toleranceMm'),
          origin: assumed ? '(assumed: the machine’s profile does not say)' : 'by the machine’s profile',
        },
        location: inToolpath(facts, group.first.place),
      },
    ];
  },
});
