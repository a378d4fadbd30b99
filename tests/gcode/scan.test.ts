import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Block } from '../../src/gcode/text/block.ts';
import { readOddLine } from '../../src/gcode/text/odd-line.ts';
import { LINE_LIMIT, type LineSink, Scanner } from '../../src/gcode/text/scan.ts';
import { bytesSource, textSource } from '../../src/source/source.ts';

interface Seen {
  line: number;
  words: [string, number, number, number][];
}

/** What a block holds, as a list: letter, value (codes tenfold), start, end. */
function contents(block: Block): Seen {
  // Columns are found when a place is asked for.
  block.place();
  const words: Seen['words'] = [];
  for (let i = 0; i < 26; i++) {
    if (i === 6 || i === 12 || !(block.mask & (1 << i))) continue;
    words.push([String.fromCharCode(65 + i), block.values[i]!, block.starts[i]!, block.ends[i]!]);
  }
  for (let i = 0; i < block.gCount; i++) words.push(['G', block.g[i]!, block.gStarts[i]!, block.gEnds[i]!]);
  for (let i = 0; i < block.mCount; i++) words.push(['M', block.m[i]!, block.mStarts[i]!, block.mEnds[i]!]);
  return { line: block.line, words };
}

/** Runs the scanner and notes what each lane took. */
function scan(text: string | Uint8Array, chunkSize?: number) {
  const plain: Seen[] = [];
  const odd: [number, string][] = [];
  const long: [number, number][] = [];
  const sink: LineSink = {
    words: (block) => plain.push(contents(block)),
    odd: (bytes, line) => odd.push([line, new TextDecoder().decode(bytes)]),
    tooLong: (_, line, length) => long.push([line, length]),
  };
  const scanner = new Scanner(sink);
  scanner.scan(typeof text === 'string' ? textSource('t', text, chunkSize) : bytesSource('t', text, chunkSize));
  return { plain, odd, long, lines: scanner.lines, bytes: scanner.bytes };
}

const number = fc.oneof(
  fc.integer({ min: -99999, max: 99999 }).map(String),
  fc.tuple(fc.constantFrom('', '-', '+'), fc.nat(9999), fc.nat(9999)).map(([sign, a, b]) => `${sign}${a}.${b}`),
  fc.nat(999).map((n) => `.${n}`),
  fc.nat(999).map((n) => `-${n}.`),
  fc.constantFrom('0', '-0', '007', '1.000000', '123456789012345', '0.1', '+3'),
);
const blank = fc.constantFrom('', ' ', '  ', '\t');
const word = fc
  .tuple(fc.constantFrom(...'ABCDFGHIJKLMNPQRSTUVWXYZgxyzfs'), blank, number, blank)
  .map((parts) => parts.join(''));
const line = fc.array(word, { minLength: 0, maxLength: 8 }).map((words) => words.join(''));

describe('the two lanes', () => {
  it('read every line alike that both can read', () => {
    let both = 0;
    fc.assert(
      fc.property(line, (text) => {
        const { plain, odd } = scan(text);
        const block = new Block();
        const slow = readOddLine(text, 1, block);
        // What the fast lane refuses is the slow lane's alone.
        if (odd.length > 0) return;
        expect(slow.issues).toEqual([]);
        if (plain.length === 0) {
          expect(slow.hasWords).toBe(false);
          return;
        }
        both++;
        expect(slow.hasWords).toBe(true);
        expect(contents(block)).toEqual(plain[0]);
      }),
      { numRuns: 3000, seed: 1 },
    );
    expect(both).toBeGreaterThan(500);
  });

  it('convert numbers of up to 15 digits exactly as Number() does', () => {
    fc.assert(
      fc.property(fc.nat(10 ** 9 - 1), fc.nat(999_999), (a, b) => {
        expect(scan(`X${a}.${b}`).plain[0]!.words[0]![1]).toBe(Number(`${a}.${b}`));
      }),
      { numRuns: 1000, seed: 2 },
    );
  });

  it('cut into chunks of any size, give the same', () => {
    const text = 'G21\r\nG1X1Y2\r(note)\n\nX-3.5 F100\r\n;end\rM2';
    const whole = scan(text);
    for (let size = 1; size <= text.length; size++) expect(scan(text, size)).toEqual(whole);
    expect(whole.lines).toBe(7);
    expect(whole.plain.map((seen) => seen.line)).toEqual([1, 2, 5, 7]);
    expect(whole.odd).toEqual([
      [3, '(note)'],
      [6, ';end'],
    ]);
  });
});

describe('the fast lane', () => {
  it('takes lower case, glued words, leading points, signs and blanks', () => {
    expect(scan('n10 g1x.5y-2.z +3').plain[0]!.words.map(([l, v]) => [l, v])).toEqual([
      ['X', 0.5],
      ['Y', -2],
      ['Z', 3],
      ['G', 10],
    ]);
  });

  it.each([
    'X',
    'X-',
    'X.',
    'X1,5',
    'X1e3',
    'X1E3',
    'X 1 0',
    'X#1',
    'X[1]',
    'X1 X2',
    'G1 N5 X1',
    'N10 N20',
    'M117 X1',
    '/G1',
    '%',
    '$H',
    '*12',
    'X１',
    'X−1',
    'X1234567890123456',
  ])('leaves %j to the slow lane', (text) => {
    expect(scan(text)).toMatchObject({ plain: [], odd: [[1, text]] });
  });

  it('drops a byte-order mark', () => {
    expect(scan(new Uint8Array([0xef, 0xbb, 0xbf, 0x58, 0x31, 10])).plain[0]!.words).toEqual([['X', 1, 0, 2]]);
  });

  it('takes a line for too long whatever it is made of and however the source is cut', () => {
    const text = `X1${' '.repeat(LINE_LIMIT)}Y1\nX2`;
    for (const size of [100, 5000, 1 << 20]) expect(scan(text, size).long).toEqual([[1, LINE_LIMIT + 4]]);
  });

  it('keeps counting lines and bytes beyond a line that is too long', () => {
    const text = `X1\n${'X1 '.repeat(LINE_LIMIT)}\nX2`;
    for (const size of [100, 5000, 1 << 20]) {
      const seen = scan(text, size);
      expect(seen.long).toEqual([[2, 3 * LINE_LIMIT]]);
      expect(seen.plain.map((s) => s.line)).toEqual([1, 3]);
      expect(seen.bytes).toBe(text.length);
    }
  });
});
