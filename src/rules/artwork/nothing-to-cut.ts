import { leftOutInWords } from '../../facts/artwork/left-out.ts';
import type { JobFacts } from '../../facts/facts.ts';
import { type Location, START_OF_FILE } from '../../facts/types.ts';
import { LEFT_OUT_KINDS } from '../../model/artwork.ts';
import { inArtwork } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatCount, listed } from '../wording.ts';

export default defineRule({
  id: 'artwork/nothing-to-cut',
  summary: 'The artwork has no outline at all that a beam could follow.',
  severity: 'error',
  since: '0.2.0',
  reads: ['artwork', 'sidecar'],
  searches: ['drawn-lines'],
  messages: {
    leftOut:
      'The artwork has no outline that a beam could follow; what it has instead is {instead}. Draw what is to be cut as paths with a stroke or a fill, or name the right file.',
    undrawn:
      'Nothing is drawn in the artwork; the file holds {elements} and no outline. Draw what is to be cut as paths with a stroke or a fill, or name the right file.',
    blank: 'The artwork is blank: the file holds no element at all. Export it again, or name the right file.',
  },
  forCustomers: { leftOut: [], undrawn: [], blank: [] },
  example:
    'The artwork has no outline that a beam could follow; what it has instead is 2 pieces of live text, 1 image. Draw what is to be cut as paths with a stroke or a fill, or name the right file.',
  options: {},
  why: 'A drawing from which nothing comes through is cut as nothing, and a check that found nothing wrong with nothing would be no answer. Mostly it is the wrong file, a page on which everything is text, an image or hidden, or shapes that stand in `defs` and that no `use` draws.',
  remedy:
    'Convert text to paths, show what is hidden, give shapes a stroke or a fill, and move them out of `defs`, `symbol`, `clipPath` and the like, where nothing is drawn. For an image that is only engraved, give all tasks the aim `surface`.',
  sources: ['SVG 2 §5, which elements are never rendered by themselves', 'Common practice, no source'],
  check(facts) {
    const { artwork } = facts;
    if (artwork === null) return { notApplicable: 'the job has no artwork' };
    if (artwork.outlines.length > 0) return [];
    if (!artwork.analysed) return { notApplicable: 'the artwork could not be read to its end' };
    const images = artwork.leftOut.some(({ kind }) => kind === 'image');
    const tasks = facts.tasks.filter(({ planned }) => planned !== null);
    if (images && tasks.length > 0 && tasks.every(({ aim }) => aim === 'surface')) {
      return { notApplicable: 'every task marks a surface, and the artwork holds images for them' };
    }
    return [{ ...whatInstead(facts), location: firstPlace(facts) }];
  },
});

/** What the file has in place of outlines: what a reader left out, else the elements that draw nothing. */
function whatInstead({ artwork }: JobFacts): { messageId: string; args: Record<string, string> } {
  const { leftOut, contents } = artwork!;
  const kinds = LEFT_OUT_KINDS.map((kind) => ({ kind, count: leftOut.filter((one) => one.kind === kind).length }));
  const instead = kinds.filter(({ count }) => count > 0).map(({ kind, count }) => leftOutInWords(kind, count));
  if (instead.length > 0) return { messageId: 'leftOut', args: { instead: instead.join(', ') } };
  if (contents.length === 0) return { messageId: 'blank', args: {} };
  const count = contents.reduce((sum, one) => sum + one.count, 0);
  const names = listed(contents.map(({ name }) => name));
  return { messageId: 'undrawn', args: { elements: `${formatCount(count, 'element')} (${names})` } };
}

function firstPlace(facts: JobFacts): Location {
  return inArtwork(facts, facts.artwork?.leftOut[0]?.place ?? START_OF_FILE);
}
