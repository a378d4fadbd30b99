import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { FileProblem } from '../../src/job/files/problem.ts';
import { readMachine } from '../../src/job/machine/machine.ts';
import { readMaterial } from '../../src/job/material/material.ts';
import { readSettings } from '../../src/job/settings/settings.ts';
import { readSidecar } from '../../src/job/sidecar/sidecar.ts';
import { bytesSource, type Source, SourceUnreadable, textSource } from '../../src/source/source.ts';
import { LineTable } from '../../src/source/text.ts';
import { example, MACHINE, MATERIAL, SIDECAR } from './examples.ts';

const read = (text: string) => readSidecar(textSource(SIDECAR, text));
const first = (text: string): FileProblem => {
  const { value, problems } = read(text);
  expect(value).toBeNull();
  return problems[0]!;
};
const whole = example(SIDECAR);

describe('what is read in silence', () => {
  it.each([
    ['a byte-order mark', `\ufeff${whole}`],
    ['line ends of Windows', whole.replaceAll('\n', '\r\n')],
    ['line ends of the old Macintosh', whole.replaceAll('\n', '\r')],
    ['no line end at the end', whole.trimEnd()],
    ['a document start', `---\n${whole}`],
    ['quotes around a value', whole.replace('lens: 2in', 'lens: "2in"')],
  ])('%s', (_, text) => {
    const { value, problems } = read(text);
    expect(problems).toEqual([]);
    expect(value?.lens).toBe('2in');
  });

  it('UTF-16 with its byte-order mark', () => {
    const units = Uint16Array.from(`\ufeff${whole}`, (c) => c.charCodeAt(0));
    expect(readSidecar(bytesSource(SIDECAR, new Uint8Array(units.buffer))).problems).toEqual([]);
  });

  it('gives the same places whatever ends a line', () => {
    const wrong = whole.replace('12 mm/s', '12');
    const places = ['\n', '\r\n', '\r'].map((end) => first(wrong.replaceAll('\n', end)).place);
    expect(places[0]).toMatchObject({ line: 17, column: 12, endLine: 17, endColumn: 14 });
    expect(places[1]).toEqual(places[0]);
    expect(places[2]).toEqual(places[0]);
  });
});

describe('what is no YAML of ours', () => {
  it.each<[string, string, string, number, number]>([
    ['a tab', whole.replace('    power', '\tpower'), 'a tab indents this line', 16, 1],
    ['a key twice', whole.replace('lens: 2in', 'machine: x'), 'a second time', 3, 1],
    ['an alias', whole.replace('lens: 2in', 'lens: *a'), 'the alias *a', 3, 7],
    ['an anchor', whole.replace('lens: 2in', 'lens: &a 2in'), 'the anchor &a', 3, 10],
    ['a tag', whole.replace('lens: 2in', 'lens: !!str 2in'), 'a tag', 3, 13],
    ['a merge key', whole.replace('lens: 2in', '<<: { lens: 2in }'), 'merge keys', 3, 1],
    ['a version directive', `%YAML 1.1\n---\n${whole}`, 'a % directive', 1, 1],
    ['a directive behind a comment', `# hello\n%TAG ! x\n---\n${whole}`, 'a % directive', 2, 1],
    ['a second document', `${whole}---\nkerflint: 1\n`, 'a second document', whole.split('\n').length, 1],
    ['a key that is a list', whole.replace('lens: 2in', '[a]: 2in'), 'a plain word', 3, 1],
    ['an empty file', '', 'empty', 1, 1],
    ['only comments', '# nothing\n', 'empty', 1, 1],
    ['a NUL', whole.replace('2in', '2\0in'), 'not a text file', 3, 8],
    ['a text', 'hello', 'keys with values belong here', 1, 1],
    ['a list', '- 1\n- 2\n', 'a list stands where keys with values belong', 1, 1],
  ])('%s', (_, text, problem, line, column) => {
    const { args, place } = first(text);
    expect(args.text).toContain(problem);
    expect([place.line, place.column]).toEqual([line, column]);
  });

  it('refuses aliases where their anchors stand, so that no bomb is ever unfolded', () => {
    let text = 'a0: &a0 [x, x, x, x, x, x, x, x, x]\n';
    for (let i = 1; i < 30; i++)
      text += `a${i}: &a${i} [${Array(9)
        .fill(`*a${i - 1}`)
        .join(', ')}]\n`;
    expect(first(text).args.text).toContain('the anchor &a0');
  });

  it('takes the character that stands for lost bytes where it is the file’s own', () => {
    const { value, problems } = read(`${whole}# \ufffd\n`);
    expect(problems).toEqual([]);
    expect(value).not.toBeNull();
  });

  it('says which bytes are no UTF-8', () => {
    const bytes = Uint8Array.from(whole.replace('±', '\u00b1'), (c) => c.charCodeAt(0));
    const problem = readSidecar(bytesSource(SIDECAR, bytes)).problems[0]!;
    expect(problem.args.text).toContain('not UTF-8');
    expect(problem.place).toMatchObject({ line: 5, column: 19 });
  });

  it.each(['__proto__', 'constructor', 'prototype', 'toString', 'hasOwnProperty'])(
    'the key %s is unknown and reaches nothing',
    (key) => {
      const before = Object.keys(Object.prototype).length;
      const { code, place } = first(`${whole}${key}: { polluted: yes }\n`);
      expect(code).toBe('unknown-key');
      expect(place.line).toBe(whole.split('\n').length);
      expect(Object.keys(Object.prototype)).toHaveLength(before);
      expect(({} as Record<string, unknown>)['polluted']).toBeUndefined();
    },
  );

  it.each(['"', '!!a ', '] ', 'a:\n', '---\n', '%a\n'])(
    'a quarter of a megabyte of %j ends with a problem',
    (piece) => {
      const { problems } = read(piece.repeat(Math.floor(250_000 / piece.length)));
      expect(problems.length).toBeGreaterThan(0);
      expect(problems.length).toBeLessThanOrEqual(50);
    },
  );

  // A parser that recurses this deep can end the whole process, so these must be stopped before they reach it.
  it.each(['[', '{a: ', '- ', '? ', '- ? ', '[\n', '[ #]\n', '"]" [\n', '[ "]",\n'])(
    '%j within itself is too deep',
    (piece) => {
      const { args, place } = first(piece.repeat(Math.floor(250_000 / piece.length)));
      expect(args.text).toBe('the file is nested too deeply to be read');
      expect(place.line).toBeLessThan(30);
    },
  );

  it('blocks within blocks are too deep by their indentation', () => {
    const blocks = Array.from({ length: 600 }, (_, i) => `${' '.repeat(i)}a:\n`).join('');
    expect(first(blocks).args.text).toBe('the file is nested too deeply to be read');
  });

  it('is not too deep for brackets in quotes, comments and long lines', () => {
    const reason = '[{'.repeat(100);
    const text = whole
      .replace('proved on coupon 12', reason)
      .replace('kerflint: 1', `kerflint: 1 # ${'['.repeat(500)}`);
    expect(read(text).value?.waivers[0]?.reason).toBe(reason);
  });

  it('refuses a file that is larger than any sidecar', () => {
    const problem = first(`${whole}${'# filler\n'.repeat(40_000)}`);
    expect(problem.code).toBe('unreadable');
    expect(problem.args.text).toContain('more than the 262144');
  });

  it('passes on why a file cannot be read', () => {
    const gone: Source = {
      name: SIDECAR,
      size: 10,
      // biome-ignore lint/correctness/useYield: the first read fails
      *chunks() {
        throw new SourceUnreadable('permission denied');
      },
    };
    expect(readSidecar(gone).problems[0]).toMatchObject({
      code: 'unreadable',
      args: { text: `${SIDECAR} cannot be read: permission denied` },
    });
  });
});

