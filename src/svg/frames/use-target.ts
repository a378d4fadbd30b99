import type { SvgDocument } from '../xml/document.ts';
import { hrefOf, type SvgNode } from '../xml/svg-node.ts';
import type { DrawingFrame, UseChain } from './frame.ts';

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
  return leadsBack(node, frame.node, frame.uses) ? { fault: 'circular-use', ...link } : { node };
}

function decoded(fragment: string): string {
  try {
    return decodeURIComponent(fragment);
  } catch {
    return fragment;
  }
}

/** Whether an element is among the targets of the `use` elements that led here, or holds the `use` itself. */
export function leadsBack(target: SvgNode, node: SvgNode, uses: UseChain | null): boolean {
  for (let outer: SvgNode | null = node; outer; outer = outer.parent) if (outer === target) return true;
  for (let link = uses; link; link = link.outer) if (link.target === target) return true;
  return false;
}
