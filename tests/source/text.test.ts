import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { LineTable } from '../../src/source/text.ts';

describe('line and column of an offset', () => {
  it.each<[string, number, number, number]>([
    ['ab\ncd', 0, 1, 1],
    ['ab\ncd', 2, 1, 3],
    ['ab\ncd', 3, 2, 1],
    ['ab\r\ncd', 2, 1, 3],
    ['ab\r\ncd', 3, 1, 3],
    ['ab\r\ncd', 4, 2, 1],
    ['ab\rcd', 3, 2, 1],
    ['ab', 99, 1, 3],
    ['', 0, 1, 1],
  ])('%j at %d is %d:%d', (text, offset, line, column) => {
    expect(new LineTable(text).position(offset)).toEqual({ line, column });
  });

  it('never lies behind the end of a line, whatever ends it', () => {
    fc.assert(
      fc.property(
        fc.array(fc.constantFrom('a', 'é', '\r', '\n', '\r\n'), { maxLength: 30 }),
        fc.nat(70),
        (parts, offset) => {
          const text = parts.join('');
          const lines = text.split(/\r\n|\r|\n/);
          const { line, column } = new LineTable(text).position(offset);
          expect(column).toBeGreaterThanOrEqual(1);
          expect(column).toBeLessThanOrEqual(lines[line - 1]!.length + 1);
        },
      ),
    );
  });
});
