import type { DrawingFrame } from '../frames/frame.ts';
import type { Matrix } from '../frames/matrix.ts';
import { multiply, translation } from '../frames/matrix.ts';
import { lengthContext, ownTransform, readLength, type SvgReading } from '../reading.ts';
import { curvesOf } from '../shapes/draw.ts';
import { flatten } from '../shapes/flatten.ts';
import { SHAPES } from '../shapes/shapes.ts';
import { type ComputedStyle, computeStyle, INITIAL_STYLE } from '../style/computed-style.ts';
import { conditionsHold } from '../style/conditions.ts';
import { resolvePaint } from '../style/paint.ts';
import { parseOpacity } from '../style/properties.ts';
import { hrefOf, type SvgNode } from '../xml/svg-node.ts';
import type { RegionLayer } from './clip-region.ts';

/** Elements that one clipPath or mask may hold, with what its `use` elements bring in. */
const MOST_CONTENT = 20_000;

/** What one of them counts against the file's budget of clipping. */
const WORK_OF_ONE = 500;

/** How a region is made from what it holds: a clipPath by shape alone, a mask by how bright its fills are. */
export type RegionKind = 'clip' | 'luminance' | 'alpha';

interface Item {
  node: SvgNode;
  matrix: Matrix;
  style: ComputedStyle;
  depth: number;
}

/**
 * The shapes that a clipPath or mask is made of, in paint order and in mm; null when it holds something whose area is not
 * known here (text, images, gradients, strokes, clips of its own).
 */
export function contentOf(
  reading: SvgReading,
  holder: SvgNode,
  matrix: Matrix,
  frame: DrawingFrame,
  kind: RegionKind,
): RegionLayer[] | null {
  const layers: RegionLayer[] = [];
  const style = inheritedStyle(reading, holder, frame);
  const open: Item[] = [];
  const push = (nodes: readonly SvgNode[], inner: Matrix, own: ComputedStyle, depth: number): void => {
    for (let i = nodes.length - 1; i >= 0; i--) open.push({ node: nodes[i]!, matrix: inner, style: own, depth });
  };
  push(holder.children, matrix, style, 0);
  let count = 0;
  for (let item = open.pop(); item; item = open.pop()) {
    reading.clipWork.left -= WORK_OF_ONE;
    if (++count > MOST_CONTENT || item.depth > 100 || reading.clipWork.left < 0) {
      reading.clipWork.gaveUp = true;
      return null;
    }
    const { node } = item;
    if (UNKNOWN.has(node.tag)) return null;
    if ((!SHAPES.has(node.tag) && !GROUPS.has(node.tag)) || !conditionsHold(node)) continue;
    const declared = reading.cascade.declared(node);
    if (declared.get('display')?.value.toLowerCase() === 'none') continue;
    if (parseOpacity(declared.get('opacity')?.value ?? '1') === 0 && kind !== 'clip') continue;
    if (isSet(declared.get('clip-path')?.value) || isSet(declared.get('mask')?.value)) return null;
    const context = lengthContext(reading, frame.viewport, item.style.fontSize);
    const own = computeStyle(declared, item.style, context);
    const ownContext = lengthContext(reading, frame.viewport, own.fontSize);
    const inner = multiply(
      item.matrix,
      ownTransform(reading, node, declared, ownContext, () => null),
    );
    if (node.tag === 'use') {
      const href = hrefOf(node)?.href ?? '';
      const target = href.startsWith('#') ? reading.document.byId(href.slice(1)) : null;
      if (target?.tag === 'symbol' || target?.tag === 'svg') return null;
      const x = readLength(reading, node, declared, 'x', 'x', context) ?? 0;
      const y = readLength(reading, node, declared, 'y', 'y', context) ?? 0;
      if (target) push([target], multiply(inner, translation(x, y)), own, item.depth + 1);
    } else if (!SHAPES.has(node.tag)) {
      if (kind !== 'clip') push(node.children, inner, own, item.depth + 1);
    } else {
      const layer = layerOf(reading, { ...item, matrix: inner, style: own }, frame, kind);
      if (layer === 'unknown') return null;
      if (layer) layers.push(layer);
    }
  }
  return layers;
}

const GROUPS = new Set(['g', 'a', 'use', 'switch']);
const UNKNOWN = new Set(['text', 'image', 'foreignObject', 'svg']);

function isSet(value: string | undefined): boolean {
  return value !== undefined && value.toLowerCase() !== 'none';
}

function layerOf(
  reading: SvgReading,
  item: Item,
  frame: DrawingFrame,
  kind: RegionKind,
): RegionLayer | 'unknown' | null {
  const { node, matrix, style } = item;
  if (!style.visible) return null;
  const { curves } = curvesOf(reading, { node, declared: reading.cascade.declared(node), style, frame });
  if (curves.isEmpty) return null;
  let shows = true;
  if (kind !== 'clip') {
    const fill = resolvePaint(style.fill, style, style.fillOpacity, reading.document);
    const stroke = resolvePaint(style.stroke, style, style.strokeOpacity, reading.document);
    if (fill.server || stroke.value !== null) return 'unknown';
    if (fill.value === null) return null;
    shows = kind === 'alpha' || fill.value !== '#000000';
  }
  const { polylines, ranOut } = flatten(curves, matrix, reading.toleranceMm, reading.pointsLeft);
  if (ranOut) return 'unknown';
  for (const { xy } of polylines) reading.pointsLeft -= xy.length / 2;
  return { contours: polylines, rule: kind === 'clip' ? style.clipRule : style.fillRule, shows };
}

/** A clipPath or mask inherits from where it stands, not from what it is applied to. */
function inheritedStyle(reading: SvgReading, holder: SvgNode, frame: DrawingFrame): ComputedStyle {
  const line: SvgNode[] = [];
  for (let node: SvgNode | null = holder; node; node = node.parent) line.push(node);
  reading.clipWork.left -= line.length * WORK_OF_ONE;
  let style = INITIAL_STYLE;
  for (const node of line.reverse()) {
    style = computeStyle(reading.cascade.declared(node), style, lengthContext(reading, frame.viewport, style.fontSize));
  }
  return style;
}
