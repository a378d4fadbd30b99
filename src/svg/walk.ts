import type { Box } from '../geometry/outlines/outline.ts';
import { rectangleRegion, withOwnRegions } from './clipping/hiding.ts';
import type { DrawingFrame, Visit } from './frames/frame.ts';
import { layersWith } from './frames/layers.ts';
import { IDENTITY, multiply, scaling, translation, uniteBoxes } from './frames/matrix.ts';
import { viewportOf } from './frames/page.ts';
import type { ReferenceBox } from './frames/transform.ts';
import { leadsBack, useTarget } from './frames/use-target.ts';
import { leaveOut, reportHidden } from './left-out.ts';
import { quote } from './problem-log.ts';
import { countUsed, lengthContext, ownTransform, readLength, type SvgReading } from './reading.ts';
import type { Brought } from './repeated.ts';
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
    const repeated = frame.uses ? reading.repeated.of(node, frame) : null;
    if (repeated !== null) {
      const { declared, style } = repeated;
      const matrix = multiply(frame.matrix, repeated.own);
      this.#take({ node, declared, style, matrix, frame, clips: frame.clips, repeated });
      return;
    }
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
    const { told } = reading.log;
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
    const own = ownTransform(reading, node, declared, ownContext, box);
    const visit: Visit = {
      ...partial,
      matrix: multiply(frame.matrix, own),
      clips: frame.clips,
      repeated: null,
    };
    const clips = withOwnRegions(reading, visit, boundingBox);
    const isKept = frame.uses !== null && animated === frame.animated && reading.log.told === told;
    return { ...visit, clips, repeated: isKept ? reading.repeated.keep(node, frame, { declared, style, own }) : null };
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
    const { frame, style } = visit;
    if (frame.depth >= DEEPEST_NESTING) {
      if (children.length > 0) this.#stop('too-deep', visit.node, DEEPEST_NESTING);
      return;
    }
    // Written out, not spread: this is done for each element that a `use` brings in.
    const inner: DrawingFrame = {
      node: frame.node,
      matrix: over.matrix ?? visit.matrix,
      style,
      viewport: over.viewport ?? frame.viewport,
      layers: over.layers ?? frame.layers,
      clips: over.clips ?? visit.clips,
      uses: over.uses ?? frame.uses,
      depth: frame.depth + 1,
      animated: frame.animated,
      given: over.given ?? null,
    };
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
    if (node.tag !== 'g') {
      this.#push(visit, node.children, {});
      return;
    }
    const layers = visit.repeated?.layers ?? layersWith(node, frame.layers);
    if (visit.repeated) visit.repeated.layers = layers;
    this.#push(visit, node.children, { layers });
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
    const { frame, matrix, repeated } = visit;
    const known = repeated?.brought;
    const isKnown = known && !leadsBack(known.target, frame.node, frame.uses);
    const brought = isKnown ? known : this.#broughtBy(visit);
    if (!brought) return;
    const { target, move, given } = brought;
    this.#push(visit, [target], {
      matrix: multiply(matrix, move),
      uses: { target, outer: frame.uses },
      given,
    });
  }

  /** What a `use` element brings in; null, and said, where it leads nowhere. */
  #broughtBy(visit: Visit): Brought | null {
    const reading = this.#reading;
    const { document, log } = reading;
    const { node, declared, style, frame, repeated } = visit;
    const { told } = log;
    const found = useTarget(document, frame);
    if (!found) return null;
    if ('fault' in found) {
      const { fault, href, attribute } = found;
      const tag = fault === 'external-reference' ? { tag: node.name } : {};
      log.add(fault, () => document.placeOfAttribute(node, attribute), { href: quote(href), ...tag });
      if (fault === 'external-reference') leaveOut(reading, visit, 'reference');
      return null;
    }
    const context = lengthContext(reading, frame.viewport, style.fontSize);
    const x = readLength(reading, node, declared, 'x', 'x', context) ?? 0;
    const y = readLength(reading, node, declared, 'y', 'y', context) ?? 0;
    const sized = (side: 'width' | 'height'): string | null => {
      const value = declared.get(side)?.value;
      return value === undefined || value === 'auto' ? null : value;
    };
    const given = { width: sized('width'), height: sized('height') };
    const brought = { target: found.node, move: translation(x, y), given };
    if (repeated && log.told === told) repeated.brought = brought;
    return brought;
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
