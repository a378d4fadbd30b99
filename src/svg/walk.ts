import type { Box } from '../geometry/outlines/outline.ts';
import { rectangleRegion, withOwnRegions } from './clipping/hiding.ts';
import type { DrawingFrame, Visit } from './frames/frame.ts';
import { IDENTITY, multiply, scaling, translation, uniteBoxes } from './frames/matrix.ts';
import { viewportOf } from './frames/page.ts';
import type { ReferenceBox } from './frames/transform.ts';
import { quote } from './problem-log.ts';
import { lengthContext, ownTransform, readLength, type SvgReading } from './reading.ts';
import { curvesOf, drawShape, hidden, POINTS_REPORTED } from './shapes/draw.ts';
import { measure } from './shapes/measure.ts';
import { SHAPES } from './shapes/shapes.ts';
import type { DeclaredStyle } from './style/cascade.ts';
import { computeStyle, INITIAL_STYLE } from './style/computed-style.ts';
import { conditionsHold } from './style/conditions.ts';
import { parseOpacity } from './style/properties.ts';
import { reportForeign, reportImage, reportText } from './undrawn.ts';
import { DEEPEST_NESTING } from './xml/read-document.ts';
import { hrefOf, type SvgNode } from './xml/svg-node.ts';

/** Most elements that all `use` elements of a file may bring in. */
const MOST_USED = 100_000;

const GROUPS = new Set(['g', 'a', 'switch', 'svg', 'use']);
const OTHERS = new Set(['text', 'image', 'foreignObject']);

/** Elements still to be taken, which share all but their node. */
interface Row {
  frame: DrawingFrame;
  children: readonly SvgNode[];
  next: number;
}

/** Goes through the drawing in paint order, without recursion, and takes in what is drawn. */
export class ElementWalk {
  readonly #reading: SvgReading;
  readonly #open: Row[] = [];
  #used = 0;
  readonly #drawing = new Map<SvgNode, boolean>();

  constructor(reading: SvgReading) {
    this.#reading = reading;
  }

  run(root: SvgNode): void {
    const reading = this.#reading;
    const { page } = reading;
    const frame = {
      node: root,
      matrix: scaling(page.mmPerPx, page.mmPerPx),
      style: INITIAL_STYLE,
      viewport: { width: page.widthPx, height: page.heightPx },
      layers: [],
      clips: null,
      uses: null,
      depth: 0,
      given: null,
    };
    this.#open.push({ frame, children: [root], next: 0 });
    for (let row = this.#open.at(-1); row; row = this.#open.at(-1)) {
      const node = row.children[row.next++];
      if (!node) this.#open.pop();
      else if (reading.pointsLeft > 0) this.#enter({ ...row.frame, node });
      else {
        if (reading.pointsLeft !== POINTS_REPORTED) this.#stop('too-many-points', node, reading.pointsLimit);
        return;
      }
    }
  }

  #enter(frame: DrawingFrame): void {
    const reading = this.#reading;
    const { node } = frame;
    if (frame.uses && ++this.#used > MOST_USED) {
      this.#stop('too-many-elements', node, MOST_USED);
      return;
    }
    const symbol = node.tag === 'symbol' && frame.given !== null;
    if (!GROUPS.has(node.tag) && !SHAPES.has(node.tag) && !OTHERS.has(node.tag) && !symbol) return;
    if (!conditionsHold(node)) return;
    const declared = reading.cascade.declared(node);
    const unseen = hidesAll(declared);
    if (unseen === null) this.#take(this.#visit(frame, declared));
    else if (this.#draws(node)) hidden(reading, node, unseen);
  }

