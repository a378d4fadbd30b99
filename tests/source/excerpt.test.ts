import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { EXCERPT_UNITS, readLinesAt } from '../../src/source/excerpt.ts';
import { bytesSource, textSource } from '../../src/source/source.ts';
import { LineTable } from '../../src/source/text.ts';

const at = (text: string, lines: number[], chunk?: number) =>
  Object.fromEntries(readLinesAt(textSource('t', text, chunk), lines));

describe('lines read again from a source', () => {
  it('are found whatever ends them', () => {
    expect(at('a\nb\r\nc\rd', [1, 2, 3, 4])).toEqual({ 1: 'a', 2: 'b', 3: 'c', 4: 'd' });
  });

  it('are the same however the source is cut', () => {
    const text = 'eins\r\n\r\nzwei\rdrei\n\nübër 🌱 fünf';
    const whole = at(text, [1, 2, 3, 4, 5, 6]);
    for (let size = 1; size < text.length + 4; size++) expect(at(text, [1, 2, 3, 4, 5, 6], size)).toEqual(whole);
    expect(whole).toEqual({ 1: 'eins', 2: '', 3: 'zwei', 4: 'drei', 5: '', 6: 'übër 🌱 fünf' });
  });

  it('that do not exist are left out, and numbers below 1 are ignored', () => {
    expect(at('a\n', [0, -3, 1, 2, 9])).toEqual({ 1: 'a' });
    expect(at('', [1])).toEqual({});
  });

  it('lose a byte-order mark on the first line only', () => {
    expect(readLinesAt(bytesSource('t', new Uint8Array([0xef, 0xbb, 0xbf, 65])), [1]).get(1)).toBe('A');
    expect(at('a\n\uFEFFb', [2])).toEqual({ 2: '\uFEFFb' });
  });

  it('are cut at the limit without splitting a character', () => {
    expect(at('x'.repeat(10_000), [1])[1]).toBe('x'.repeat(EXCERPT_UNITS));
    expect(at(`${'x'.repeat(EXCERPT_UNITS - 1)}🌱`, [1])[1]).toBe('x'.repeat(EXCERPT_UNITS - 1));
    expect(at('€'.repeat(1000), [1])[1]).toBe('€'.repeat(EXCERPT_UNITS));
    expect(at('🌱'.repeat(1000), [1])[1]).toBe('🌱'.repeat(EXCERPT_UNITS / 2));
  });

  it('end the reading with the last line asked for', () => {
    let given = 0;
    const source = {
      name: 't',
      size: 1e9,
      *chunks() {
        for (;;) {
          given++;
          yield new TextEncoder().encode('line\n');
        }
      },
    };
    expect(readLinesAt(source, [3]).get(3)).toBe('line');
    expect(given).toBe(3);
  });

  it('agree with the line index of a text', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: fc.constantFrom('a', 'ß', '\n', '\r', ' ') }),
        fc.integer({ min: 1, max: 7 }),
        (text, chunk) => {
          const index = new LineTable(text);
          const lines = readLinesAt(textSource('t', text, chunk), [1, 2, 3, 4, 5]);
          for (const [line, content] of lines) {
            const offset = text.split(/\r\n|\r|\n/).slice(0, line - 1).length;
            expect(offset).toBe(line - 1);
            expect(content).toBe(text.split(/\r\n|\r|\n/)[line - 1]);
            expect(index.lines).toBeGreaterThanOrEqual(line);
          }
        },
      ),
      { seed: 3 },
    );
  });
});
