import { SaxesParser } from 'saxes';
import type { Place } from '../../source/place.ts';
import { type ProblemLog, quote } from '../problem-log.ts';
import { PROPERTIES } from '../style/properties.ts';
import { SvgDocument } from './document.ts';
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
  return new DocumentReader(source, log).read();
}

/** Takes what the parser tells, tag by tag. */
class DocumentReader {
  readonly #source: string;
  readonly #log: ProblemLog;
  readonly #parser = new SaxesParser<{ xmlns: false; position: true }>({ xmlns: false, position: true });
  readonly #nodes: SvgNode[] = [];
  readonly #open: { node: SvgNode | null; scope: Scope | null }[] = [];
  /** Looks up places while the elements are still being read. */
  readonly #lines: SvgDocument;
  /** Offset of the `<` of the tag that is being read. */
  #start = 0;
  #broken = false;
  #rootClosed = false;
  #whole = true;

  constructor(source: string, log: ProblemLog) {
    this.#source = source;
    this.#log = log;
    this.#lines = new SvgDocument(source, [], true);
  }

  read(): SvgDocument {
    const parser = this.#parser;
    parser.on('error', (error) => this.#fault(error));
    parser.on('doctype', (text) => this.#documentType(text));
    parser.on('processinginstruction', ({ target, body }) => this.#instruction(target, body));
    parser.on('opentagstart', () => {
      this.#start = this.#source.lastIndexOf('<', parser.position - 1);
    });
    parser.on('opentag', ({ name, attributes }) => this.#openTag(name, attributes));
    parser.on('closetag', () => {
      this.#open.pop();
      this.#rootClosed ||= this.#open.length === 0;
    });
    parser.on('text', (text) => this.#text(text));
    parser.on('cdata', (text) => this.#text(text));
    parser.write(this.#source).close();
    return new SvgDocument(this.#source, this.#nodes, this.#whole);
  }

  #here(): Place {
    const { position } = this.#parser;
    return this.#lines.place(Math.max(0, position - 1), position);
  }

  #tagPlace(): Place {
    return this.#lines.place(this.#start, this.#parser.position);
  }

  #fault(error: Error): void {
    if (this.#broken) return;
    const { position } = this.#parser;
    const reason = error.message.replace(/^\d+:\d+: /, '').replace(/\.$/, '');
    if (reason === 'undefined entity') {
      const from = this.#source.lastIndexOf('&', position - 1);
      const name = this.#source.slice(from + 1, Math.min(position - 1, from + 60));
      this.#log.add('entity', () => this.#lines.place(from, position), { name });
      this.#whole = false;
      return;
    }
    this.#broken = true;
    // What stands behind the end of the root is no loss, unless it is another root.
    if (!this.#rootClosed || reason.includes('one root')) this.#whole = false;
    this.#log.add('not-xml', () => this.#here(), { reason: quote(reason) });
  }

  #documentType(text: string): void {
    plainEntities(text, this.#parser.ENTITIES);
    const declared = text.indexOf('<!ENTITY');
    if (declared < 0 || !/(?:SYSTEM|PUBLIC)\s/.test(text.slice(declared))) return;
    const at = this.#source.indexOf('<!ENTITY');
    this.#log.add('external-reference', () => this.#lines.place(at, at + 8), { href: quote(text), tag: '!ENTITY' });
  }

  #instruction(target: string, body: string): void {
    if (this.#broken || target !== 'xml-stylesheet') return;
    const href = pseudoAttributes(body)?.['href'] ?? body;
    this.#log.add('external-reference', () => this.#here(), { href: quote(href), tag: target });
  }

  #openTag(name: string, attributes: Record<string, string>): void {
    const parent = this.#open.at(-1);
    const scope = scopeWithin(parent?.scope ?? null, attributes);
    const isLost = this.#broken || (parent ? parent.node === null : this.#nodes.length > 0);
    const node = isLost || this.#isBeyondLimits() ? null : this.#nodeOf(name, attributes, scope, parent?.node ?? null);
    if (node) {
      node.parent?.children.push(node);
      this.#nodes.push(node);
    }
    this.#open.push({ node, scope });
  }

  #isBeyondLimits(): boolean {
    if (this.#nodes.length >= MOST_ELEMENTS) {
      this.#log.add('too-many-elements', () => this.#here(), { limit: MOST_ELEMENTS });
    } else if (this.#open.length >= DEEPEST_NESTING) {
      this.#log.add('too-deep', () => this.#tagPlace(), { limit: DEEPEST_NESTING });
    } else return false;
    this.#whole = false;
    return true;
  }

  #nodeOf(name: string, attributes: Record<string, string>, scope: Scope | null, parent: SvgNode | null): SvgNode {
    return {
      tag: localName(name, scope),
      name,
      attributes: withinLength(ownLinks(attributes, scope), (attribute, text) => {
        this.#log.add('bad-value', () => this.#tagPlace(), { attribute, text: quote(text) });
      }),
      parent,
      children: [],
      text: '',
      start: this.#start,
      end: this.#parser.position,
      order: this.#nodes.length,
    };
  }

  #text(text: string): void {
    const node = this.#open.at(-1)?.node;
    if (node && !this.#broken && TEXTUAL.has(node.tag)) node.text += text;
  }
}

/** What is in scope inside an element: the prefixes that it binds itself, and those around it. */
function scopeWithin(outer: Scope | null, attributes: Readonly<Record<string, string>>): Scope | null {
  let bound: Map<string, string> | null = null;
  for (const key in attributes) {
    if (!key.startsWith('xmlns') || (key.length > 5 && key[5] !== ':')) continue;
    bound ??= new Map();
    bound.set(key.slice(6), attributes[key]!);
  }
  return bound ? { bound, outer } : outer;
}

/** Text of a draft of SVG 1.2, which some drawing programs still write. */
const FLOWED = ['flowRoot', 'flowDiv', 'flowPara', 'flowSpan', 'flowLine'];
const TEXTUAL = new Set(['style', 'text', 'tspan', 'textPath', 'a', 'script', ...FLOWED]);

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
