import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ProblemLog } from '../../src/svg/problem-log.ts';
import { readDocument } from '../../src/svg/xml/document.ts';
import { alignWithTree } from '../../src/svg/xml/tree.ts';

const FIXTURES = join(import.meta.dirname, '../../fixtures/artwork');

function nesting(text: string): string[] {
  return readDocument(text, new ProblemLog()).nodes.map(
    (node) => `${node.parent?.order ?? ''}>${node.order} ${node.name}`,
  );
}

describe('the tree of svg-parser and the elements of the tokenizer', () => {
  it.each(readdirSync(FIXTURES))('line up one to one: %s', (name) => {
    const text = readFileSync(join(FIXTURES, name), 'utf8');
    const { nodes } = readDocument(text, new ProblemLog());
    const before = nodes.map((node) => node.parent);
    expect(alignWithTree(text, nodes)).toBe(true);
    expect(nodes.map((node) => node.parent)).toEqual(before);
  });

  // Files that svg-parser reads wrongly or refuses, though they are well-formed.
  it.each([
    ['a tag in a comment before the root', '<!-- <g> --><svg><g><rect/></g><rect/></svg>'],
    ['a processing instruction in the root', '<svg><?x <g> ?><g><rect/></g></svg>'],
    ['a comparison in a style sheet', '<svg><style><![CDATA[a < b {}]]></style><g><rect/></g></svg>'],
    ['names outside ASCII', '<svg><g\u00e4rten><rect/></g\u00e4rten><rect/></svg>'],
    ['a number as id', '<svg id="007"><rect id="1e3"/></svg>'],
    ['a document type with a tag in it', '<!DOCTYPE svg [<!ENTITY a "<g/>">]><svg><rect/></svg>'],
  ])('%s does not change the nesting', (_name, text) => {
    const found = nesting(text);
    expect(found[0]).toBe('>0 svg');
    expect(found.at(-1)).toMatch(/rect$/);
    expect(found.filter((line) => line.startsWith('0>') || line.startsWith('>')).length).toBeGreaterThan(1);
  });

  it('attribute values stay text', () => {
    const { nodes } = readDocument('<svg id="007"><rect id="1e3" width="0x1F"/></svg>', new ProblemLog());
    expect(nodes.map((node) => node.attributes['id'])).toEqual(['007', '1e3']);
  });
});
