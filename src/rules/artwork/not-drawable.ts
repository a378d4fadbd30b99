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
    painted:
      '{elements} {are} drawn with a stroke that is painted by a gradient or a pattern ({what}) and {have} no one colour. Give {them} a plain colour. No task can select {them} by its stroke; the line itself is judged as drawn.',
    image:
      '{images} of the artwork {have} no outline, and what the beam makes of {them} is not judged here. If something in {them} is to be cut, draw it as paths.',
    place: 'left out as well',
    dashedPlace: 'dashed as well',
    paintedPlace: 'painted by a gradient or a pattern as well',
    imagePlace: 'an image as well',
  },
  forCustomers: { left: [], dashed: [], painted: [], image: [] },
  example:
    '3 elements of the artwork have no outline that a beam could follow ("marker", "pattern", "foreignObject") and were left out. Convert them to paths, or take them out.',
  options: {},
  why: 'Markers, the lines of a pattern and embedded documents look like lines on the screen and reach the machine as something else or not at all. What was left out was not checked either: where a task that parts the sheet would take it, the job is incomplete. A marker counts as part of the line that bears it, which may have no stroke of its own: SVG draws it, and a program that honours markers cuts it. Dashes are a note: no machine cuts the gaps of a painted line, so the whole line is judged. So are images.',
  remedy: 'Convert markers and patterns to paths and give strokes a plain colour.',
  sources: [
    'SVG 2 §13.7 (markers are drawn whatever the stroke of their line), §14 (paint servers), §12 (foreignObject)',
    'Common practice, no source',
  ],
  check(facts) {
    if (facts.artwork === null) return { notApplicable: 'the job has no artwork' };
    return [...leftOut(facts), ...dashedStrokes(facts), ...paintedStrokes(facts), ...images(facts)];
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

function paintedStrokes(facts: JobFacts): ReportDescriptor[] {
  const painted = artworkProblems(facts).filter((problem) => problem.code === 'paint-server-stroke');
  const [first, ...others] = painted;
  if (first === undefined) return [];
  const count = countOf(painted);
  const many = count > 1;
  return [
    {
      messageId: 'painted',
      args: {
        elements: formatCount(count, 'element'),
        are: many ? 'are' : 'is',
        have: many ? 'have' : 'has',
        them: many ? 'them' : 'it',
        what: listed([...new Set(painted.map((problem) => String(problem.args['paint'] ?? '')))]),
      },
      location: inArtwork(facts, first.place),
      related: relatedPlaces(
        others.map((problem) => inArtwork(facts, problem.place)),
        'paintedPlace',
      ),
      subject: 'paint',
    },
  ];
}

function images(facts: JobFacts): ReportDescriptor[] {
  const embedded = artworkProblems(facts).filter((problem) => problem.code === 'image-embedded');
  const [first, ...others] = embedded;
  if (first === undefined) return [];
  const count = countOf(embedded);
  const many = count > 1;
  return [
    {
      messageId: 'image',
      severity: 'note',
      args: {
        images: formatCount(count, 'image'),
        have: many ? 'have' : 'has',
        them: many ? 'them' : 'it',
      },
      location: inArtwork(facts, first.place),
      related: relatedPlaces(
        others.map((problem) => inArtwork(facts, problem.place)),
        'imagePlace',
      ),
      subject: 'images',
    },
  ];
}

/** What kind of thing has no outline; null for problems that other rules judge. */
function nameOf(problem: Problem): string | null {
  if (problem.code === 'not-drawable') return String(problem.args['tag'] ?? 'element');
  if (problem.code === 'foreign-object') return 'foreignObject';
  return null;
}
