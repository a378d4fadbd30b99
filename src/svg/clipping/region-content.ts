import type { DrawingFrame } from '../frames/frame.ts';
import type { Matrix } from '../frames/matrix.ts';
import { multiply, translation } from '../frames/matrix.ts';
import { lengthContext, ownTransform, readLength, type SvgReading } from '../reading.ts';
import { curvesOf } from '../shapes/draw.ts';
import { flatten } from '../shapes/flatten.ts';
import { SHAPES } from '../shapes/shapes.ts';
import type { DeclaredStyle } from '../style/cascade.ts';
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

/** One item with what is declared on it, its own matrix and its own style. */
interface Entered extends Item {
  declared: DeclaredStyle;
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
  const style = inheritedStyle(reading, holder, frame);
  return new ContentWalk(reading, frame, kind).run({ node: holder, matrix, style, depth: 0 });
}

/** Goes through what a clipPath or mask holds, in paint order and without recursion. */
class ContentWalk {
  readonly #reading: SvgReading;
  readonly #frame: DrawingFrame;
  readonly #kind: RegionKind;
  readonly #open: Item[] = [];
  readonly #layers: RegionLayer[] = [];

  constructor(reading: SvgReading, frame: DrawingFrame, kind: RegionKind) {
    this.#reading = reading;
    this.#frame = frame;
    this.#kind = kind;
  }

  /** What the holder comes to; null when some of it is not known. */
  run(holder: Item): RegionLayer[] | null {
    const { clipWork } = this.#reading;
    this.#push(holder.node.children, holder);
    let count = 0;
    for (let item = this.#open.pop(); item; item = this.#open.pop()) {
      clipWork.left -= WORK_OF_ONE;
      if (++count > MOST_CONTENT || item.depth > 100 || clipWork.left < 0) {
        clipWork.gaveUp = true;
        return null;
      }
      if (!this.#isKnown(item)) return null;
    }
    return this.#layers;
  }

  #push(nodes: readonly SvgNode[], { matrix, style, depth }: Omit<Item, 'node'>): void {
    for (let i = nodes.length - 1; i >= 0; i--) this.#open.push({ node: nodes[i]!, matrix, style, depth });
  }

  /** Takes in one element; false when its area is not known. */
  #isKnown(item: Item): boolean {
    const { node } = item;
    if (UNKNOWN.has(node.tag)) return false;
    if ((!SHAPES.has(node.tag) && !GROUPS.has(node.tag)) || !conditionsHold(node)) return true;
    const declared = this.#reading.cascade.declared(node);
    if (declared.get('display')?.value.toLowerCase() === 'none') return true;
    if (parseOpacity(declared.get('opacity')?.value ?? '1') === 0 && this.#kind !== 'clip') return true;
    if (isSet(declared.get('clip-path')?.value) || isSet(declared.get('mask')?.value)) return false;
    const entered = this.#enter(item, declared);
    if (node.tag === 'use') return this.#use(entered);
    if (SHAPES.has(node.tag)) return this.#shape(entered);
    if (this.#kind !== 'clip') this.#push(node.children, entered);
    return true;
  }

  #enter({ node, matrix, style, depth }: Item, declared: DeclaredStyle): Entered {
    const reading = this.#reading;
    const { viewport } = this.#frame;
    const own = computeStyle(declared, style, lengthContext(reading, viewport, style.fontSize));
    const transform = ownTransform(reading, node, declared, lengthContext(reading, viewport, own.fontSize), () => null);
    return { node, declared, matrix: multiply(matrix, transform), style: own, depth: depth + 1 };
  }

  #use({ node, declared, matrix, style, depth }: Entered): boolean {
    const reading = this.#reading;
    const href = hrefOf(node)?.href ?? '';
    const target = href.startsWith('#') ? reading.document.byId(href.slice(1)) : null;
    if (target?.tag === 'symbol' || target?.tag === 'svg') return false;
    const context = lengthContext(reading, this.#frame.viewport, style.fontSize);
    const x = readLength(reading, node, declared, 'x', 'x', context) ?? 0;
    const y = readLength(reading, node, declared, 'y', 'y', context) ?? 0;
    if (target) this.#push([target], { matrix: multiply(matrix, translation(x, y)), style, depth });
    return true;
  }

  #shape(entered: Entered): boolean {
    const layer = layerOf(this.#reading, entered, this.#frame, this.#kind);
    if (layer === 'unknown') return false;
    if (layer) this.#layers.push(layer);
    return true;
  }
}

const GROUPS = new Set(['g', 'a', 'use', 'switch']);
const UNKNOWN = new Set(['text', 'image', 'foreignObject', 'svg']);

function isSet(value: string | undefined): boolean {
  return value !== undefined && value.toLowerCase() !== 'none';
}

function layerOf(
  reading: SvgReading,
  { node, declared, matrix, style }: Entered,
  frame: DrawingFrame,
  kind: RegionKind,
): RegionLayer | 'unknown' | null {
  if (!style.visible) return null;
  const { curves } = curvesOf(reading, { node, declared, style, frame });
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