describe('whatever a file holds', () => {
  const files = [
    [SIDECAR, readSidecar],
    [MACHINE, (source: Source) => readMachine(source, 'shop')],
    [MATERIAL, (source: Source) => readMaterial(source, 'shop')],
    ['.kerflint.yaml', readSettings],
  ] as const;

  it('is answered without a throw, with places inside the file', () => {
    const pieces = [
      '\n',
      '  ',
      ': ',
      '- ',
      '{',
      '}',
      '[',
      ']',
      '"',
      "'",
      '#',
      '&a',
      '*a',
      '!!map ',
      '|',
      '>',
      '%',
      '\t',
      'null',
      '1e999',
      '.nan',
      '-5 mm',
      '\0',
      '\ud800',
      '<<: ',
      '__proto__: ',
      '±',
      '1',
    ];
    const cut = fc.record({ at: fc.nat(4000), length: fc.nat(40), piece: fc.constantFrom(...pieces) });
    fc.assert(
      fc.property(fc.constantFrom(...files), fc.array(cut, { minLength: 1, maxLength: 6 }), ([name, reader], cuts) => {
        let text = name === '.kerflint.yaml' ? 'kerflint: 1\nmachines: [shop]\nmaterials: [shop]\n' : example(name);
        for (const { at, length, piece } of cuts)
          text = text.slice(0, at % text.length) + piece + text.slice((at % text.length) + length);
        const { value, problems } = reader(textSource(name, text));
        expect(value === null).toBe(problems.length > 0);
        const index = new LineTable(text);
        for (const { place, args } of problems) {
          expect(args.text.length).toBeLessThan(600);
          expect(place.file).toBe(name);
          expect(place.line).toBeGreaterThanOrEqual(1);
          expect(place.endLine).toBeLessThanOrEqual(index.lines);
          expect(place.endLine > place.line || place.endColumn >= place.column).toBe(true);
        }
      }),
      { numRuns: 1500 },
    );
  });

  it('is answered without a throw when any value stands at any key', () => {
    const values = fc.jsonValue({ maxDepth: 3 });
    fc.assert(
      fc.property(fc.constantFrom(...files), fc.nat(60), values, ([name, reader], at, value) => {
        const text = name === '.kerflint.yaml' ? 'kerflint: 1\nmachines: [shop]\nbudget: 1 EUR\n' : example(name);
        const lines = text.split('\n');
        const slot = at % lines.length;
        // JSON is YAML: whatever it holds can stand in the place of a value.
        const edited = lines.with(slot, lines[slot]!.replace(/: .*/, `: ${JSON.stringify(value)}`)).join('\n');
        const loaded = reader(textSource(name, edited));
        expect(loaded.value === null).toBe(loaded.problems.length > 0);
      }),
      { numRuns: 600 },
    );
  });
});
