import type { JobFacts } from '../../facts/facts.ts';
import type { Problem } from '../../facts/types.ts';
import type { ReportDescriptor } from '../../findings/report-descriptor.ts';
import { artworkProblems, countOf, inArtwork, relatedPlaces } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatCount } from '../wording.ts';

/** What keeps an element from being seen, in words. */
const WHY: Record<string, string> = {
  display: 'display none',
  visibility: 'visibility hidden',
  opacity: 'opacity 0',
  clip: 'a clip path',
  mask: 'a mask',
  'no-paint': 'neither stroke nor fill',
  condition: 'a condition such as another language',
};

export default defineRule({
  id: 'artwork/hidden-geometry',
  summary: 'The artwork holds shapes that cannot be seen; other programs may cut them all the same.',
  severity: 'note',
  since: '0.1.0',
  reads: ['artwork'],
  messages: {
    hidden:
      '{elements} of the artwork {are} hidden{inPart} ({why}) and {were} left out here. Delete what is not meant to be cut. The program that writes the toolpath may cut {them} all the same.',
    unclipped:
      '{elements} of the artwork {are} clipped or masked by what has no shape here and {were} judged whole. Apply the clip to the geometry before export. Less may be cut than was judged: text, an image, a gradient or a clip of its own shapes nothing here.',
    place: 'hidden as well',
    unclippedPlace: 'clipped by what has no shape here as well',
  },
  example:
    '3 elements of the artwork are hidden (display none, visibility hidden) and were left out here. Delete what is not meant to be cut. The program that writes the toolpath may cut them all the same.',
  options: {},
  why: 'Some programs export hidden layers, ignore clip paths and masks, or cut shapes without a stroke: then the machine cuts what nobody saw on the screen. Where a task that parts the sheet would take what is hidden and there is no toolpath to show what became of it, the job is incomplete.',
  remedy: 'Keep drafts in a file of their own, and apply clips to the geometry before export.',
  sources: ['What SVG 2 does not render', 'That programs differ in what they cut of it: common practice, no source'],
  check(facts) {
    if (facts.artwork === null) return { notApplicable: 'the job has no artwork' };
    const problems = artworkProblems(facts).filter((problem) => problem.code === 'hidden');
    const isHidden = (problem: Problem) => problem.args['part'] !== 'unknown';
    return [
      ...hiddenIn(facts, problems.filter(isHidden)),
      ...unclippedIn(
        facts,
        problems.filter((one) => !isHidden(one)),
      ),
    ];
  },
});

function unclippedIn(facts: JobFacts, [first, ...others]: Problem[]): ReportDescriptor[] {
  if (first === undefined) return [];
  const count = countOf([first, ...others]);
  return [
    {
      messageId: 'unclipped',
      args: {
        elements: formatCount(count, 'element'),
        are: count > 1 ? 'are' : 'is',
        were: count > 1 ? 'were' : 'was',
      },
      location: inArtwork(facts, first.place),
      related: relatedPlaces(
        others.map((problem) => inArtwork(facts, problem.place)),
        'unclippedPlace',
      ),
      subject: 'unclipped',
    },
  ];
}

function hiddenIn(facts: JobFacts, hidden: Problem[]): ReportDescriptor[] {
  const [first, ...others] = hidden;
  if (first === undefined) return [];
  const count = countOf(hidden);
  const reasons = new Set(hidden.map((problem) => WHY[String(problem.args['why'] ?? '')] ?? 'not rendered'));
  const many = count > 1;
  return [
    {
      messageId: 'hidden',
      args: {
        elements: formatCount(count, 'element'),
        are: many ? 'are' : 'is',
        were: many ? 'were' : 'was',
        inPart: hidden.some((problem) => problem.args['part'] === 'part') ? ' in whole or in part' : '',
        them: many ? 'them' : 'it',
        why: [...reasons].join(', '),
      },
      location: inArtwork(facts, first.place),
      related: relatedPlaces(
        others.map((problem) => inArtwork(facts, problem.place)),
        'place',
      ),
    },
  ];
}