  /** An element with its style, its place on the page, and what clips it. */
  #visit(frame: DrawingFrame, declared: DeclaredStyle): Visit {
    const reading = this.#reading;
    const { node } = frame;
    const context = lengthContext(reading, frame.viewport, frame.style.fontSize);
    const style = computeStyle(declared, frame.style, context);
    if (node.parent === null && frame.uses === null) reading.rootFontSize = style.fontSize;
    const ownContext = lengthContext(reading, frame.viewport, style.fontSize);
    const partial = { node, declared, style, frame };
    const boundingBox = () => (SHAPES.has(node.tag) ? this.#boundingBox(partial) : null);
    const box = (): ReferenceBox | null => {
      const own = boundingBox();
      return own && { x: own.minX, y: own.minY, width: own.maxX - own.minX, height: own.maxY - own.minY };
    };
    const matrix = multiply(frame.matrix, ownTransform(reading, node, declared, ownContext, box));
    const visit: Visit = { ...partial, matrix, clips: frame.clips };
    return { ...visit, clips: withOwnRegions(reading, visit, boundingBox) };
  }

  #take(visit: Visit): void {
    const reading = this.#reading;
    const { tag } = visit.node;
    if (SHAPES.has(tag)) drawShape(reading, visit);
    else if (tag === 'text') reportText(reading, visit);
    else if (tag === 'image') reportImage(reading, visit);
    else if (tag === 'foreignObject') reportForeign(reading, visit);
    else if (tag === 'use') this.#use(visit);
    else if (tag === 'svg' || tag === 'symbol') this.#viewport(visit);
    else this.#group(visit);
  }

  /** Whether an element is, or holds, something that would be drawn. */
  #draws(node: SvgNode): boolean {
    let answer = this.#drawing.get(node);
    if (answer !== undefined) return answer;
    answer = false;
    const open = [node];
    for (let next = open.pop(); next && !answer; next = open.pop()) {
      answer = SHAPES.has(next.tag) || OTHERS.has(next.tag) || next.tag === 'use';
      if (GROUPS.has(next.tag)) for (const child of next.children) open.push(child);
    }
    this.#drawing.set(node, answer);
    return answer;
  }

  #boundingBox(visit: Pick<Visit, 'node' | 'declared' | 'style' | 'frame'>): Box | null {
    const { curves } = curvesOf(this.#reading, visit);
    this.#reading.pointsLeft = Math.max(0, this.#reading.pointsLeft - curves.steps.length);
    return uniteBoxes(measure(curves, IDENTITY).map((m) => m.box));
  }

  #stop(code: 'too-many-elements' | 'too-many-points' | 'too-deep', node: SvgNode, limit: number): void {
    const { document, log } = this.#reading;
    log.add(code, () => document.placeOf(node), { limit });
    this.#reading.whole = false;
    if (code === 'too-many-elements') this.#open.length = 0;
  }

  /** Has children taken next, in document order. */
  #push(visit: Visit, children: readonly SvgNode[], over: Partial<DrawingFrame>): void {
    const { frame, style, matrix, clips } = visit;
    if (frame.depth >= DEEPEST_NESTING) {
      if (children.length > 0) this.#stop('too-deep', visit.node, DEEPEST_NESTING);
      return;
    }
    const inner = { ...frame, style, matrix, clips, given: null, depth: frame.depth + 1, ...over };
    this.#open.push({ frame: inner, children, next: 0 });
  }

  #group(visit: Visit): void {
    const { node, frame } = visit;
    if (node.tag === 'switch') {
      const chosen = node.children.find((child) => child.tag !== '' && conditionsHold(child));
      this.#push(visit, chosen ? [chosen] : [], {});
      return;
    }
    this.#push(visit, node.children, node.tag === 'g' ? { layers: layersWith(node, frame.layers) } : {});
  }

  #viewport(visit: Visit): void {
    const reading = this.#reading;
    const { node, declared, frame, style, matrix } = visit;
    const context = lengthContext(reading, frame.viewport, style.fontSize);
    const outermost = node.parent === null && frame.uses === null;
    const length = (name: string, axis: 'x' | 'y'): number | null =>
      readLength(reading, node, declared, name, axis, context);
    const { page } = reading;
    const at = outermost
      ? { x: 0, y: 0, width: page.widthPx, height: page.heightPx }
      : {
          x: length('x', 'x') ?? 0,
          y: length('y', 'y') ?? 0,
          width: this.#given(visit, 'width') ?? length('width', 'x') ?? frame.viewport.width,
          height: this.#given(visit, 'height') ?? length('height', 'y') ?? frame.viewport.height,
        };
    const inner = viewportOf(reading.document, node, at, reading.log);
    if (!inner) return;
    const overflow = declared.get('overflow')?.value.toLowerCase();
    const { x, y, width, height } = at;
    // What lies outside the page itself is kept: a machine would cut it, and a person should see it.
    const clips =
      outermost || overflow === 'visible' || overflow === 'auto'
        ? visit.clips
        : {
            region: rectangleRegion(matrix, { minX: x, minY: y, maxX: x + width, maxY: y + height }),
            outer: visit.clips,
          };
    this.#push(visit, node.children, {
      clips,
      matrix: multiply(matrix, inner.matrix),
      viewport: { width: inner.width, height: inner.height },
    });
  }

  /** A width or height that the `use` element gives to what it refers to. */
  #given(visit: Visit, side: 'width' | 'height'): number | null {
    const text = visit.frame.given?.[side];
    if (text === null || text === undefined) return null;
    const context = lengthContext(this.#reading, visit.frame.viewport, visit.style.fontSize);
    const declared = new Map([[side, { value: text, css: false }]]);
    return readLength(this.#reading, visit.node, declared, side, side === 'width' ? 'x' : 'y', context);
  }

  #use(visit: Visit): void {
    const reading = this.#reading;
    const { document, log } = reading;
    const { node, declared, style, frame, matrix } = visit;
    const link = hrefOf(node);
    if (!link || link.href === '') return;
    const place = () => document.placeOfAttribute(node, link.attribute);
    if (!link.href.startsWith('#')) {
      log.add('external-reference', place, { href: quote(link.href), tag: node.name });
      return;
    }
    const target = document.byId(decoded(link.href.slice(1)));
    if (!target) {
      log.add('missing-reference', place, { href: quote(link.href) });
      return;
    }
    if (isCircular(node, target, frame)) {
      log.add('circular-use', place, { href: quote(link.href) });
      return;
    }
    const context = lengthContext(reading, frame.viewport, style.fontSize);
    const x = readLength(reading, node, declared, 'x', 'x', context) ?? 0;
    const y = readLength(reading, node, declared, 'y', 'y', context) ?? 0;
    const sized = (side: 'width' | 'height'): string | null => {
      const value = declared.get(side)?.value;
      return value === undefined || value === 'auto' ? null : value;
    };
    this.#push(visit, [target], {
      matrix: multiply(matrix, translation(x, y)),
      uses: { target, outer: frame.uses },
      given: { width: sized('width'), height: sized('height') },
    });
  }
}

/** What keeps an element and all that it holds from being seen; null when neither does. */
function hidesAll(declared: DeclaredStyle): 'display' | 'opacity' | null {
  if (declared.get('display')?.value.toLowerCase() === 'none') return 'display';
  return parseOpacity(declared.get('opacity')?.value ?? '1') === 0 ? 'opacity' : null;
}

function decoded(fragment: string): string {
  try {
    return decodeURIComponent(fragment);
  } catch {
    return fragment;
  }
}

function isCircular(node: SvgNode, target: SvgNode, frame: DrawingFrame): boolean {
  for (let outer: SvgNode | null = node; outer; outer = outer.parent) if (outer === target) return true;
  for (let link = frame.uses; link; link = link.outer) if (link.target === target) return true;
  return false;
}

/** Names that a group can be selected by: its id and its label in any namespace. */
function layersWith(node: SvgNode, outer: readonly string[]): readonly string[] {
  const own: string[] = [];
  for (const name in node.attributes) {
    const value = node.attributes[name]!;
    if ((name === 'id' || name === 'label' || name.endsWith(':label')) && value !== '' && !own.includes(value))
      own.push(value);
  }
  return own.length > 0 ? [...own, ...outer] : outer;
}
