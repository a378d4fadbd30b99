import type { SvgDocument } from '../xml/document.ts';
import { hrefOf, type SvgNode } from '../xml/svg-node.ts';
import type { DrawingFrame } from './frame.ts';

/** Where a `use` element leads: to an element, or why to none; `href` stands in the attribute named. */
export type UseTarget =
  | { node: SvgNode }
  | { fault: 'external-reference' | 'missing-reference' | 'circular-use'; href: string; attribute: string };

/** What a `use` element repeats; null when it names nothing. */
export function useTarget(document: SvgDocument, frame: DrawingFrame): UseTarget | null {
  const link = hrefOf(frame.node);
  if (!link || link.href === '') return null;
  if (!link.href.startsWith('#')) return { fault: 'external-reference', ...link };
  const node = document.byId(decoded(link.href.slice(1)));
  if (!node) return { fault: 'missing-reference', ...link };
  return isCircular(node, frame) ? { fault: 'circular-use', ...link } : { node };
}

function decoded(fragment: string): string {
  try {
    return decodeURIComponent(fragment);
  } catch {
    return fragment;
  }
}

function isCircular(target: SvgNode, frame: DrawingFrame): boolean {
  for (let outer: SvgNode | null = frame.node; outer; outer = outer.parent) if (outer === target) return true;
  for (let link = frame.uses; link; link = link.outer) if (link.target === target) return true;
  return false;
}
