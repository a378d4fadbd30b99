import type { CDPSession, Page } from 'playwright-core';
import { ProblemLog } from '../../src/svg/problem-log.ts';
import { SHAPES } from '../../src/svg/shapes/shapes.ts';
import { readDocument } from '../../src/svg/xml/read-document.ts';

/** What the browser says of one shape element, also of those that a `use` brought in. */
export interface BrowserShape {
  /** Position of the element in the file, in document order. */
  order: number;
  tag: string;
  id: string;
  box: { x: number; y: number; width: number; height: number } | null;
  /** Where the box lies on the page. */
  landed: { x: number; y: number; width: number; height: number } | null;
  length: number | null;
  /** Null for what a `use` brought in. */
  matrix: number[] | null;
  stroke: string;
  /** Whether the gradient or pattern that the stroke names is in the file. */
  hasServer: boolean;
  /** Whether it paints anything: displayed, visible, with a stroke or a fill. */
  painted: boolean;
}

/** The file with every element numbered, so that copies made by `use` can be told. */
function numbered(text: string): string {
  const { nodes } = readDocument(text, new ProblemLog());
  let result = '';
  let from = 0;
  for (const node of nodes) {
    const at = node.start + 1 + node.name.length;
    result += `${text.slice(from, at)} data-order="${node.order}"`;
    from = at;
  }
  return result + text.slice(from);
}

/**
 * Runs in the page, on one shape element. Two things of Chromium's are worked around: `getScreenCTM` leaves out the x and y
 * of a `use` and the `viewBox` of a `symbol`, so that instances are compared by where their box lands; `getTotalLength`
 * measures small arcs by a few chords, so that round shapes are measured magnified.
 */
const LOOK = `function () {
  if (!(this instanceof SVGElement)) return null;
  const attempt = (read) => { try { return read(); } catch { return null; } };
  const style = getComputedStyle(this);
  const { stroke, fill, strokeWidth, strokeOpacity, fillOpacity } = style;
  const box = attempt(() => this.getBBox());
  const instance = this.getRootNode() !== document;
  const m = instance ? null : attempt(() => this.getScreenCTM());
  let length = attempt(() => this.getTotalLength());
  if (['circle', 'ellipse', 'rect'].includes(this.localName) && box && length) {
    const large = document.createElementNS('http://www.w3.org/2000/svg', this.localName);
    for (const name of ['r', 'rx', 'ry', 'width', 'height']) {
      if (this.hasAttribute(name) && this.getAttribute(name) !== 'auto' && this[name]) {
        large.setAttribute(name, this[name].baseVal.value * 1000);
      }
    }
    document.documentElement.append(large);
    const magnified = (attempt(() => large.getTotalLength()) ?? 0) / 1000;
    large.remove();
    if (Math.abs(magnified - length) < 0.112 * length) length = magnified;
  }
  const strokes = stroke !== 'none' && Number.parseFloat(strokeWidth) > 0 && strokeOpacity !== '0';
  const fills = fill !== 'none' && fillOpacity !== '0' && this.localName !== 'line';
  const laidOut = this.getClientRects().length > 0;
  const visible = this.checkVisibility({ visibilityProperty: true, opacityProperty: true });
  const target = /^url\\("#([^"]*)"\\)/.exec(stroke);
  this.style.setProperty('stroke', 'none', 'important');
  const r = this.getBoundingClientRect();
  this.style.removeProperty('stroke');
  return {
    box: box && { x: box.x, y: box.y, width: box.width, height: box.height },
    landed: laidOut ? { x: r.x, y: r.y, width: r.width, height: r.height } : null,
    length,
    matrix: m && [m.a, m.b, m.c, m.d, m.e, m.f],
    stroke,
    hasServer: target !== null && document.getElementById(target[1]) !== null,
    painted: laidOut && visible && (strokes || fills) && (['path', 'line', 'polyline', 'polygon'].includes(this.localName) ? r.width > 0 || r.height > 0 : r.width > 0 && r.height > 0),
  };
}`;

interface DomNode {
  nodeId: number;
  nodeType: number;
  localName: string;
  attributes?: string[];
  children?: DomNode[];
  shadowRoots?: DomNode[];
}

/** Shape elements in paint order, those in the shadow trees of `use` in their place. */
function shapesIn(root: DomNode): DomNode[] {
  const found: DomNode[] = [];
  const open = [root];
  for (let node = open.pop(); node; node = open.pop()) {
    if (SHAPES.has(node.localName)) found.push(node);
    const inner = [...(node.children ?? []), ...(node.shadowRoots ?? [])];
    // A symbol is drawn only as the copy that stands at the top of a shadow tree.
    const drawn = (child: DomNode): boolean =>
      !UNDRAWN.has(child.localName) && (child.localName !== 'symbol' || node?.nodeType === FRAGMENT);
    for (const child of inner.reverse()) if (drawn(child)) open.push(child);
  }
  return found;
}

const UNDRAWN = new Set(['defs', 'clipPath', 'mask', 'marker', 'pattern']);
const FRAGMENT = 11;

/** Loads a file as a document of its own, `width` × `height` px, and asks for every shape. */
export async function shapesInBrowser(
  page: Page,
  cdp: CDPSession,
  text: string,
  width: number,
  height: number,
): Promise<BrowserShape[]> {
  await page.setViewportSize({ width: Math.max(1, Math.round(width)), height: Math.max(1, Math.round(height)) });
  await page.goto('data:image/svg+xml;charset=utf-8;base64,' + Buffer.from(numbered(text)).toString('base64'), {
    waitUntil: 'domcontentloaded',
  });
  const size = `document.documentElement.setAttribute('width', ${width}); document.documentElement.setAttribute('height', ${height})`;
  await page.evaluate(size);
  const { root } = (await cdp.send('DOM.getDocument', { depth: -1, pierce: true })) as { root: DomNode };
  const shapes: BrowserShape[] = [];
  for (const node of shapesIn(root)) {
    const attributes = node.attributes ?? [];
    const value = (name: string): string => {
      for (let i = 0; i < attributes.length; i += 2) if (attributes[i] === name) return attributes[i + 1] ?? '';
      return '';
    };
    if (value('data-order') === '') continue;
    const { object } = await cdp.send('DOM.resolveNode', { nodeId: node.nodeId });
    const { result } = await cdp.send('Runtime.callFunctionOn', {
      objectId: object.objectId!,
      functionDeclaration: LOOK,
      returnByValue: true,
    });
    // An element of another namespace.
    if (result.value === null) continue;
    if (typeof result.value !== 'object') throw new Error(`the browser did not answer: ${result.description}`);
    const seen = result.value as Omit<BrowserShape, 'order' | 'tag' | 'id'>;
    shapes.push({ order: Number(value('data-order')), tag: node.localName, id: value('id'), ...seen });
  }
  return shapes;
}
