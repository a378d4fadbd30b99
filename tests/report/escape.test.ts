import { describe, expect, it } from 'vitest';
import {
  commandData,
  commandProperty,
  csvCell,
  escapeHtml,
  escapeMarkdown,
  escapeSarif,
  escapeSourceLine,
  escapeTerminal,
  fencedBlock,
  jsonText,
  relativeUri,
  wellFormed,
} from '../../src/report/escape.ts';

const ESC = '\u001b';
type Row = [input: string, output: string];

describe('for a terminal', () => {
  it.each<Row>([
    ['gate sign', 'gate sign'],
    ['3.0–5.3 mm ± 40 %', '3.0–5.3 mm ± 40 %'],
    ['Gießkanne 蒔 😀', 'Gießkanne 蒔 😀'],
    [`${ESC}[2J`, '\\x1b[2J'],
    ['a\nb\r\tc\u0000', 'a\\x0ab\\x0d\\x09c\\x00'],
    ['\u009b31m', '\\x9b31m'],
    ['\u007f', '\\x7f'],
    ['gcode.\u202efvs', 'gcode.\\u202efvs'],
    ['\u2066\u2069\u200f\u061c', '\\u2066\\u2069\\u200f\\u061c'],
    ['\u2028\ufeff', '\\u2028\\ufeff'],
    ['\ud83d', '\\ud83d'],
    ['\ude00x', '\\ude00x'],
    ['x ##[error]y', 'x ##\\x5berror]y'],
  ])('%j becomes %j', (input, output) => {
    expect(escapeTerminal(input)).toBe(output);
  });

  it('a line of a file keeps its columns at tabs', () => {
    expect(escapeSourceLine('\tG1\u0007')).toBe(' G1\\x07');
  });
});

describe('for a workflow command', () => {
  it.each<Row>([
    ['100 % of\nit', '100 %25 of%0Ait'],
    ['a\r\nb\rc', 'a%0Ab%0Ac'],
    ['::error::x', '::error::x'],
    ['%0A::error::x', '%250A::error::x'],
    [`${ESC}[31m`, '\\x1b[31m'],
    ['##[add-mask]x', '##\\x5badd-mask]x'],
  ])('the message %j becomes %j', (input, output) => {
    expect(commandData(input)).toBe(output);
  });

  it.each<Row>([
    ['a,b:c%d.svg', 'a%2Cb%3Ac%25d.svg'],
    ['x\n::error::y', 'x\\x0a%3A%3Aerror%3A%3Ay'],
  ])('the property %j becomes %j', (input, output) => {
    expect(commandProperty(input)).toBe(output);
  });
});

describe('for Markdown', () => {
  it.each<Row>([
    ['a|b', 'a\\|b'],
    ['<script>', '&lt;script&gt;'],
    ['![x](http://y)', '!\\[x\\](http\\://y)'],
    ['`rm`', '\\`rm\\`'],
    ['@gardener', '&#64;gardener'],
    ['a\n\n# b', 'a \\# b'],
    ['&lt;', '&amp;lt;'],
    ['\\|', '\\\\\\|'],
    ['1. x - y', '1. x - y'],
    ['WWW.example.org', 'WWW\\.example.org'],
    [':skull: $x$', '\\:skull\\: \\$x\\$'],
  ])('%j becomes %j', (input, output) => {
    expect(escapeMarkdown(input)).toBe(output);
  });

  it('a block is fenced by more backticks than it holds', () => {
    expect(fencedBlock(['a ```` b', '```'])).toBe('`````\na ```` b\n```\n`````');
    expect(fencedBlock(['x'], 'text')).toBe('```text\nx\n```');
  });
});

describe('for HTML', () => {
  it.each<Row>([
    ['<b a="x" c=\'y\'>&', '&lt;b a=&quot;x&quot; c=&#39;y&#39;&gt;&amp;'],
    ['\u202e\u0000', '\\u202e\\x00'],
    ['\ud800', '\ufffd'],
    ['a\nb', 'a\nb'],
  ])('%j becomes %j', (input, output) => {
    expect(escapeHtml(input)).toBe(output);
  });
});

describe('for SARIF', () => {
  it.each<Row>([
    ['signs/gate sign.gcode', 'signs/gate%20sign.gcode'],
    ['./a/b', 'a/b'],
    ['a:b/100%/#?.svg', 'a%3Ab/100%25/%23%3F.svg'],
    ['ü/蒔.svg', '%C3%BC/%E8%92%94.svg'],
    ["it's(1).svg", 'it%27s%281%29.svg'],
    ['\ud800.svg', '%EF%BF%BD.svg'],
  ])('the path %j becomes %j', (input, output) => {
    expect(relativeUri(input)).toBe(output);
  });

  it.each<Row>([
    ['depth 4 mm [5 % to 95 %]', 'depth 4 mm [5 % to 95 %]'],
    ['[click](https://example.org)', '\\[click\\](https://example.org)'],
    ['a\nb', 'a\nb'],
  ])('the text %j becomes %j', (input, output) => {
    expect(escapeSarif(input)).toBe(output);
  });
});

describe('for CSV', () => {
  it.each<[string | number | null, string]>([
    ['plain', 'plain'],
    ['a,b', '"a,b"'],
    ['say "x"', '"say ""x"""'],
    ['=1+1', '"\'=1+1"'],
    ['+1', '"\'+1"'],
    ['-1', '"\'-1"'],
    ['@SUM(A1)', '"\'@SUM(A1)"'],
    ['  =1', '"\'  =1"'],
    ['\t=1', '\\x09=1'],
    ['＝1', '"\'＝1"'],
    ['a\nb', 'a\\x0ab'],
    [-1.5, '-1.5'],
    [null, ''],
  ])('%j becomes %j', (input, output) => {
    expect(csvCell(input)).toBe(output);
  });
});

describe('for JSON', () => {
  it('means the same and holds nothing that a terminal or a runner acts on', () => {
    const value = { a: '\u009b31m\u202e\u2028\u007f\ufeff ##[error]x', b: '\ud800' };
    const text = jsonText(JSON.stringify(value));
    expect(JSON.parse(text)).toEqual(value);
    expect(text).not.toMatch(/[\u007f-\u009f\u202e\u2028\ufeff]|##\[|\p{Surrogate}/u);
  });
});

describe('well-formed text', () => {
  it('keeps pairs and replaces halves', () => {
    expect(wellFormed('😀\ud83d\ude00\ud83d x \ude00')).toBe('😀😀\ufffd x \ufffd');
  });
});
