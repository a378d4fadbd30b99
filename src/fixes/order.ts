import type { ContourFact } from '../facts/order/order-fact.ts';
import { formatCount } from '../units/format.ts';
import { isOpen, onLineOf } from './candidates.ts';
import { type Candidate, type FixContext, nothing, type Proposal, proposalOf } from './fix.ts';
import { linesOfPath, pathsOf, type StrokePath, strokesOfPath } from './paths.ts';

const RULE = 'toolpath/inner-after-outer';

interface OrderCandidate extends Candidate {
  /** First stroke of the outline around them. */
  outer: number;
  paths: StrokePath[];
}

/** Runs inner contours ahead of the outline around them. */
export function order(context: FixContext): Proposal {
  const { facts, toolpath, result } = context;
  const late = facts.order?.innerAfterOuter ?? [];
  const [first] = late;
  if (first === undefined || !isOpen(result, RULE)) return nothing();
  const why = whyNot(context);
  if (why !== null) {
    const what = `Run ${formatCount(late.length, 'inner contour')} ahead of the outline around`;
    return nothing([{ what, location: first.inner.location, why }]);
  }
  const { strokes } = toolpath;
  const groups = new Map<number, ContourFact[]>();
  const inners = new Set(late.map(({ inner }) => inner.strokes[0]!));
  for (const { inner, outer } of late) {
    const of = outer.strokes[0]!;
    // What is moved itself gets its own inner contours when it has found its place.
    if (!inners.has(of)) groups.set(of, [...(groups.get(of) ?? []), inner]);
  }
  const candidates = [...groups].map(([outer, contours]): OrderCandidate => {
    const chosen = contours
      .flatMap((contour) => [...contour.strokes])
      .filter((i) => i > outer)
      .sort((a, b) => a - b);
    const outline = onLineOf(context, strokes.line[outer]!);
    const count = formatCount(contours.length, 'inner contour');
    return {
      what: `Run ${count} ahead of the outline on line ${outline.line}`,
      location: onLineOf(context, strokes.line[chosen[0]!]!),
      outer,
      paths: pathsOf(strokes, chosen),
    };
  });
  return proposalOf(candidates, [], (chosen, editor) => {
    const moves = chosen.map(({ paths, outer }) => ({
      paths: paths.map((path) => linesOfPath(strokes, path)),
      of: strokes.line[outer]!,
    }));
    const edited = editor.pathsAhead(moves);
    return { edited, expected: { order: reordered(strokes.count, chosen), travels: 'others' }, mirrored: [] };
  });
}

/** What must hold for lines to keep their meaning elsewhere in the program. */
function whyNot({ toolpath }: FixContext): string | null {
  const { offsets, boundsMm } = toolpath;
  if (offsets.used.length > 0) return `the program moves or leaves its zero (${offsets.used.join(', ')})`;
  if (boundsMm !== null && (boundsMm.minZ !== 0 || boundsMm.maxZ !== 0)) return 'the program moves Z';
  return null;
}

function reordered(count: number, chosen: readonly OrderCandidate[]): number[] {
  const moved = new Set(chosen.flatMap(({ paths }) => paths.flatMap(strokesOfPath)));
  const ahead = new Map(chosen.map(({ outer, paths }) => [outer, paths.flatMap(strokesOfPath)]));
  const order: number[] = [];
  for (let i = 0; i < count; i++) {
    order.push(...(ahead.get(i) ?? []));
    if (!moved.has(i)) order.push(i);
  }
  return order;
}
