import type { JobFacts } from '../../facts/facts.ts';
import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { CRASH } from '../cautions.ts';
import { groupOf, inToolpath, lineOfToolpath, type ProblemGroup, relatedPlaces, toolpathProblems } from '../places.ts';
import { defineRule } from '../rule.ts';
import { mm, roundTo } from '../wording.ts';

const MM_PER_INCH = 25.4;

/** How the reader tells that units change, and the message for it. */
const MESSAGE_OF_CHANGE = { mixed: 'mixed', 'after-motion': 'changed', ahead: 'ahead' } as const;

function changeOf(
  facts: JobFacts,
  messageId: 'mixed' | 'changed' | 'ahead',
  { first: { args, place }, others }: ProblemGroup,
): ReportDescriptor {
  const [from, to] = [String(args['from'] ?? ''), String(args['to'] ?? '')];
  const words = {
    first: String(args['first'] ?? ''),
    second: String(args['second'] ?? ''),
    factor: to === 'mm' ? '25.4 times smaller' : '25.4 times larger',
  };
  return {
    messageId,
    ...(messageId === 'mixed' ? { severity: 'error' as const } : {}),
    args: messageId === 'changed' ? { from, to } : { from, to, ...words },
    location: inToolpath(facts, place),
    related: relatedPlaces(
      others.map((problem) => inToolpath(facts, problem.place)),
      'place',
    ),
    subject: messageId,
  };
}

export default defineRule({
  id: 'toolpath/units-suspect',
  summary: 'Inches and millimetres seem to have been confused in the program.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['toolpath', 'artwork', 'machine'],
  searches: ['drawn-lines'],
  messages: {
    changed:
      'The program changes from {from} to {to} after it has moved. State G20 or G21 once, ahead of the first move. What stands in force by then is read in the other unit.',
    ahead:
      'The program states {first} and then {second} ahead of the first move. Keep the one that is meant. It was read in {to}, and a size given for {from} comes out {factor}.',
    mixed:
      'The program states {first} and later {second}, words of two standards: {from} or {to} from there? Keep the one that the controller knows. It gives the other mostly another meaning or none. Read in {to}, a size may come out {factor}.',
    large:
      'Read in {unit}, the job is {width} × {height} mm and larger than the machine’s travel of {travelX} × {travelY} mm. Check G20 and G21. Read as millimetres it would fit ({fitWidth} × {fitHeight} mm).',
    small:
      'Read in {unit}, the job is {width} × {height} mm, 25.4 times smaller than the artwork ({artworkWidth} × {artworkHeight} mm). Put G20 ahead of the first move, or export in millimetres. It was probably written in inches.',
    notStated:
      'The program states neither G20 nor G21 and was read as millimetres. Put G21 ahead of the first move. The controller takes whatever it was last set to.',
    place: 'changes again here',
  },
  forCustomers: {
    changed: [],
    ahead: [],
    mixed: [],
    large: ['width', 'height'],
    small: ['width', 'height'],
    notStated: [],
  },
  example:
    'The program changes from mm to inch after it has moved. State G20 or G21 once, ahead of the first move. What stands in force by then is read in the other unit.',
  options: {
    slack: {
      type: 'number',
      default: 0.05,
      minimum: 0,
      maximum: 0.5,
      description: 'How far from a ratio of 25.4 a size may be and still count as a slip of units.',
    },
  },
  why: 'A factor of 25.4 cuts a postage stamp out of the middle of the sheet, or runs the head into its end stop.',
  remedy:
    'Export in one unit and state it at the top. That the unit is not stated at all is a note; that it is stated by words of two standards is an error, since what the controller makes of them is not known.',
  sources: ['G20 and G21: RS274/NGC [NISTIR-6556]; G70 and G71: ISO 6983-1:2009', '1 in = 25.4 mm by definition'],
  caution: CRASH,
  check(facts, options) {
    const toolpath = facts.toolpath;
    if (toolpath === null) return { notApplicable: 'the job has no toolpath' };
    const found: ReportDescriptor[] = [];
    for (const [how, messageId] of Object.entries(MESSAGE_OF_CHANGE)) {
      const changes = toolpathProblems(facts).filter(({ args }) => (args['how'] ?? 'after-motion') === how);
      const group = groupOf(changes, 'units-changed');
      if (group !== null) found.push(changeOf(facts, messageId, group));
    }
    const size = sizeOf(facts);
    const location = lineOfToolpath(facts, 1);
    if (size !== null && size.slip !== null) {
      const unit = toolpath.units === 'inch' ? 'inches' : 'millimetres';
      found.push({ messageId: size.slip, args: { unit, ...size.args }, location, subject: size.slip });
    } else if (toolpath.units === 'none-stated' && toolpath.moves > 0) {
      found.push({ messageId: 'notStated', severity: 'note', args: {}, location, subject: 'not-stated' });
    }
    return found;

    /** Which slip of units the size of the powered motion speaks for, if any. */
    function sizeOf({
      artwork,
      machine,
    }: JobFacts): { slip: 'large' | 'small' | null; args: Record<string, string> } | null {
      const bounds = toolpath?.poweredBoundsMm ?? null;
      if (bounds === null) return null;
      const width = bounds.maxX - bounds.minX;
      const height = bounds.maxY - bounds.minY;
      const args = { width: mm(width), height: mm(height) };
      const drawn = artwork?.boundsMm ?? null;
      if (drawn !== null) {
        const drawnWidth = drawn.maxX - drawn.minX;
        const drawnHeight = drawn.maxY - drawn.minY;
        const near = (a: number, b: number) => roundTo(Math.abs(a - b), 3) <= roundTo(b * options.slack, 3);
        if (near(width * MM_PER_INCH, drawnWidth) && near(height * MM_PER_INCH, drawnHeight) && width + height > 0) {
          return { slip: 'small', args: { ...args, artworkWidth: mm(drawnWidth), artworkHeight: mm(drawnHeight) } };
        }
      }
      if (machine !== null && toolpath?.units === 'inch') {
        const { xMm, yMm } = machine.travel;
        const fits = (w: number, h: number) => w <= xMm && h <= yMm;
        const fitWidth = width / MM_PER_INCH;
        const fitHeight = height / MM_PER_INCH;
        if (!fits(width, height) && fits(fitWidth, fitHeight)) {
          const fit = { travelX: mm(xMm), travelY: mm(yMm), fitWidth: mm(fitWidth), fitHeight: mm(fitHeight) };
          return { slip: 'large', args: { ...args, ...fit } };
        }
      }
      return { slip: null, args };
    }
  },
});
