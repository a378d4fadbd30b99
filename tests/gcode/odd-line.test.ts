import fc from 'fast-check';
import { parseLine } from 'gcode-parser';
import { describe, expect, it } from 'vitest';
import { Block } from '../../src/gcode/text/block.ts';
import { readOddLine } from '../../src/gcode/text/odd-line.ts';

function odd(text: string) {
  const block = new Block();
  const result = readOddLine(text, 1, block);
  return { ...result, block, codes: result.issues.map((issue) => issue.code) };
}

// What gcode-parser 2.2.0 makes of each line stands beside it; it says nothing of an error in any of them.
describe('numbers that the parser misreads in silence', () => {
  it.each([
    ['X1,5', [['X', 1]]],
    [
      'X1e3',
      [
        ['X', 1],
        ['E', 3],
      ],
    ],
    ['X--5', [['X', '--5']]],
    ['X1.2.3', [['X', '1.2.3']]],
    ['X.', [['X', '.']]],
    ['X-', [['X', '-']]],
    ['X+', [['X', '+']]],
    [`X${'9'.repeat(400)}`, [['X', Number.POSITIVE_INFINITY]]],
  ] as [string, unknown][])('%s is reported and not carried out', (text, theirs) => {
    expect(parseLine(text).words).toEqual(theirs);
    const result = odd(text);
    expect(result.hasWords).toBe(false);
    expect(result.issues[0]).toMatchObject({ loses: true });
  });

  it('X 1 0 is 10 as in RS274, and reported', () => {
    expect(parseLine('X 1 0').words).toEqual([['X', 10]]);
    const result = odd('X 1 0');
    expect(result.hasWords).toBe(true);
    expect(result.block.values[23]).toBe(10);
    expect(result.issues[0]).toMatchObject({ code: 'unreadable-word', loses: false, start: 0, end: 5 });
  });
});

describe('words that the parser takes', () => {
  const digits = fc.string({ unit: fc.constantFrom(...'0123456789+-. '), minLength: 1, maxLength: 8 });
  const word = fc.tuple(fc.constantFrom(...'XYZIJFSPQRT'), digits);

  it('bear the numbers that they are written with, each at its own column', () => {
    fc.assert(
      fc.property(fc.uniqueArray(word, { minLength: 1, maxLength: 6, selector: ([letter]) => letter }), (words) => {
        const text = `${words.map(([letter, number]) => `${letter}${number}`).join('')};odd`;
        const result = odd(text);
        const numbers = words.map(([, number]) => number.replace(/ /g, ''));
        // The grammar of a decimal number in RS274/NGC ([NISTIR-6556], 3.3.2.1; section from memory).
        const plain = numbers.every((number) => /^[-+]?(\d+\.?\d*|\.\d+)$/.test(number));
        expect(result.hasWords).toBe(plain);
        if (!plain) return;
        let column = 0;
        for (const [i, [letter, number]] of words.entries()) {
          const at = letter.charCodeAt(0) - 65;
          expect(result.block.values[at]).toBe(Number(numbers[i]));
          expect(result.block.starts[at]).toBe(column);
          column += 1 + number.length;
        }
      }),
    );
  });
});

describe('words that the parser drops in silence', () => {
  it.each(['X', 'G', 'XNaN', 'XInfinity', 'X１', 'X−1', '5', 'G1 X5 Y'])(
    '%s is reported and not carried out',
    (text) => {
      const result = odd(text);
      expect(result.hasWords).toBe(false);
      expect(result.codes).toContain('unreadable-word');
      expect(result.issues.some((issue) => issue.loses)).toBe(true);
    },
  );

  it.each([
    ['X#100', 'parameter'],
    ['X[1+2]', 'expression'],
    ['#100=1', 'parameter'],
    ['G1 X[#<pos>]', 'expression'],
    ['o100 while [#1 GT 2]', 'o-word'],
    ['O<slot> call', 'o-word'],
  ])('%s is a %s that is not analysed', (text, what) => {
    const result = odd(text);
    expect(result.hasWords).toBe(false);
    expect(result.issues[0]).toMatchObject({ code: 'not-analysed', loses: true });
    expect(result.issues[0]!.args['what']).toBe(what);
  });

  it('bare axis letters behind G28 are the axes that go home', () => {
    const result = odd('G28 X Z');
    expect(result.issues).toEqual([]);
    expect(result.block.values[23]).toBeNaN();
    expect(result.block.values[25]).toBeNaN();
  });
});

