import type * as cssTree from 'css-tree';
import generate from 'css-tree/generator';
import parse from 'css-tree/parser';
import { ident } from 'css-tree/utils';
import { replaceSpans } from '../xml/spans.ts';
import { PROPERTIES, UNREAD_PROPERTIES } from './properties.ts';

export interface Declaration {
  property: string;
  value: string;
  important: boolean;
}

export interface StyleRule {
  /** One complex selector as text. */
  selector: string;
  /** Ids, then classes, attributes and pseudo-classes, then types (Selectors 4 §17). */
  specificity: readonly [number, number, number];
  /** What the selector's last compound asks for, to find candidates quickly: `#id`, `.class`, a type, or `*`. */
  key: string;
  declarations: Declaration[];
  /** Offset of the selector in the sheet. */
  at: number;
}

/** What a style sheet says of drawing, and what of it could not be taken. Offsets are into the sheet's text. */
export interface StyleSheet {
  rules: StyleRule[];
  imports: { href: string; at: number }[];
  problems: { text: string; at: number }[];
}

/**
 * What faults may still cost, in characters: for each one css-tree splits the whole text into lines. A sheet that goes beyond it is given
 * up: thousands of faults in one are no style sheet.
 */
export interface FaultBudget {
  left: number;
}

/** A style sheet by css-tree. Never throws. */
export function parseStyleSheet(text: string, budget: FaultBudget): StyleSheet {
  const sheet: StyleSheet = { rules: [], imports: [], problems: [] };
  try {
    const tree = parse(text, {
      positions: true,
      parseValue: false,
      parseCustomProperty: false,
      onParseError: leftAside(text, sheet.problems, budget),
    });
    if (tree.type === 'StyleSheet') gather(tree.children, sheet, reportInto(sheet.problems), 0);
  } catch {
    // Too many faults, or selectors nested without end, which exhaust the stack of a parser that recurses.
    sheet.problems.push({ text: beginning(text), at: 0 });
  }
  return sheet;
}

/** Characters that tell where a text stands of which no piece can be told. */
const SHORT_PIECE = 40;

/** Takes down the pieces of a text that the parser leaves aside, as they stand there: it keeps each as one raw node. */
function leftAside(
  text: string,
  problems: StyleSheet['problems'],
  budget: FaultBudget,
): cssTree.ParseOptions['onParseError'] {
  let last = -1;
  return (error, piece) => {
    const at = piece?.loc?.start.offset ?? error.offset ?? 0;
    // Several faults of one piece are told one after the other.
    if (at !== last) problems.push({ text: text.slice(at, piece?.loc?.end.offset).trim() || beginning(text, at), at });
    last = at;
    budget.left -= text.length;
    if (budget.left < 0) throw new TooManyFaults();
  };
}

class TooManyFaults extends Error {}

const beginning = (text: string, at = 0): string => text.slice(at, at + SHORT_PIECE);

type Report = (node: cssTree.CssNode, what: string) => void;

/** What could not be parsed has been taken down already and stands in the tree as raw text. */
const reportInto =
  (problems: StyleSheet['problems']): Report =>
  (node, what) => {
    problems.push({ text: what, at: node.loc?.start.offset ?? 0 });
  };

const DEEPEST_AT_RULE = 20;
const WITHOUT_EFFECT = new Set([
  'charset',
  'namespace',
  'keyframes',
  '-webkit-keyframes',
  'page',
  'counter-style',
  'property',
]);

function gather(nodes: cssTree.List<cssTree.CssNode>, sheet: StyleSheet, report: Report, depth: number): void {
  for (const node of nodes.toArray()) {
    if (node.type === 'Rule') addRule(node, sheet, report);
    else if (node.type === 'Atrule') addAtRule(node, sheet, report, depth);
  }
}

