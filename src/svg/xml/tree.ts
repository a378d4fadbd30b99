import { type ElementNode, parse, type TextNode } from 'svg-parser';
import { replaceSpans } from './spans.ts';
import type { SvgNode } from './svg-node.ts';

/** Beyond this many UTF-16 units the tree parser, which goes character by character, is left out: it would only repeat. */
const LONGEST_FOR_TREE = 4_000_000;

/**
 * Hangs the elements that the tokenizer found, in document order, into the tree that svg-parser finds in the same text.
 * The parser's tree is taken only when both agree on every name in pre-order; else the tokenizer's own nesting stands.
 */
export function alignWithTree(source: string, nodes: SvgNode[]): boolean {
  const root = nodes[0]!;
  if (source.length - root.start > LONGEST_FOR_TREE) return false;
  const tree = parsed(blankInstructions(source.slice(root.start)));
  if (!tree) return false;
  const children: SvgNode[][] = nodes.map(() => []);
  const open: { element: ElementNode; parent: number }[] = [{ element: tree, parent: -1 }];
  let order = 0;
  for (let next = open.pop(); next; next = open.pop()) {
    const node = nodes[order];
    if (!node || node.name !== next.element.tagName) return false;
    if (next.parent >= 0) children[next.parent]!.push(node);
    for (let i = next.element.children.length - 1; i >= 0; i--) {
      const child = next.element.children[i]!;
      if (isElement(child)) open.push({ element: child, parent: order });
    }
    order++;
  }
  if (order !== nodes.length) return false;
  for (const [i, own] of children.entries()) {
    const node = nodes[i]!;
    node.children = own;
    for (const child of own) child.parent = node;
  }
  return true;
}

function isElement(child: ElementNode | TextNode | string): child is ElementNode {
  return typeof child !== 'string' && child.type === 'element';
}

function parsed(source: string): ElementNode | null {
  try {
    const first = parse(source).children[0];
    return first && isElement(first) ? first : null;
  } catch {
    // It refuses some well-formed files (`<` in a style sheet, names outside ASCII); the tokenizer has read them already.
    return null;
  }
}

/** The parser takes processing instructions inside the root for text or elements. */
function blankInstructions(source: string): string {
  return replaceSpans(source, '<?', '?>', (found) => ' '.repeat(found.length));
}
