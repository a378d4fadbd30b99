import { CRASH } from '../cautions.ts';
import { relatedPlaces } from '../places.ts';
import { defineRule } from '../rule.ts';
import { formatCount, quoted } from '../wording.ts';

export default defineRule({
  id: 'toolpath/inner-after-outer',
  summary: 'Holes and details are cut after the outline that sets their part free.',
  severity: 'warning',
  since: '0.1.0',
  reads: ['toolpath', 'sidecar'],
  searches: ['tasks'],
  messages: {
    late: '{inner} of task {task} {run} after the outline around {them} (line {line}). Cut inner contours first. The part is free by then and may have moved, dropped or tipped.',
    outer: 'this outline sets the part free first',
    place: 'cut too late as well',
  },
  example:
    '3 contours of task "divider" run after the outline around them (line 5). Cut inner contours first. The part is free by then and may have moved, dropped or tipped.',
  options: {},
  why: 'Once its outline is cut a part lies loose: it settles, tips or is blown aside by the air assist, and what is cut after that lands in the wrong place.',
  remedy:
    'Order the program from the inside out: engraving, inner contours, outlines. If bridges hold the part, waive the finding with that reason.',
  sources: ['Inner contours first: common practice, no source'],
  caution: CRASH,
  check(facts) {
    if (facts.order === null) return { notApplicable: 'the job has no toolpath' };
    const [first, ...others] = facts.order.innerAfterOuter;
    if (first === undefined) return [];
    const count = others.length + 1;
    return [
      {
        messageId: 'late',
        args: {
          inner: formatCount(count, 'contour'),
          task: quoted(first.inner.task),
          run: count === 1 ? 'runs' : 'run',
          them: count === 1 ? 'it' : 'them',
          line: first.outer.location.line,
        },
        location: first.inner.location,
        related: [
          ...relatedPlaces([first.outer.location], 'outer'),
          ...relatedPlaces(
            others.slice(0, 4).map((one) => one.inner.location),
            'place',
          ),
        ],
      },
    ];
  },
});
