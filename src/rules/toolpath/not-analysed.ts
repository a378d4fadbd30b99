import type { JobFacts } from '../../facts/facts.ts';
import type { Problem } from '../../facts/types.ts';
import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { BEAM, FIRE } from '../cautions.ts';
import { countOf, inToolpath, relatedPlaces, toolpathProblems } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatCount, listed, quoted } from '../wording.ts';

/** What the reader could not follow, in words. */
const WHAT: Record<string, string> = {
  'o-word': 'Program flow (O-words)',
  expression: 'A computed value (expression in brackets)',
  parameter: 'A parameter (#)',
  'canned-cycle': 'A canned cycle',
  setting: 'A controller setting',
  'too-many-strokes': 'The rest of a program with more strokes than are kept:',
  subprogram: 'A call of another program',
  'extra-axis': 'An axis beside X, Y and Z',
  spline: 'A spline',
};

/** Likewise codes that the machine's profile may call harmless. */
const CODES: Record<string, string> = {
  'cutter-compensation': 'cutter radius compensation',
  'tool-length-offset': 'tool length offset',
  'unknown-code': 'not known here',
  output: 'output that may gate the beam',
};

export default defineRule({
  id: 'toolpath/not-analysed',
  summary: 'Parts of the program could not be followed.',
  severity: 'error',
  since: '0.1.0',
  reads: ['toolpath', 'machine'],
  messages: {
    incomplete:
      '{what} {text} is not analysed ({lines}). Write the program as plain G0 to G3 moves, with the post-processor’s flow and cycles expanded. Where the head goes or whether the beam is on is not known from here, so the job counts as incomplete.',
    code: '{text} ({what}, {lines}) could not be followed. Take it out, or look up what it does and, where it leaves beam, speed and motion alone, say so in the machine’s profile (`harmless: {{ {code}: … }}`). Until then the job counts as incomplete.',
    blockDelete:
      'Lines with the block-delete slash carry motion, feed, power or switches ({lines}). Take out the lines or their slash, or state in the machine’s profile whether it runs them (`block-delete: runs` or `skipped`). They were taken as running, and the job counts as incomplete.',
    passedOver:
      'Lines that are no part of the program were passed over ({lines}), such as {text}. Set them in the machine and not in the job where they matter. They are keys and settings of the controller or the sender, and remarks.',
    limits:
      '{text} changes what the axes are allowed ({lines}). Take it out, or expect another time. Path and beam are followed all the same, and the time is reckoned with the limits taken for the machine.',
    unfollowed:
      'Motion or beam could not be followed to the end of the program. Put right what the other findings on this file name. Until then the job counts as incomplete.',
    place: 'here as well',
  },
  forCustomers: { incomplete: [], code: [], blockDelete: [], unfollowed: [] },
  example:
    'A parameter (#) "#1=10" is not analysed (3 lines). Write the program as plain G0 to G3 moves, with the post-processor’s flow and cycles expanded. Where the head goes or whether the beam is on is not known from here, so the job counts as incomplete.',
  options: {},
  why: 'What is not understood cannot be predicted, and a check that skips it in silence would read like a pass. So it is named with its place, and where it may move the head, change the speed or switch the beam the verdict is `incomplete`. An output or an unknown code may do nothing of the sort: only the machine’s profile can say so, and only one that is trusted. What bears on the time alone, and lines for the controller or the sender, are a note.',
  remedy:
    'Have the program written without parameters, flow control and canned cycles. Settings that are sent to the controller (`$`) belong into the machine, not into the job. Name codes that leave beam, speed and motion alone under `controller.harmless` in the machine’s profile, each with what it does; a profile beside a job can add none to the shop’s.',
  sources: [
    'What the words mean: RS274/NGC [NISTIR-6556], ISO 6983-1:2009',
    'Which later codes leave beam and motion alone: common practice, no source',
  ],
  caution: `${BEAM} ${FIRE}`,
  check(facts) {
    const toolpath = facts.toolpath;
    if (toolpath === null) return { notApplicable: 'the job has no toolpath' };
    const problems = toolpathProblems(facts).filter((problem) => problem.code === 'not-analysed');
    const kinds = new Set(problems.map((problem) => String(problem.args['what'] ?? '')));
    const found = [...kinds].map((what) => {
      const ofKind = problems.filter((problem) => String(problem.args['what'] ?? '') === what);
      return told(facts, what, ofKind);
    });
    if (!toolpath.analysed && found.every(({ severity }) => severity === 'note')) {
      found.push({ messageId: 'unfollowed', args: {}, location: inToolpath(facts, toolpath.end.place) });
    }
    return found;
  },
});

/** What could not be followed for one reason. */
function told(facts: JobFacts, what: string, problems: readonly Problem[]): ReportDescriptor {
  const [first, ...others] = problems;
  const texts = [...new Set(problems.map((problem) => String(problem.args['text'] ?? '')))];
  const counted = problems.reduce((sum, { args }) => sum + Number(args['lines'] ?? 1), 0);
  const lines = formatCount(Math.max(counted, countOf(problems)), 'line');
  const text = listed(texts);
  const rest = {
    location: inToolpath(facts, first!.place),
    related: relatedPlaces(
      others.map((problem) => inToolpath(facts, problem.place)),
      'place',
    ),
    subject: what,
  };
  if (what === 'passed-over') {
    return { messageId: 'passedOver', severity: 'note', args: { lines, text: quoted(texts[0]!) }, ...rest };
  }
  if (what === 'motion-limits') return { messageId: 'limits', severity: 'note', args: { lines, text }, ...rest };
  if (what === 'block-delete') return { messageId: 'blockDelete', args: { lines }, ...rest };
  const code = CODES[what];
  if (code !== undefined) return { messageId: 'code', args: { what: code, text, lines, code: texts[0]! }, ...rest };
  return { messageId: 'incomplete', args: { what: WHAT[what] ?? 'A part of the program', text, lines }, ...rest };
}
