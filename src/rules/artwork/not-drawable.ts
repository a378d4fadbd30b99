import type { JobFacts } from '../../facts/facts.ts';
import type { Problem } from '../../facts/types.ts';
import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { artworkProblems, countOf, inArtwork, relatedPlaces } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatCount, listed } from '../wording.ts';

export default defineRule({
  id: 'artwork/not-drawable',
  summary: 'Parts of the artwork have no outline that a machine could follow.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['artwork'],
  messages: {
    left: '{elements} of the artwork {have} no outline that a beam could follow ({what}) and {were} left out. Convert {them} to paths, or take {them} out.',
    dashed:
      '{elements} {are} drawn with a dashed stroke and judged as whole lines. If only the dashes shall be cut, draw them as lines of their own. Dashes are paint, and the outline has none.',
    place: 'left out as well',
    dashedPlace: 'dashed as well',
  },
  example:
    '3 elements of the artwork have no outline that a beam could follow ("marker", "stroke by linearGradient", "foreignObject") and were left out. Convert them to paths, or take them out.',
  options: {},
  why: 'Markers, embedded documents and strokes painted with gradients or patterns look like lines on the screen and reach the machine as something else or not at all. What was left out was not checked either. Dashes are a note: no machine cuts the gaps of a painted line, so the whole line is judged.',
  remedy: 'Convert strokes and markers to paths and give strokes a plain colour.',
  sources: ['SVG 2: marker, foreignObject, paint servers', 'Common practice, no source'],
  check(facts) {
    if (facts.artwork === null) return { notApplicable: 'the job has no artwork' };
    return [...leftOut(facts), ...dashedStrokes(facts)];
  },
});

function leftOut(facts: JobFacts): ReportDescriptor[] {
  const left = artworkProblems(facts).filter((problem) => nameOf(problem) !== null);
  const [first, ...others] = left;
  if (first === undefined) return [];
  const count = countOf(left);
  const many = count > 1;
  return [
    {
      messageId: 'left',
      args: {
        elements: formatCount(count, 'element'),
        have: many ? 'have' : 'has',
        were: many ? 'were' : 'was',
        them: many ? 'them' : 'it',
        what: listed([...new Set(left.map((problem) => nameOf(problem) ?? ''))]),
      },
      location: inArtwork(facts, first.place),
      related: relatedPlaces(
        others.map((problem) => inArtwork(facts, problem.place)),
        'place',
      ),
    },
  ];
}

function dashedStrokes(facts: JobFacts): ReportDescriptor[] {
  const dashed = artworkProblems(facts).filter((problem) => problem.code === 'dashed-stroke');
  const [first, ...others] = dashed;
  if (first === undefined) return [];
  const count = countOf(dashed);
  return [
    {
      messageId: 'dashed',
      severity: 'note',
      args: { elements: formatCount(count, 'element'), are: count > 1 ? 'are' : 'is' },
      location: inArtwork(facts, first.place),
      related: relatedPlaces(
        others.map((problem) => inArtwork(facts, problem.place)),
        'dashedPlace',
      ),
      subject: 'dashes',
    },
  ];
}

/** What kind of thing has no outline; null for problems that other rules judge. */
function nameOf(problem: Problem): string | null {
  if (problem.code === 'not-drawable') return String(problem.args['tag'] ?? 'element');
  if (problem.code === 'foreign-object') return 'foreignObject';
  if (problem.code === 'paint-server-stroke') return `stroke by ${String(problem.args['paint'] ?? 'gradient')}`;
  return null;
}
