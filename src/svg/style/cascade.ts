import { compile, type Options } from 'css-select';
import { type ProblemLog, quote } from '../problem-log.ts';
import type { SvgDocument } from '../xml/document.ts';
import type { SvgNode } from '../xml/svg-node.ts';
import { accepts, isPresentationAttribute } from './properties.ts';
import {
  appliesToScreen,
  compareSpecificity,
  type Declaration,
  type FaultBudget,
  parseStyleAttribute,
  parseStyleSheet,
  type StyleRule,
} from './style-sheet.ts';

/** The value that won for one property of one element. */
export interface Declared {
  value: string;
  /** From a style sheet or a `style` attribute, so that CSS grammar holds; else from a presentation attribute. */
  css: boolean;
}

export type DeclaredStyle = ReadonlyMap<string, Declared>;

const NOTHING: DeclaredStyle = new Map();
/** Nodes that selectors may look at in all before the style sheets are given up: some thousand per element of a large file. */
const MOST_LOOKS = 100_000_000;
/** Characters that faults of a file's styles may have looked at again: about a second. */
const MOST_FAULT_WORK = 300_000_000;
/** What trying one selector on one element counts as. */
const LOOKS_OF_ONE_TRY = 20;

type CompiledRule = StyleRule & { matches: (node: SvgNode) => boolean };

/** Works out which declaration wins for each property of each element (CSS Cascade 5 §6, SVG 2 §6.6). */
export class Cascade {
  readonly #document: SvgDocument;
  readonly #log: ProblemLog;
  /** Rules by the key of their last compound, in rising order of precedence. */
  readonly #rules = new Map<string, { rule: CompiledRule; rank: number }[]>();
  #hasRules = false;
  readonly #attributes = new Map<string, Declaration[]>();
  readonly #done = new Map<SvgNode, DeclaredStyle>();
  #looks = 0;
  readonly #faults: FaultBudget = { left: MOST_FAULT_WORK };

  /** Whether the style sheets were given up before every selector was tried on every element. */
  get gaveUp(): boolean {
    return this.#looks > MOST_LOOKS;
  }

  constructor(document: SvgDocument, log: ProblemLog) {
    this.#document = document;
    this.#log = log;
    const rules: CompiledRule[] = [];
    for (const node of document.nodes) if (node.tag === 'style') this.#readSheet(node, rules);
    rules.sort((a, b) => compareSpecificity(a.specificity, b.specificity));
    for (const [rank, rule] of rules.entries()) {
      const same = this.#rules.get(rule.key);
      if (same) same.push({ rule, rank });
      else this.#rules.set(rule.key, [{ rule, rank }]);
    }
    this.#hasRules = rules.length > 0;
  }

  #readSheet(node: SvgNode, rules: CompiledRule[]): void {
    const { type = '', media = '' } = node.attributes;
    if (type.trim() !== '' && !/^text\/css\b/i.test(type.trim())) return;
    const place = (): ReturnType<SvgDocument['placeOf']> => this.#document.placeOf(node);
    const applies = appliesToScreen(media);
    if (applies === null) this.#log.add('bad-style', place, { text: quote(`media="${media}"`) });
    if (!applies) return;
    const sheet = parseStyleSheet(node.text, this.#faults);
    const inText = (at: number) => () => this.#document.placeInText(node, at);
    for (const { text, at } of sheet.problems) this.#log.add('bad-style', inText(at), { text: quote(text) });
    for (const { href, at } of sheet.imports) {
      this.#log.add('external-reference', inText(at), { href: quote(href), tag: 'style' });
    }
    for (const rule of sheet.rules) {
      const matches = this.#compile(rule.selector);
      if (matches) rules.push({ ...rule, matches });
      else this.#log.add('bad-style', inText(rule.at), { text: quote(rule.selector) });
    }
  }

  #compile(selector: string): ((node: SvgNode) => boolean) | null {
    try {
      return compile(selector, this.#options());
    } catch {
      // css-select throws on pseudo-classes that it does not know; so does CSS: the rule is dropped.
      return null;
    }
  }

