import { SaxesParser } from 'saxes';
import type { Place } from '../../source/place.ts';
import { LineTable } from '../../source/text.ts';
import { type ProblemLog, quote } from '../problem-log.ts';
import { PROPERTIES } from '../style/properties.ts';
import { plainEntities } from './entities.ts';
import { pseudoAttributes } from './pseudo-attributes.ts';
import type { SvgNode } from './svg-node.ts';

const SVG_NAMESPACE = 'http://www.w3.org/2000/svg';
const XLINK_NAMESPACE = 'http://www.w3.org/1999/xlink';

/** Deeper nesting is dropped with a problem; browsers stop at 5,000 or less. */
export const DEEPEST_NESTING = 4000;
/** Most elements read of one file. */
const MOST_ELEMENTS = 1_000_000;

/** Prefixes bound by one element, linked to those around it. */
interface Scope {
  bound: Map<string, string>;
  outer: Scope | null;
}

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

function boundTo(scope: Scope | null, prefix: string): string | undefined {
  for (let s = scope; s; s = s.outer) {
    const uri = s.bound.get(prefix);
    if (uri !== undefined) return uri;
  }
  return undefined;
}

/**
 * Reads the elements of a file with their positions. What stands behind the first breach of XML is not taken, as in
 * browsers; nothing outside the file is ever fetched.
 */
export function readDocument(source: string, log: ProblemLog): SvgDocument {
  const parser = new SaxesParser<{ xmlns: false; position: true }>({ xmlns: false, position: true });
  const nodes: SvgNode[] = [];
  const open: { node: SvgNode | null; scope: Scope | null }[] = [];
  let start = 0;
  let broken = false;
  let rootClosed = false;
  let whole = true;
  const lines = new SvgDocument(source, [], true);
  const here = (): Place => lines.place(Math.max(0, parser.position - 1), parser.position);

  parser.on('error', (error) => {
    if (broken) return;
    const reason = error.message.replace(/^\d+:\d+: /, '').replace(/\.$/, '');
    if (reason === 'undefined entity') {
      const from = source.lastIndexOf('&', parser.position - 1);
      const name = source.slice(from + 1, Math.min(parser.position - 1, from + 60));
      log.add('entity', () => lines.place(from, parser.position), { name });
      whole = false;
      return;
    }
    broken = true;
    // What stands behind the end of the root is no loss, unless it is another root.
    if (!rootClosed || reason.includes('one root')) whole = false;
    log.add('not-xml', here, { reason: quote(reason) });
  });
  parser.on('doctype', (text) => {
    plainEntities(text, parser.ENTITIES);
    const declared = text.indexOf('<!ENTITY');
    if (declared >= 0 && /(?:SYSTEM|PUBLIC)\s/.test(text.slice(declared))) {
      const at = source.indexOf('<!ENTITY');
      log.add('external-reference', () => lines.place(at, at + 8), { href: quote(text), tag: '!ENTITY' });
    }
  });
  parser.on('processinginstruction', ({ target, body }) => {
    if (broken || target !== 'xml-stylesheet') return;
    const href = pseudoAttributes(body)?.['href'] ?? body;
    log.add('external-reference', here, { href: quote(href), tag: target });
  });
  parser.on('opentagstart', () => {
    start = source.lastIndexOf('<', parser.position - 1);
  });
  parser.on('opentag', ({ name, attributes }) => {
    const parent = open.at(-1);
    const lost = broken || (parent !== undefined && parent.node === null);
    let scope = parent?.scope ?? null;
    let bound: Map<string, string> | null = null;
    for (const key in attributes) {
      if (!key.startsWith('xmlns') || (key.length > 5 && key[5] !== ':')) continue;
      bound ??= new Map();
      bound.set(key.slice(6), attributes[key]!);
    }
    if (bound) scope = { bound, outer: scope };
    let node: SvgNode | null = null;
    if (!lost && nodes.length >= MOST_ELEMENTS) {
      log.add('too-many-elements', here, { limit: MOST_ELEMENTS });
      whole = false;
    } else if (!lost && open.length >= DEEPEST_NESTING) {
      log.add('too-deep', () => lines.place(start, parser.position), { limit: DEEPEST_NESTING });
      whole = false;
    } else if (!lost && (parent || nodes.length === 0)) {
      node = {
        tag: localName(name, scope),
        name,
        attributes: withinLength(ownLinks(attributes, scope), (attribute, text) => {
          log.add('bad-value', () => lines.place(start, parser.position), { attribute, text: quote(text) });
        }),
        parent: parent?.node ?? null,
        children: [],
        text: '',
        start,
        end: parser.position,
        order: nodes.length,
      };
      node.parent?.children.push(node);
      nodes.push(node);
    }
    open.push({ node, scope });
  });
  parser.on('closetag', () => {
    open.pop();
    rootClosed ||= open.length === 0;
  });
  const takeText = (text: string): void => {
    const node = open.at(-1)?.node;
    if (node && !broken && TEXTUAL.has(node.tag)) node.text += text;
  };
  parser.on('text', takeText);
  parser.on('cdata', takeText);

  parser.write(source).close();
  return new SvgDocument(source, nodes, whole);
}

const TEXTUAL = new Set(['style', 'text', 'tspan', 'textPath', 'a', 'script']);

/** Without any namespace the names of SVG are taken as meant: such files are common and every drawing program opens them. */
function localName(name: string, scope: Scope | null): string {
  const colon = name.indexOf(':');
  const prefix = colon < 0 ? '' : name.slice(0, colon);
  const uri = boundTo(scope, prefix);
  if (uri === SVG_NAMESPACE) return name.slice(colon + 1);
  return uri === undefined && (prefix === '' || prefix === 'svg') ? name.slice(colon + 1) : '';
}

/** Longest value of an attribute that is no drawing data: `use` may have each read a hundred thousand times. */
const LONGEST_VALUE = 10_000;
const MAY_BE_LONG = new Set(['d', 'points', 'transform', 'style']);

/** Empties values of a length that no drawing needs, so that no reader of attributes has to guard against them. */
function withinLength(
  attributes: Record<string, string>,
  report: (attribute: string, text: string) => void,
): Record<string, string> {
  for (const key in attributes) {
    const value = attributes[key]!;
    if (value.length <= LONGEST_VALUE || MAY_BE_LONG.has(key)) continue;
    if (key.endsWith('href') && /^\s{0,9}data:/i.test(value.slice(0, 20))) continue;
    attributes[key] = '';
    if (PROPERTIES.has(key) || key === 'id' || key === 'class' || key.endsWith('href')) report(key, value);
  }
  return attributes;
}

/** Attributes called `…:href` in a namespace other than XLink's are no links. */
function ownLinks(attributes: Record<string, string>, scope: Scope | null): Record<string, string> {
  for (const key in attributes) {
    if (!key.endsWith(':href')) continue;
    const uri = boundTo(scope, key.slice(0, -5));
    if (uri !== undefined && uri !== XLINK_NAMESPACE) delete attributes[key];
  }
  return attributes;
}
