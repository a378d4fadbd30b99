import type { SvgNode } from '../xml/svg-node.ts';

/** Names that a group can be selected by: its id and its label in any namespace. */
export function layersWith(node: SvgNode, outer: readonly string[]): readonly string[] {
  const own: string[] = [];
  for (const name in node.attributes) {
    const value = node.attributes[name]!;
    if ((name === 'id' || name === 'label' || name.endsWith(':label')) && value !== '' && !own.includes(value))
      own.push(value);
  }
  return own.length > 0 ? [...own, ...outer] : outer;
}
