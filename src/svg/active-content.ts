import type { SvgReading } from './reading.ts';
import type { SvgDocument } from './xml/document.ts';
import { hrefOf, type SvgNode } from './xml/svg-node.ts';

/** Elements that animate another (SVG Animations 2, and animateColor of SVG 1.1). */
const ANIMATIONS: ReadonlySet<string> = new Set([
  'animate',
  'animateTransform',
  'animateMotion',
  'animateColor',
  'set',
]);
const ACTIVE: ReadonlySet<string> = new Set([...ANIMATIONS, 'script', 'handler', 'iframe']);

/** Reports scripts, event handlers and animation anywhere in the file: drawn or not, they are no part of a cut. */
export function reportActiveContent(reading: Pick<SvgReading, 'document' | 'log'>): void {
  const { document, log } = reading;
  for (const node of document.nodes) {
    if (ACTIVE.has(node.tag)) log.add('active-content', () => document.placeOf(node), { what: node.tag });
    for (const name in node.attributes) {
      const value = node.attributes[name]!;
      if (/^on[a-z]+$/i.test(name)) {
        log.add('active-content', () => document.placeOfAttribute(node, name), { what: name });
      } else if ((name === 'href' || name.endsWith(':href')) && /^[\s\0]*javascript:/i.test(value)) {
        log.add('active-content', () => document.placeOfAttribute(node, name), { what: 'javascript:' });
      }
    }
  }
}

/** The elements that animation elements change: those that they name, else those that they stand in. */
export function animatedNodes(document: SvgDocument): ReadonlySet<SvgNode> {
  const animated = new Set<SvgNode>();
  for (const node of document.nodes) {
    if (!ANIMATIONS.has(node.tag)) continue;
    const href = hrefOf(node)?.href ?? '';
    const target = href.startsWith('#') ? document.byId(href.slice(1)) : node.parent;
    if (target) animated.add(target);
  }
  return animated;
}
