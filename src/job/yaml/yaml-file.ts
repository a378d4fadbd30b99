import {
  isAlias,
  isMap,
  isScalar,
  isSeq,
  type Node,
  type ParsedNode,
  parseDocument,
  type Scalar,
  type YAMLMap,
} from 'yaml';
import { type Location, START_OF_FILE } from '../../source/place.ts';
import { isWholeText, type Source, SourceUnreadable, wholeText } from '../../source/source.ts';
import { LineTable } from '../../source/text.ts';
import { quoted } from '../../units/quoted.ts';
import { type FileProblem, fileProblem } from '../files/problem.ts';
import type { PlaceOf } from '../model.ts';
import { TOO_DEEP, tooDeepAt } from './yaml-depth.ts';

/** Deeper than any of our formats; keeps every walk shallow. */
const DEEPEST = 16;
const EMPTY = 'the file is empty';
// biome-ignore lint/suspicious/noControlCharactersInRegex: these characters are what is looked for
const CONTROL = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f]/;
const NOT_TEXT = 'the file holds control characters: it is not a text file';
/** Names that reach an object's prototype in JavaScript; no format of ours has them. */
const PROTOTYPE_KEYS = new Set(['__proto__', 'constructor', 'prototype']);

/** A YAML file as plain data (objects without a prototype) and the places of its keys and values. */
export interface YamlFile {
  file: string;
  /** Undefined when the file could not be read as YAML. */
  tree: unknown;
  problems: FileProblem[];
  placeOf: PlaceOf;
}

interface Spot {
  key: readonly [number, number] | null;
  value: readonly [number, number];
  children: Map<string | number, Spot>;
}

/** Reads YAML as our formats allow it: one document, no directives, tags, anchors, aliases or merge keys, each key once. Never throws on input. */
export function readYaml(source: Source, limitBytes: number): YamlFile {
  const file = source.name;
  const start: Location = { file, ...START_OF_FILE };
  const failed = (problem: FileProblem): YamlFile => ({
    file,
    tree: undefined,
    problems: [problem],
    placeOf: () => start,
  });
  let text: string;
  let lost: boolean;
  try {
    text = wholeText(source, limitBytes);
    lost = text.includes('\ufffd') && !isWholeText(source);
  } catch (error) {
    if (!(error instanceof SourceUnreadable)) throw error;
    return failed(fileProblem('unreadable', start, `${file} cannot be read: ${error.reason}`));
  }
  // YAML 1.2 counts a lone carriage return as a line end, the parser does not; offsets stay the same.
  text = text.replace(/\r(?!\n)/g, '\n');
  const lines = new LineTable(text);
  const at = (from: number, to: number): Location => ({ file, ...lines.place(from, to) });
  if (lost) {
    const first = text.indexOf('\ufffd');
    return failed(fileProblem('syntax', at(first, first + 1), 'the file is not UTF-8 text: save it as UTF-8'));
  }
  const control = text.search(CONTROL);
  if (control >= 0) return failed(fileProblem('syntax', at(control, control + 1), NOT_TEXT));
  if (/^\s*$/.test(text)) return failed(fileProblem('syntax', start, EMPTY));
  const deep = tooDeepAt(text);
  if (deep !== null) return failed(fileProblem('syntax', at(deep, deep + 1), TOO_DEEP));
  const directive = /^(?:[ \t]*(?:#[^\r\n]*)?\r?\n)*%[^\r\n]*/.exec(text);
  if (directive) {
    const from = directive[0].lastIndexOf('\n') + 1;
    const what = 'a % directive can change what the file means: leave it out';
    return failed(fileProblem('syntax', at(from, directive[0].length), what));
  }
  return walk(text, file, at);
}

function walk(text: string, file: string, at: (from: number, to: number) => Location): YamlFile {
  const problems: FileProblem[] = [];
  const syntax = (range: readonly [number, number, ...number[]] | null | undefined, what: string) => {
    problems.push(fileProblem('syntax', at(range?.[0] ?? 0, oneLine(text, range?.[0] ?? 0, range?.[1] ?? 1)), what));
  };
  const root: Spot = { key: null, value: [0, 0], children: new Map() };
  const placeOf = placesBelow(root, text, at);
  let contents: ParsedNode | null;
  try {
    const document = parseDocument(text, { prettyErrors: false, uniqueKeys: false, logLevel: 'error', merge: false });
    const first = document.errors[0];
    if (first) {
      syntax(first.pos, explainSyntax(first.code, first.message));
      return { file, tree: undefined, problems, placeOf };
    }
    contents = document.contents;
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    syntax([0, 1], TOO_DEEP);
    return { file, tree: undefined, problems, placeOf };
  }
  if (contents === null) {
    syntax([0, 1], EMPTY);
    return { file, tree: undefined, problems, placeOf };
  }
  const tree = new Visit(problems, at, syntax).value(contents, root, 0);
  return { file, tree: problems.length > 0 ? undefined : (tree ?? null), problems, placeOf };
}

type Range = readonly [number, number, ...number[]];

/** Turns the nodes of a document into plain data, with their places and what is wrong with them. */
class Visit {
  readonly #problems: FileProblem[];
  readonly #at: (from: number, to: number) => Location;
  readonly #syntax: (range: Range, what: string) => void;

  constructor(
    problems: FileProblem[],
    at: (from: number, to: number) => Location,
    syntax: (range: Range, what: string) => void,
  ) {
    this.#problems = problems;
    this.#at = at;
    this.#syntax = syntax;
  }

  value(node: Node | null, spot: Spot, depth: number): unknown {
    if (node === null) return null;
    const range = node.range ?? [0, 0, 0];
    spot.value = [range[0], range[1]];
    if (isAlias(node)) {
      this.#syntax(range, `the alias *${node.source.slice(0, 40)} stands for text elsewhere: write the value out`);
      return undefined;
    }
    const { anchor, tag } = node as { anchor?: string; tag?: string };
    if (anchor !== undefined) this.#syntax(range, `the anchor &${anchor.slice(0, 40)} is not read here: leave it out`);
    if (tag !== undefined) this.#syntax(range, 'a tag (a word that begins with !) is not read here: leave it out');
    if (isScalar(node)) return (node as Scalar).value;
    if (depth >= DEEPEST) {
      this.#syntax(range, `this is nested more than ${DEEPEST} levels deep`);
      return undefined;
    }
    if (isSeq(node)) {
      return node.items.map((item, index) => this.value(item as Node, childOf(spot, index, null), depth + 1));
    }
    return isMap(node) ? this.#object(node, range, spot, depth) : undefined;
  }

  #object(node: YAMLMap, range: Range, spot: Spot, depth: number): Record<string, unknown> {
    const object: Record<string, unknown> = Object.create(null);
    for (const pair of node.items) {
      const keyNode = pair.key as Node | null;
      const keyRange = keyNode?.range ?? range;
      const key = this.#key(keyNode, keyRange, object);
      if (key === null) continue;
      const child = childOf(spot, key, [keyRange[0], keyRange[1]]);
      object[key] = this.value(pair.value as Node | null, child, depth + 1);
    }
    return object;
  }

  /** The name of an entry; null, with a problem, where it cannot be taken. */
  #key(node: Node | null, range: Range, object: Record<string, unknown>): string | null {
    if (!isScalar(node) || node.anchor !== undefined || node.tag !== undefined) {
      this.#syntax(range, 'a key must be a plain word');
      return null;
    }
    const key = node.type === 'PLAIN' ? (node.source ?? '') : String(node.value);
    if (key === '<<') this.#syntax(range, 'merge keys are not read here: write the values out');
    else if (PROTOTYPE_KEYS.has(key)) this.#problems.push(unknownKey(this.#at(range[0], range[1]), key));
    else if (key in object) this.#syntax(range, `the key ${quoted(key)} stands here a second time`);
    else return key;
    return null;
  }
}

