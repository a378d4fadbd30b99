import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { CRASH } from '../cautions.ts';
import { inToolpath, toolpathProblems } from '../places.ts';
import { defineRule } from '../rule.ts';

/** The machines that such programs are for. */
const MACHINE: Record<string, string> = {
  extruder: 'a machine that melts filament',
  drill: 'a drilling machine',
  mill: 'a milling machine',
  plasma: 'a plasma cutter',
  plotter: 'a pen plotter',
};

export default defineRule({
  id: 'toolpath/wrong-kind',
  summary: 'The program was written for another kind of machine.',
  severity: 'error',
  since: '0.1.0',
  reads: ['toolpath'],
  messages: {
    kind: 'The program looks as if it was written for {machine}. Give the program that was made for the laser cutter, or export it for that. It holds {evidence}.',
  },
  forCustomers: { kind: [] },
  example:
    'The program looks as if it was written for a machine that melts filament. Give the program that was made for the laser cutter, or export it for that. It holds M104 (heaters or filament).',
  options: {},
  why: 'The words of one machine mean something else on another: a spindle speed becomes a power, a plunge becomes a collision, a heater command a switch for the air.',
  remedy: 'Check which file was sent, and export with the laser cutter’s own output.',
  sources: [
    'The words each kind of program holds: common practice, no source; modal groups by RS274/NGC [NISTIR-6556]',
  ],
  caution: CRASH,
  check(facts) {
    if (facts.toolpath === null) return { notApplicable: 'the job has no toolpath' };
    const found = new Map<string, ReportDescriptor>();
    for (const problem of toolpathProblems(facts)) {
      const kind = String(problem.args['kind'] ?? '');
      if (problem.code !== 'wrong-kind' || found.has(kind)) continue;
      found.set(kind, {
        messageId: 'kind',
        args: {
          machine: MACHINE[kind] ?? 'another kind of machine',
          evidence: String(problem.args['evidence'] ?? 'no word for a beam'),
        },
        location: inToolpath(facts, problem.place),
        subject: kind,
      });
    }
    return found.values();
  },
});