  #options(): Options<SvgNode, SvgNode> {
    const look = (count: number): void => {
      this.#looks += count;
      if (this.#looks > MOST_LOOKS) throw new TooManyLooks();
    };
    return {
      xmlMode: true,
      cacheResults: false,
      adapter: {
        isTag: (node): node is SvgNode => node !== null,
        getAttributeValue: (node, name) => node.attributes[name],
        hasAttrib: (node, name) => node.attributes[name] !== undefined,
        getChildren: (node) => {
          look(node.children.length);
          return node.children;
        },
        getName: (node) => node.tag || node.name,
        getParent: (node) => {
          look(1);
          return node.parent;
        },
        getSiblings: (node) => {
          const siblings = node.parent?.children ?? [node];
          // Stepping along siblings is cheap beside the other looks.
          look(siblings.length / 8);
          return siblings;
        },
        getText: (node) => node.text,
        removeSubsets: (nodes) => nodes,
      },
    };
  }

  /** What is declared on an element itself, before inheritance. */
  declared(node: SvgNode): DeclaredStyle {
    let style = this.#done.get(node);
    if (!style) {
      style = this.#compute(node);
      this.#done.set(node, style);
    }
    return style;
  }

  #compute(node: SvgNode): DeclaredStyle {
    const style = new Map<string, Declared>();
    for (const name in node.attributes) {
      // Path data may be long: it is read where it stands, unless CSS sets another.
      if (name !== 'd' && isPresentationAttribute(name))
        this.#take(node, style, name, node.attributes[name]!, false, name);
    }
    const author = this.#hasRules && this.#looks <= MOST_LOOKS ? this.#matching(node) : [];
    const own = node.attributes['style'];
    const inline = own === undefined ? [] : this.#inline(node, own);
    const declarations = [...author, ...inline];
    const from = inline.length > 0 ? 'style' : '';
    for (const important of [false, true]) {
      for (const one of declarations) {
        if (one.important === important) this.#take(node, style, one.property, one.value, true, from);
      }
    }
    return style.size > 0 ? style : NOTHING;
  }

  #take(
    node: SvgNode,
    style: Map<string, Declared>,
    property: string,
    value: string,
    css: boolean,
    from: string,
  ): void {
    if (accepts(property, value, css)) {
      style.set(property, { value: value.trim(), css });
      return;
    }
    const place = () => (from === '' ? this.#document.placeOf(node) : this.#document.placeOfAttribute(node, from));
    this.#log.add('bad-value', place, { attribute: property, text: quote(value) });
  }

  #inline(node: SvgNode, text: string): Declaration[] {
    let declarations = this.#attributes.get(text);
    if (!declarations) {
      const parsed = parseStyleAttribute(text, this.#faults);
      declarations = parsed.declarations;
      this.#attributes.set(text, declarations);
      for (const problem of parsed.problems) {
        const place = () => this.#document.placeOfAttribute(node, 'style', problem.at);
        this.#log.add('bad-style', place, { text: quote(problem.text) });
      }
    }
    return declarations;
  }

  /** Declarations of the rules that match, weakest first. */
  #matching(node: SvgNode): Declaration[] {
    const { id, class: classes } = node.attributes;
    const keys = new Set(['*', node.tag || node.name]);
    if (id !== undefined) keys.add('#' + id);
    for (const name of (classes ?? '').split(/\s+/)) if (name !== '') keys.add('.' + name);
    const found: { rule: CompiledRule; rank: number }[] = [];
    for (const key of keys) {
      for (const entry of this.#rules.get(key) ?? []) if (this.#matches(entry.rule, node)) found.push(entry);
    }
    if (found.length > 1) found.sort((a, b) => a.rank - b.rank);
    return found.flatMap((entry) => entry.rule.declarations);
  }

  #matches(rule: CompiledRule, node: SvgNode): boolean {
    if (this.#looks > MOST_LOOKS) return false;
    this.#looks += LOOKS_OF_ONE_TRY;
    try {
      if (this.#looks > MOST_LOOKS) throw new TooManyLooks();
      return rule.matches(node);
    } catch {
      // Too many looks, or a selector of so many parts that matching it exhausts the stack.
      this.#log.add('bad-style', () => this.#document.placeOf(node), { text: quote(rule.selector) });
      return false;
    }
  }
}

class TooManyLooks extends Error {}
