/** An element as it stands in the file. */
export interface SvgNode {
  /** Local name for elements of SVG, else an empty string: foreign elements draw nothing. */
  tag: string;
  /** Name as written, with its prefix. */
  name: string;
  attributes: Readonly<Record<string, string>>;
  parent: SvgNode | null;
  children: SvgNode[];
  /** Own character data, kept for `style` and text elements only. */
  text: string;
  /** Offset of `<` and the offset behind the `>` of the opening tag. */
  start: number;
  end: number;
  /** Position in document order. */
  order: number;
}

/** `href` of an element: SVG 2's own, else the one of XLink. */
export function hrefOf(node: SvgNode): { attribute: string; href: string } | null {
  const plain = node.attributes['href'];
  if (plain !== undefined) return { attribute: 'href', href: plain.trim() };
  for (const attribute of Object.keys(node.attributes)) {
    if (attribute.endsWith(':href')) return { attribute, href: node.attributes[attribute]!.trim() };
  }
  return null;
}
