import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { markedLines } from '../../src/source/marked-lines.ts';
import { textSource } from '../../src/source/source.ts';

describe('lines that hold a word', () => {
  it('are found whatever ends a line', () => {
    const text = 'a mark\r\nno\rmark b\n\nx';
    expect(markedLines(textSource('f', text), 'mark', 9)).toEqual([
      { line: 1, text: 'a mark' },
      { line: 3, text: 'mark b' },
    ]);
  });

  it('are the same however the bytes are cut into chunks', () => {
    fc.assert(
      fc.property(
        fc.array(fc.constantFrom('mark', 'ma', 'rk', '\n', '\r\n', 'x'), { maxLength: 40 }),
        fc.integer({ min: 1, max: 9 }),
        (parts, size) => {
          const text = parts.join('');
          const expected = text
            .split(/\r\n|\r|\n/)
            .flatMap((line, i) => (line.includes('mark') ? [{ line: i + 1, text: line }] : []));
          expect(markedLines(textSource('f', text, size), 'mark', 99)).toEqual(expected);
        },
      ),
    );
  });

  it('are no more than asked for', () => {
    expect(markedLines(textSource('f', 'mark\n'.repeat(100)), 'mark', 3)).toHaveLength(3);
  });
});
