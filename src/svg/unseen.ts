import type { DrawingFrame } from './frames/frame.ts';
import { layersWith } from './frames/layers.ts';
import { IDENTITY } from './frames/matrix.ts';
import { useTarget } from './frames/use-target.ts';
import { leaveOut, type Unseen } from './left-out.ts';
import { ProblemLog } from './problem-log.ts';
import { countUsed, lengthContext, type SvgReading } from './reading.ts';
import { curvesOf } from './shapes/draw.ts';
import { SHAPES } from './shapes/shapes.ts';
import type { DeclaredStyle } from './style/cascade.ts';
import { computeStyle } from './style/computed-style.ts';
import { conditionsHold } from './style/conditions.ts';
import { parseOpacity } from './style/properties.ts';
import type { SvgNode } from './xml/svg-node.ts';

const GROUPS: ReadonlySet<string> = new Set(['g', 'a', 'switch', 'svg', 'symbol']);

/** What keeps an element and all that it holds from being seen; null when nothing does. */
export function hidesAll({ node }: DrawingFrame, declared: DeclaredStyle): Unseen | null {
  if (!conditionsHold(node)) return 'condition';
  if (declared.get('display')?.value.toLowerCase() === 'none') return 'display';
  return parseOpacity(declared.get('opacity')?.value ?? '1') === 0 ? 'opacity' : null;
}

/**
 * Takes down the shapes in an element that cannot be seen, each with what would select it: they are not drawn, and a program that
 * writes toolpaths may cut them all the same. What is wrong with them is not told, and where they lie is not worked out.
 */
export function leaveOutUnseen(reading: SvgReading, hidden: DrawingFrame): void {
  const quiet = { ...reading, log: new ProblemLog() };
  const open: Row[] = [{ frame: hidden, children: [hidden.node], next: 0 }];
  for (let row = open.at(-1); row; row = open.at(-1)) {
    const node = row.children[row.next++];
    if (!node) {
      open.pop();
      continue;
    }
    const frame = { ...row.frame, node };
    if (frame.uses && !countUsed(reading, node)) return;
    const inner = within(quiet, frame);
    if (inner) open.push({ ...inner, next: 0 });
  }
}

/** Elements still to be looked at, which share all but their node. */
interface Row {
  frame: DrawingFrame;
  children: readonly SvgNode[];
  next: number;
}

/** Leaves a shape out; of all else, what is to be looked at in its turn. */
function within(reading: SvgReading, frame: DrawingFrame): Omit<Row, 'next'> | null {
  const { node } = frame;
  const declared = reading.cascade.declared(node);
  const style = computeStyle(declared, frame.style, lengthContext(reading, frame.viewport, frame.style.fontSize));
  if (SHAPES.has(node.tag)) {
    const visit = { node, declared, style, frame, matrix: IDENTITY, clips: null, repeated: null };
    if (!curvesOf(reading, visit).curves.isEmpty) leaveOut(reading, visit, 'hidden');
    return null;
  }
  if (node.tag === 'use') {
    const found = useTarget(reading.document, frame);
    if (!found || !('node' in found)) return null;
    return { frame: { ...frame, style, uses: { target: found.node, outer: frame.uses } }, children: [found.node] };
  }
  if (!GROUPS.has(node.tag)) return null;
  const layers = node.tag === 'g' ? layersWith(node, frame.layers) : frame.layers;
  return { frame: { ...frame, style, layers }, children: node.children };
}
