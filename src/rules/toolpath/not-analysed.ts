import type { Severity } from '../../findings/finding.ts';
import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { groupOf, inToolpath, relatedPlaces, toolpathProblems } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatCount, quoted } from '../wording.ts';

/** What the reader could not follow, in words; how much it matters when motion and beam could be followed all the same. */
const WHAT: Record<string, { words: string; harmless: Severity }> = {
  'o-word': { words: 'Program flow (O-words)', harmless: 'warning' },
  expression: { words: 'A computed value (expression in brackets)', harmless: 'warning' },
  parameter: { words: 'A parameter (#)', harmless: 'warning' },
  'canned-cycle': { words: 'A canned cycle', harmless: 'warning' },
  'cutter-compensation': { words: 'Cutter radius compensation', harmless: 'warning' },
  'tool-length-offset': { words: 'A tool length offset', harmless: 'warning' },
  'unknown-code': { words: 'An unknown code', harmless: 'note' },
  setting: { words: 'A controller setting', harmless: 'note' },
  'too-many-strokes': { words: 'The rest of a program with more strokes than are kept:', harmless: 'warning' },
  subprogram: { words: 'A call of another program', harmless: 'warning' },
  'extra-axis': { words: 'An axis beside X, Y and Z', harmless: 'warning' },
  output: { words: 'An output that the machine’s profile does not name', harmless: 'warning' },
  spline: { words: 'A spline', harmless: 'warning' },
};

export default defineRule({
  id: 'toolpath/not-analysed',
  summary: 'Parts of the program could not be followed.',
  severity: 'error',
  since: '0.1.0',
  reads: ['toolpath'],
  messages: {
    incomplete:
      '{what} {text} is not analysed ({lines}). Write the program as plain G0 to G3 moves, with the post-processor’s flow and cycles expanded. Where the head goes or whether the beam is on is not known from here, so the job counts as incomplete.',
    applied:
      '{what} {text} is not analysed ({lines}). Check what it does on this machine, or take it out. Motion and beam are judged as if it were not there.',
    unfollowed:
      'Motion or beam could not be followed to the end of the program. Put right what the other findings on this file name. Until then the job counts as incomplete.',
    place: 'here as well',
  },
  example:
    'A parameter (#) "#1=10" is not analysed (3 lines). Write the program as plain G0 to G3 moves, with the post-processor’s flow and cycles expanded. Where the head goes or whether the beam is on is not known from here, so the job counts as incomplete.',
  options: {},
  why: 'What is not understood cannot be predicted, and a check that skips it in silence would read like a pass. So it is named with its place, and where it moves the head or switches the beam the verdict is `incomplete`. Where motion and beam could be followed all the same it is a warning, and for settings and unknown codes a note.',
  remedy:
    'Have the program written without parameters, flow control and canned cycles. Settings that are sent to the controller (`$`) belong into the machine, not into the job.',
  sources: ['What the words mean: RS274/NGC (NISTIR 6556, 2000), ISO 6983-1:2009'],
  check(facts) {
    const toolpath = facts.toolpath;
    if (toolpath === null) return { notApplicable: 'the job has no toolpath' };
    const problems = toolpathProblems(facts).filter((problem) => problem.code === 'not-analysed');
    const found: ReportDescriptor[] = [];
    for (const what of new Set(problems.map((problem) => String(problem.args['what'] ?? '')))) {
      const group = groupOf(
        problems.filter((problem) => String(problem.args['what'] ?? '') === what),
        'not-analysed',
      );
      if (group === null) continue;
      const known = WHAT[what] ?? { words: 'A part of the program', harmless: 'warning' as const };
      const counts = [group.first, ...group.others].map((problem) => Number(problem.args['lines'] ?? 1));
      const lines = Math.max(
        group.count,
        counts.reduce((sum, count) => sum + count, 0),
      );
      found.push({
        messageId: toolpath.analysed ? 'applied' : 'incomplete',
        severity: toolpath.analysed ? known.harmless : 'error',
        args: {
          what: known.words,
          text: quoted(String(group.first.args['text'] ?? '')),
          lines: formatCount(lines, 'line'),
        },
        location: inToolpath(facts, group.first.place),
        related: relatedPlaces(
          group.others.map((problem) => inToolpath(facts, problem.place)),
          'place',
        ),
        subject: what,
      });
    }
    if (found.length === 0 && !toolpath.analysed) {
      return [{ messageId: 'unfollowed', args: {}, location: inToolpath(facts, toolpath.end.place) }];
    }
    return found;
  },
});
