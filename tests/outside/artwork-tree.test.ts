import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type ElementNode, parse } from 'svg-parser';
import { describe, expect, it } from 'vitest';
import { ProblemLog } from '../../src/svg/problem-log.ts';
import { readDocument } from '../../src/svg/xml/read-document.ts';
import { replaceSpans } from '../../src/svg/xml/spans.ts';

const FIXTURES = join(import.meta.dirname, '../../fixtures/artwork');
const CORPUS = '/work/shared/corpus/svg';

/** Elements in document order, each with the number of its parent, as our reader has them. */
function ours(text: string): string[] {
  return readDocument(text, new ProblemLog()).nodes.map((node) => `${node.parent?.order ?? 'none'} ${node.name}`);
}

/**
 * The same from svg-parser 2.1.0, which nests elements by a stack of its own. It is given the text from the root's tag on, without
 * processing instructions: those it takes for text or elements.
 */
function theirs(text: string): string[] {
  const { root } = readDocument(text, new ProblemLog());
  const [tree] = parse(replaceSpans(text.slice(root!.start), '<?', '?>', () => '')).children;
  const lines: string[] = [];
  const open: [node: ElementNode, parent: number | 'none'][] = [[tree as ElementNode, 'none']];
  for (let next = open.pop(); next; next = open.pop()) {
    const [node, parent] = next;
    const order = lines.push(`${parent} ${node.tagName}`) - 1;
    const children = node.children.filter((child) => typeof child === 'object' && child.type === 'element');
    for (const child of children.reverse()) open.push([child as ElementNode, order]);
  }
  return lines;
}

describe('the nesting of elements is that of svg-parser', () => {
  it.each(readdirSync(FIXTURES))('%s', (name) => {
    const text = readFileSync(join(FIXTURES, name), 'utf8');
    expect(ours(text)).toEqual(theirs(text));
  });

  it.skipIf(!existsSync(CORPUS))('in the corpus, as far as the parser reads it', () => {
    const files = readdirSync(CORPUS, { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.svg'));
    let compared = 0;
    for (const name of files) {
      const text = readFileSync(join(CORPUS, name), 'utf8');
      const log = new ProblemLog();
      if (!readDocument(text, log).whole || log.problems.some(({ code }) => code === 'not-xml')) continue;
      let tree: string[];
      try {
        tree = theirs(text);
      } catch {
        // It refuses some well-formed files: `<` in a style sheet, names outside ASCII.
        continue;
      }
      expect([name, ours(text)]).toEqual([name, tree]);
      compared++;
    }
    expect(compared).toBeGreaterThan(0.9 * files.length);
  });
});

// What the parser reads wrongly or refuses, though it is well-formed (XML 1.0): the nesting as it stands in the text.
describe('the nesting of elements that svg-parser does not read', () => {
  it.each([
    [
      'a tag in a comment before the root',
      '<!-- <g> --><svg><g><rect/></g><rect/></svg>',
      'none svg,0 g,1 rect,0 rect',
    ],
    ['a processing instruction in the root', '<svg><?x <g> ?><g><rect/></g></svg>', 'none svg,0 g,1 rect'],
    ['a comparison in a style sheet', '<svg><style><![CDATA[a < b {}]]></style><g/></svg>', 'none svg,0 style,0 g'],
    ['names outside ASCII', '<svg><gärten><rect/></gärten><rect/></svg>', 'none svg,0 gärten,1 rect,0 rect'],
    ['a document type with a tag in it', '<!DOCTYPE svg [<!ENTITY a "<g/>">]><svg><rect/></svg>', 'none svg,0 rect'],
  ])('%s', (_name, text, nesting) => {
    expect(ours(text).join()).toBe(nesting);
  });

  it('attribute values stay text', () => {
    const { nodes } = readDocument('<svg id="007"><rect id="1e3" width="0x1F"/></svg>', new ProblemLog());
    expect(nodes.map((node) => node.attributes['id'])).toEqual(['007', '1e3']);
  });
});