describe('words that the parser invents', () => {
  it('text behind M117 is no motion', () => {
    expect(parseLine('M117 Layer 3 of 10').words).toEqual([
      ['M', 117],
      ['R', 3],
      ['F', 10],
    ]);
    const result = odd('M117 Layer 3 of 10');
    expect(result.block.m[0]).toBe(1170);
    expect(result.block.mask).toBe(1 << 12);
  });

  it('a settings line is not carried out', () => {
    expect(parseLine('$J=G91 X10 F500').words).toHaveLength(3);
    const result = odd('$J=G91 X10 F500');
    expect(result.hasWords).toBe(false);
    expect(result.issues[0]).toMatchObject({ code: 'not-analysed', loses: true });
    expect(odd('$32=1')).toMatchObject({ issues: [], host: { kind: 'setting', number: 32, value: 1 } });
  });

  it('a product is an expression and not a checksum', () => {
    expect(parseLine('X[2*3]').cs).toBe(3);
    expect(odd('X[2*3]').issues[0]!.args['what']).toBe('expression');
  });

  it('a slash at the start is block delete: carried out, and noted', () => {
    const result = odd('/G1 X5');
    expect(result).toMatchObject({ blockDelete: true, hasWords: true });
    expect(result.block.values[23]).toBe(5);
    expect(odd('N10 /G1 X5').hasWords).toBe(false);
  });

  it.each([
    ['G1 N5 X1', 'N5'],
    ['N10 N20 X1', 'N20'],
  ])('%s: a line number stands first or is an error', (text, word) => {
    expect(odd(text)).toMatchObject({
      hasWords: false,
      codes: ['unreadable-word'],
      issues: [{ args: { text: word, reason: 'a line number that is not the first word' } }],
    });
  });

  it('a line number is a number', () => {
    expect(parseLine('N1.2.3 G1').ln).toBeNaN();
    expect(odd('N1.2.3 G1').issues[0]!.args).toEqual({ text: 'N1.2.3', reason: 'not a decimal number' });
  });

  it('a letter that stands twice is an error', () => {
    expect(odd('G1 X1 X2')).toMatchObject({ hasWords: false, codes: ['unreadable-word'] });
  });
});

describe('comments', () => {
  it('of both kinds are kept apart from words', () => {
    const result = odd('G1 (to the gate) X5 ; sign (not) read');
    expect(result.comment).toBe('sign (not) read');
    expect(result.block.starts[23]).toBe(17);
    expect(odd('G1 X5 (a;b)').comment).toBe('a;b');
  });

  it('that are not closed swallow the rest, which is reported', () => {
    expect(parseLine('G1 X5 (open Y6').words).toEqual([
      ['G', 1],
      ['X', 5],
    ]);
    expect(odd('G1 X5 (open Y6')).toMatchObject({ hasWords: false, codes: ['unreadable-word'] });
    expect(odd('(just a remark')).toMatchObject({ codes: ['unreadable-word'], comment: 'just a remark' });
  });

  it('inside comments, and stray parentheses, are reported', () => {
    expect(odd('G1 (a (b) c) X5').codes).toEqual(['unreadable-word']);
    expect(odd('G1 (a (b) X9) Y5')).toMatchObject({ hasWords: false });
    expect(odd('G1 X5) Y1').codes).toEqual(['unreadable-word']);
  });
});

describe('checksums', () => {
  // 'N3 T0' exclusive-or'ed is 57, the example of the RepRap wiki's page on G-code (from memory).
  it('that hold are passed over, with a comment behind them too', () => {
    expect(odd('N3 T0*57')).toMatchObject({ hasWords: true, issues: [] });
    expect(parseLine('N3 T0*57 ; 2*2').err).toBe(true);
    expect(odd('N3 T0*57 ; 2*2')).toMatchObject({ hasWords: true, issues: [] });
  });

  it('that do not hold are reported and the line is not carried out', () => {
    expect(odd('N3 T1*57')).toMatchObject({ hasWords: false, codes: ['checksum'] });
  });
});

describe('other lines', () => {
  it('a percent sign alone marks the ends of a program; with text it is a command', () => {
    expect(odd(' % ')).toMatchObject({ percent: true, issues: [] });
    expect(odd('%wait').codes).toEqual(['not-analysed']);
  });

  it('a program number alone says nothing', () => {
    expect(odd('O1000')).toMatchObject({ hasWords: false, issues: [] });
  });

  it('control characters make a line binary', () => {
    expect(odd('G1 X5\u0000Y1')).toMatchObject({
      codes: ['binary'],
      issues: [{ start: 5, end: 6, args: { byte: 0 } }],
    });
  });

  it('quotes of the input are short and free of control characters', () => {
    const result = odd(`X${'1,'.repeat(300)}\u0085`);
    const text = String(result.issues[0]!.args['text']);
    expect(text.length).toBeLessThanOrEqual(61);
  });

  it('columns count UTF-16 units', () => {
    expect(odd('(🌱) G1 X5').block.starts[23]).toBe(8);
  });
});
