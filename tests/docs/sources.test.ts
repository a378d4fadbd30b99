import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { RULES } from '../../src/cli/registered-rules.ts';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const HERE = 'tests/docs/sources.test.ts';
const read = (file: string) => readFileSync(join(ROOT, file), 'utf8');

/** `[NIOSH-1976]`, as it stands in a sentence: not an element of an array, and no class of characters in a pattern. */
const NAME = String.raw`\[(?!A-Z)([A-Z][A-Z0-9]*(?:-[A-Z0-9]+)+|[A-Z][A-Z0-9]{2,})\]`;
const KEY = new RegExp(String.raw`(?<![\w)\]!?*+/'"\`-])${NAME}(?![({*+?\w])|(?<=['"])${NAME}(?=[ ,;:'"])`, 'g');
const keysOf = (text: string) => [...text.matchAll(KEY)].map(([, plain, quoted]) => plain ?? quoted ?? '');

function filesIn(folder: string, kinds: RegExp): string[] {
  return readdirSync(join(ROOT, folder), { recursive: true, withFileTypes: true })
    .filter((each) => each.isFile() && kinds.test(each.name))
    .map((each) => join(each.parentPath, each.name).slice(ROOT.length).replace(/^\//, ''))
    .filter((file) => file !== HERE);
}

/** Of code: comments, the names of tests, and strings in which a key stands behind its quote or a blank. Else an array might look like a key. */
function proseOf(file: string): string {
  const text = read(file);
  if (!/\.ts$/.test(file)) return text;
  const prose = file.startsWith('tests/')
    ? /^\s*(?:\*|\/\/|\/\*)|\b(?:it|describe)\(|source: '/
    : /^\s*(?:\*|\/\/|\/\*)|['`][^'`]*\[[A-Z][A-Z0-9-]+\]/;
  return text
    .split('\n')
    .filter((line) => prose.test(line))
    .join('\n');
}

const entries = new Map(
  [...read('docs/sources.md').matchAll(/^\| ([A-Za-z][\w-]*) \| (.+) \|$/gm)]
    .map(([, key = '', source = '']): [string, string] => [key, source])
    .filter(([key]) => key !== 'key'),
);
const PLACES = [
  ...filesIn('data/materials', /\.yaml$/),
  ...filesIn('data/machines', /\.yaml$/),
  ...filesIn('src', /\.ts$/),
  ...filesIn('fit', /\.ts$/),
  ...filesIn('docs', /\.md$/).filter((file) => file !== 'docs/sources.md'),
  ...filesIn('tests', /\.(ts|txt)$/),
  ...filesIn('fixtures', /\.(yaml|txt)$/),
  ...filesIn('examples', /\.yaml$/),
  'README.md',
];

/** Makers and magazines, and whoever else is cited by a key: the names under which they were met. */
const NAMES =
  /II-VI Infrared|ACRYLITE|\bSchott\b|Polym\. Eng|Polymer Engineering|Forest Products Journal|J\. Phys\. D|Chin\. J\.|Univ\. of Texas|University of Texas|Kansas State|UIC fabrication|Wood Handbook|Steen & Mazumder|Cozzens & Fox|McMillin & Harry|refractiveindex\.info|NISTIR 6556/;

describe('docs/sources.md', () => {
  it('is met by the pattern for keys, and nothing else is', () => {
    expect(keysOf('source: "published: [UIC]; [NIOSH-1976], on PVC"')).toEqual(['UIC', 'NIOSH-1976']);
    expect(keysOf("source: '[SCHOTT]; coefficients from memory', (source: [TEXAS])")).toEqual(['SCHOTT', 'TEXAS']);
    expect(keysOf('rows[INDEX], STROKES[ID], /^[A-Z]+/, [CO2](page.md), inferred: [beam]')).toEqual([]);
  });

  it('has an entry for every key', () => {
    const missing = PLACES.flatMap((file) =>
      keysOf(proseOf(file))
        .filter((key) => !entries.has(key))
        .map((key) => `${file}: [${key}]`),
    );
    expect(missing).toEqual([]);
  });

  it('has no entry that nothing refers to', () => {
    const used = new Set(PLACES.flatMap((file) => keysOf(proseOf(file))));
    const published = filesIn('data/evidence', /\.yaml$/).map((file) => String(parse(read(file)).id));
    expect([...entries.keys()].filter((key) => !used.has(key) && !published.includes(key))).toEqual([]);
    expect(used.size).toBeGreaterThan(12);
  });

  it('cites each source of published cuts as its file does', () => {
    for (const file of filesIn('data/evidence', /\.yaml$/)) {
      const { id, citation } = parse(read(file));
      expect([id, entries.get(id)]).toEqual([id, citation]);
    }
  });

  it('is the only place that names makers, magazines and whoever has a key, but for the data of published cuts', () => {
    const met = PLACES.filter((file) => NAMES.test(read(file)));
    expect(met).toEqual([]);
  });

  it('is named by the page of every rule that uses a key', () => {
    const keyed = RULES.filter((rule) => keysOf(rule.sources.join('\n')).length > 0);
    expect(keyed.length).toBeGreaterThan(10);
    for (const rule of keyed) {
      expect(read(`docs/rules/${rule.id.replace('/', '-')}.md`)).toContain('docs/sources.md');
    }
  });

  it('is where the hazard of every material that was published leads', () => {
    for (const file of filesIn('data/materials', /\.yaml$/)) {
      const source: string = parse(read(file)).hazard.source;
      if (source.startsWith('published: ')) expect([file, keysOf(source).length]).not.toEqual([file, 0]);
    }
  });
});