function addAtRule(node: cssTree.Atrule, sheet: StyleSheet, report: Report, depth: number): void {
  const name = node.name.toLowerCase();
  const prelude = node.prelude ? generate(node.prelude) : '';
  if (name === 'import') {
    const href = /^(?:url\()?\s*["']?([^"')]*)/i.exec(prelude)?.[1] ?? prelude;
    sheet.imports.push({ href, at: node.loc?.start.offset ?? 0 });
  } else if (name === 'font-face') {
    const href = /url\(\s*["']?([^"')]+)/i.exec(generate(node))?.[1];
    if (href && !href.startsWith('data:')) sheet.imports.push({ href, at: node.loc?.start.offset ?? 0 });
  } else if (name === 'media') {
    const applies = appliesToScreen(prelude);
    if (applies === null) report(node, `@media ${prelude}`);
    if (!applies || !node.block) return;
    if (depth < DEEPEST_AT_RULE) gather(node.block.children, sheet, report, depth + 1);
    else report(node, `@media ${prelude}`);
  } else if (!WITHOUT_EFFECT.has(name)) report(node, `@${node.name} ${prelude}`);
}

/** Whether a media list takes in an ordinary screen; null when it asks for features that are not known. */
export function appliesToScreen(list: string): boolean | null {
  let known = true;
  for (const query of list.split(',')) {
    const word = query
      .trim()
      .toLowerCase()
      .replace(/^only\s+/, '');
    if (word === '' || word === 'all' || word === 'screen') return true;
    if (!/^(?:not\s+)?[a-z-]+$/.test(word)) known = false;
    else if (word.startsWith('not ') && word !== 'not all' && word !== 'not screen') return true;
  }
  return known ? false : null;
}

function addRule(node: cssTree.Rule, sheet: StyleSheet, report: Report): void {
  if (node.prelude.type !== 'SelectorList') return;
  const declarations = declarationsOf(node.block.children, report);
  if (declarations.length === 0) return;
  for (const selector of node.prelude.children.toArray()) {
    if (selector.type !== 'Selector') continue;
    if (hasPseudoElement(selector)) continue;
    sheet.rules.push({
      selector: generate(selector),
      specificity: specificityOf(selector),
      key: keyOf(selector),
      declarations,
      at: selector.loc?.start.offset ?? 0,
    });
  }
}

function hasPseudoElement(selector: cssTree.Selector): boolean {
  return selector.children.some((part) => part.type === 'PseudoElementSelector');
}

function declarationsOf(nodes: cssTree.List<cssTree.CssNode>, report: Report): Declaration[] {
  const declarations: Declaration[] = [];
  for (const node of nodes.toArray()) {
    if (node.type === 'Declaration') {
      const value = textOf(node.value);
      const property = node.property.toLowerCase();
      if (UNREAD_PROPERTIES.has(property) && value !== 'none') report(node, `${property}: ${value}`);
      const relevant = expand(property, value);
      if (relevant.length > 0 && /\b(?:var|env|attr)\(/i.test(value)) report(node, `${property}: ${value}`);
      else
        for (const [name, text] of relevant)
          declarations.push({ property: name, value: text, important: node.important !== false });
    } else if (node.type === 'Rule' || node.type === 'Atrule') report(node, generate(node));
  }
  return declarations;
}

function textOf(value: cssTree.Value | cssTree.Raw): string {
  const text = value.type === 'Raw' ? value.value : generate(value);
  return replaceSpans(text, '/*', '*/', () => ' ').trim();
}

/** Shorthands that touch what is drawn, written out. */
function expand(property: string, value: string): [string, string][] {
  if (property === 'marker') return ['marker-start', 'marker-mid', 'marker-end'].map((name) => [name, value]);
  if (property === 'font') {
    const size = /(?:^|\s)((?:\d+(?:\.\d*)?|\.\d+)(?:%|[a-z]+))(?:\s*\/|\s)/i.exec(value)?.[1];
    return size ? [['font-size', size]] : [];
  }
  if (property === 'animation') return [['animation-name', value]];
  if (property === '-webkit-mask') return [['mask', value]];
  return PROPERTIES.has(property) ? [[property, value]] : [];
}

/** Declarations of a `style` attribute. Never throws. */
export function parseStyleAttribute(
  text: string,
  budget: FaultBudget,
): {
  declarations: Declaration[];
  problems: { text: string; at: number }[];
} {
  const problems: { text: string; at: number }[] = [];
  try {
    const tree = parse(text, {
      context: 'declarationList',
      positions: true,
      parseValue: false,
      parseCustomProperty: false,
      onParseError: leftAside(text, problems, budget),
    });
    if (tree.type !== 'DeclarationList') return { declarations: [], problems };
    return { declarations: declarationsOf(tree.children, reportInto(problems)), problems };
  } catch {
    return { declarations: [], problems: [{ text: beginning(text), at: 0 }] };
  }
}

function keyOf(selector: cssTree.Selector): string {
  let key = '*';
  for (const part of selector.children.toArray().reverse()) {
    if (part.type === 'Combinator') break;
    if (part.type === 'IdSelector') return '#' + ident.decode(part.name);
    if (part.type === 'ClassSelector') key = '.' + ident.decode(part.name);
    if (part.type === 'TypeSelector' && key === '*' && part.name !== '*' && !part.name.includes('|')) {
      key = ident.decode(part.name);
    }
  }
  return key;
}

type Specificity = [number, number, number];

function specificityOf(selector: cssTree.Selector): Specificity {
  const total: Specificity = [0, 0, 0];
  for (const part of selector.children.toArray()) {
    if (part.type === 'IdSelector') total[0]++;
    else if (part.type === 'ClassSelector' || part.type === 'AttributeSelector') total[1]++;
    else if (part.type === 'TypeSelector' && !part.name.endsWith('*')) total[2]++;
    else if (part.type === 'PseudoClassSelector') {
      const own = specificityOfPseudoClass(part);
      for (let i = 0; i < 3; i++) total[i as 0 | 1 | 2] += own[i]!;
    }
  }
  return total;
}

function specificityOfPseudoClass(part: cssTree.PseudoClassSelector): Specificity {
  const name = part.name.toLowerCase();
  if (name === 'where') return [0, 0, 0];
  if (name !== 'is' && name !== 'not' && name !== 'has') return [0, 1, 0];
  return part.children ? greatest(part.children.toArray()) : [0, 0, 0];
}

function greatest(nodes: cssTree.CssNode[]): Specificity {
  let best: Specificity = [0, 0, 0];
  for (const node of nodes) {
    const list = node.type === 'SelectorList' ? node.children.toArray() : [node];
    for (const selector of list) {
      if (selector.type !== 'Selector') continue;
      const own = specificityOf(selector);
      if (compareSpecificity(own, best) > 0) best = own;
    }
  }
  return best;
}

export function compareSpecificity(a: readonly number[], b: readonly number[]): number {
  return a[0]! - b[0]! || a[1]! - b[1]! || a[2]! - b[2]!;
}
