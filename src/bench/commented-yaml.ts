import { Document, isCollection, Pair, Scalar, visit, YAMLMap } from 'yaml';

/** What stands in a map, from top to bottom: an entry, or a line of comment. */
export type YamlLine = readonly [key: string, value: unknown] | string;

/** Makes nodes of plain values; it is never printed. */
const MAKER = new Document();
/** As a comment can hold it: one line, without what must not reach a terminal. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is taken out
const NOT_IN_A_COMMENT = /[\u0000-\u001f\u007f-\u009f\u2028\u2029]+/g;

function remark(text: string): string {
  return ` ${text.replace(NOT_IN_A_COMMENT, ' ')}`;
}

/** A map with lines of comment among its entries. Values may be plain, or what the functions below make. */
export function commentedMap(lines: readonly YamlLine[]): YAMLMap {
  const map = new YAMLMap();
  let above: string[] = [];
  for (const line of lines) {
    if (typeof line === 'string') {
      above.push(remark(line));
      continue;
    }
    const key = new Scalar(line[0]);
    if (above.length > 0) key.commentBefore = above.join('\n');
    above = [];
    map.items.push(new Pair(key, MAKER.createNode(line[1])));
  }
  if (above.length > 0) map.comment = above.join('\n');
  return map;
}

/** A map or list on one line, in braces. */
export function oneLine(value: object): unknown {
  const node = MAKER.createNode(value);
  if (isCollection(node)) node.flow = true;
  return node;
}

/** A value with a remark behind it on its line; null leaves a place to fill in. */
export function remarked(value: unknown, text: string): unknown {
  const node = MAKER.createNode(value);
  node.comment = remark(text);
  return node;
}

/** A whole file. */
export function yamlText(lines: readonly YamlLine[]): string {
  const document = new Document<YAMLMap>();
  document.contents = commentedMap(lines);
  visit(document, {
    Scalar(_, scalar) {
      // Over several lines, what the library writes into braces is not always read back.
      if (typeof scalar.value === 'string' && /[\r\n]/.test(scalar.value)) scalar.type = Scalar.QUOTE_DOUBLE;
    },
  });
  return document.toString({ lineWidth: 0, nullStr: '', doubleQuotedAsJSON: true });
}

/** The line by which an editor finds a file's schema; nothing where it is not known where the schemas are. */
export function editorLine(schemas: string | null, name: string): string[] {
  return schemas === null ? [] : [`yaml-language-server: $schema=${schemas}/${name}.schema.json`];
}
