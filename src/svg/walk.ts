import type { Box } from '../geometry/outlines/outline.ts';
import { rectangleRegion, withOwnRegions } from './clipping/hiding.ts';
import type { DrawingFrame, Visit } from './frames/frame.ts';
import { layersWith } from './frames/layers.ts';
import { IDENTITY, multiply, scaling, translation, uniteBoxes } from './frames/matrix.ts';
import { viewportOf } from './frames/page.ts';
import type { ReferenceBox } from './frames/transform.ts';
import { useTarget } from './frames/use-target.ts';
import { leaveOut, reportHidden } from './left-out.ts';
import { quote } from './problem-log.ts';
import { countUsed, lengthContext, ownTransform, readLength, type SvgReading } from './reading.ts';
import { curvesOf, drawShape, POINTS_REPORTED } from './shapes/draw.ts';
import { measure } from './shapes/measure.ts';
import { SHAPES } from './shapes/shapes.ts';
import type { DeclaredStyle } from './style/cascade.ts';
import { computeStyle, INITIAL_STYLE } from './style/computed-style.ts';
import { conditionsHold } from './style/conditions.ts';
import { reportForeign, reportImage, reportText } from './undrawn.ts';
import { hidesAll, leaveOutUnseen } from './unseen.ts';
import { DEEPEST_NESTING } from './xml/read-document.ts';
import type { SvgNode } from './xml/svg-node.ts';

const GROUPS = new Set(['g', 'a', 'switch', 'svg', 'use']);
/** `flowRoot` is text of a draft of SVG 1.2 that came to nothing: browsers leave it out, some drawing programs write and draw it. */
const TEXTS = new Set(['text', 'flowRoot']);
const OTHERS = new Set([...TEXTS, 'image', 'foreignObject']);

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
      animated: false,
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
    if (frame.uses && !countUsed(reading, node)) {
      this.#open.length = 0;
      return;
    }
    const symbol = node.tag === 'symbol' && frame.given !== null;
    if (!GROUPS.has(node.tag) && !SHAPES.has(node.tag) && !OTHERS.has(node.tag) && !symbol) return;
    const declared = reading.cascade.declared(node);
    const unseen = hidesAll(frame, declared);
    if (unseen === null) this.#take(this.#visit(frame, declared));
    else if (this.#draws(node)) {
      reportHidden(reading, node, unseen);
      leaveOutUnseen(reading, frame);
    }
  }

  /** An element with its style, its place on the page, and what clips it. */
  #visit(frame: DrawingFrame, declared: DeclaredStyle): Visit {
    const reading = this.#reading;
    const { node } = frame;
    const context = lengthContext(reading, frame.viewport, frame.style.fontSize);
    const style = computeStyle(declared, frame.style, context);
    if (node.parent === null && frame.uses === null) reading.rootFontSize = style.fontSize;
    const ownContext = lengthContext(reading, frame.viewport, style.fontSize);
    const animated = frame.animated || isAnimated(reading, node, declared);
    const partial = { node, declared, style, frame: animated === frame.animated ? frame : { ...frame, animated } };
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
    if (SHAPES.has(tag)) {
      if (visit.frame.animated) leaveOut(reading, visit, 'animation');
      drawShape(reading, visit);
    } else if (TEXTS.has(tag)) reportText(reading, visit);
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

  #stop(code: 'too-many-points' | 'too-deep', node: SvgNode, limit: number): void {
    const { document, log } = this.#reading;
    log.add(code, () => document.placeOf(node), { limit });
    this.#reading.whole = false;
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
      // Where no condition holds, that is said of each.
      this.#push(visit, chosen ? [chosen] : node.children, {});
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
    const found = useTarget(document, frame);
    if (!found) return;
    if ('fault' in found) {
      const { fault, href, attribute } = found;
      const tag = fault === 'external-reference' ? { tag: node.name } : {};
      log.add(fault, () => document.placeOfAttribute(node, attribute), { href: quote(href), ...tag });
      if (fault === 'external-reference') leaveOut(reading, visit, 'reference');
      return;
    }
    const target = found.node;
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

/** Whether an animation of SVG or of CSS changes something of an element. */
function isAnimated(reading: SvgReading, node: SvgNode, declared: DeclaredStyle): boolean {
  if (reading.animated.has(node)) return true;
  const name = declared.get('animation-name')?.value.toLowerCase() ?? 'none';
  if (name === 'none') return false;
  reading.log.add('active-content', () => reading.document.placeOf(node), { what: 'animation' });
  return true;
}