function unknownKey(place: Location, key: string): FileProblem {
  return fileProblem('unknown-key', place, `the key ${quoted(key)} is not known here: leave it out`);
}

function childOf(spot: Spot, name: string | number, key: readonly [number, number] | null): Spot {
  const child: Spot = { key, value: key ?? spot.value, children: new Map() };
  spot.children.set(name, child);
  return child;
}

/** A stretch cut at its first line's end, so that a whole block is pointed at by its first line. */
function oneLine(text: string, from: number, to: number): number {
  const end = text.slice(from, Math.max(to, from)).search(/[\r\n]/);
  return end < 0 ? Math.min(Math.max(to, from), text.length) : from + end;
}

function placesBelow(root: Spot, text: string, at: (from: number, to: number) => Location): PlaceOf {
  return (path, part = 'value') => {
    let spot = root;
    let found = true;
    for (const name of path) {
      const child = spot.children.get(name);
      if (!child) {
        found = false;
        break;
      }
      spot = child;
    }
    // For something that is not there, the key of the nearest parent says best where it belongs.
    const [from, to] = (part === 'key' || !found) && spot.key ? spot.key : spot.value;
    return at(from, oneLine(text, from, to));
  };
}

function explainSyntax(code: string, message: string): string {
  switch (code) {
    case 'TAB_AS_INDENT':
      return 'a tab indents this line: use spaces';
    case 'MULTIPLE_DOCS':
      return 'a second document begins here (---): one file holds one';
    case 'BLOCK_AS_IMPLICIT_KEY':
      return 'a second colon on this line: put the text in quotes, or break the line';
    case 'BAD_INDENT':
      return 'this line is indented differently from its neighbours';
    case 'MISSING_CHAR':
      return `something is missing here, a quote, comma, colon or bracket (${message})`;
    default:
      if (message.includes('call stack')) return TOO_DEEP;
      return `this is not YAML: ${message.slice(0, 160)}`;
  }
}
