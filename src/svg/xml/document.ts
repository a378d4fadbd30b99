import type { Place } from '../../source/place.ts';
import { LineTable } from '../../source/text.ts';
import type { SvgNode } from './svg-node.ts';

/** The elements of a file with everything that is needed to point at them. */
export class SvgDocument {
  readonly source: string;
  readonly root: SvgNode | null;
  readonly nodes: SvgNode[];
  /** False when the file broke off or lost elements. */
  readonly whole: boolean;
  #lines: LineTable | null = null;
  #ids: Map<string, SvgNode> | null = null;

  constructor(source: string, nodes: SvgNode[], whole: boolean) {
    this.source = source;
    this.nodes = nodes;
    this.root = nodes[0] ?? null;
    this.whole = whole;
  }

  place(start: number, end: number): Place {
    this.#lines ??= new LineTable(this.source);
    return this.#lines.place(start, end);
  }

  placeOf(node: SvgNode): Place {
    return this.place(node.start, node.end);
  }

  /** Where a stretch of an element's own text stands; the element itself where the text was written with references. */
  placeInText(node: SvgNode, offset: number): Place {
    const text = node.text.trim();
    const start = this.source.indexOf(text, node.end);
    if (text === '' || start < 0) return this.placeOf(node);
    const at = start + Math.max(0, offset - node.text.indexOf(text));
    return this.place(at, at + 1);
  }

  /** The first element with this id, as references find it. */
  byId(id: string): SvgNode | null {
    if (!this.#ids) {
      this.#ids = new Map();
      for (const node of this.nodes) {
        const own = node.attributes['id'];
        if (own !== undefined && own !== '' && !this.#ids.has(own)) this.#ids.set(own, node);
      }
    }
    return this.#ids.get(id) ?? null;
  }

  /**
   * Where an attribute's value stands; with `from`, from that offset of the value on (references such as `&#65;` and
   * line ends of two characters count as the one character that they stand for).
   */
  placeOfAttribute(node: SvgNode, attribute: string, from?: number): Place {
    const tag = this.source.slice(node.start, node.end);
    const pattern = /\s([^\s=<>/"']+)\s*=\s*(?:"([^"]*)"|'([^']*)')/g;
    for (let found = pattern.exec(tag); found; found = pattern.exec(tag)) {
      if (found[1] !== attribute) continue;
      const value = found[2] ?? found[3] ?? '';
      const start = node.start + found.index + found[0].length - 1 - value.length;
      if (from === undefined) return this.place(start, start + value.length);
      let at = 0;
      for (let count = 0; count < from && at < value.length; count++) at += lengthOfOne(value, at);
      return this.place(start + at, start + Math.min(value.length, at + 1));
    }
    return this.placeOf(node);
  }
}

/** How many characters of the file stand for the one at `at` of a raw attribute value. */
function lengthOfOne(value: string, at: number): number {
  if (value.startsWith('\r\n', at)) return 2;
  if (value[at] !== '&') return 1;
  const end = value.indexOf(';', at);
  return end < 0 ? 1 : end - at + 1;
}
