import { describe, expect, it } from 'vitest';
import { EXCERPT_WIDTH, gatherLines } from '../../src/findings/lines.ts';
import { bytesSource, type Source, SourceUnreadable, textSource } from '../../src/source/source.ts';

function lookUp(source: Source, line: number, column: number, endLine = line, endColumn = column) {
  const location = { file: 'a', line, column, endLine, endColumn };
  return gatherLines(new Map([['a', source]]), [location]).lookUp(location);
}

describe('gathered lines', () => {
  it.each([
    ['\\n', 'one\ntwo\nthree'],
    ['\\r\\n', 'one\r\ntwo\r\nthree'],
    ['a lone \\r', 'one\rtwo\rthree'],
  ])('end with %s, wherever a chunk ends', (_, text) => {
    for (let size = 1; size <= text.length; size++) {
      expect(lookUp(textSource('a', text, size), 2, 1).excerpt).toEqual({ startLine: 2, lines: ['two'] });
      expect(lookUp(textSource('a', text, size), 4, 1).outside).toMatch('line 4 of a file of 3');
    }
  });

  it('keep characters whole that a chunk divides', () => {
    for (let size = 1; size <= 12; size++) {
      expect(lookUp(textSource('a', 'a\n✂😀é', size), 2, 1).excerpt?.lines).toEqual(['✂😀é']);
    }
  });

  it('count columns in UTF-16 units', () => {
    expect(lookUp(textSource('a', '😀'), 1, 3).outside).toBeNull();
    expect(lookUp(textSource('a', '😀'), 1, 4).outside).toMatch('column 4');
  });

  it('leave out the byte-order mark of a file and keep that character elsewhere', () => {
    expect(lookUp(textSource('a', '\ufeffone\n\ufefftwo'), 1, 1).excerpt?.lines).toEqual(['one']);
    expect(lookUp(textSource('a', '\ufeffone\n\ufefftwo'), 2, 1).excerpt?.lines).toEqual(['\ufefftwo']);
  });

  it('read UTF-16 by its byte-order mark', () => {
    const bytes = new Uint8Array(Buffer.from('\ufeff<svg>\n<g/>', 'utf16le'));
    for (const size of [2, 3, 7, 100]) {
      expect(lookUp(bytesSource('a', bytes, size), 2, 1, 2, 5).excerpt?.lines).toEqual(['<g/>']);
    }
  });

  it('show at most three lines of a long stretch, and not the line it ends ahead of', () => {
    const text = 'a\nb\nc\nd\ne\n';
    expect(lookUp(textSource('a', text), 1, 1, 5, 2).excerpt).toEqual({ startLine: 1, lines: ['a', 'b', 'c'] });
    expect(lookUp(textSource('a', text), 2, 1, 3, 1).excerpt).toEqual({ startLine: 2, lines: ['b'] });
  });

  it('cut a line that is too long around the place, and say where the cut begins', () => {
    const text = 'x'.repeat(5000) + 'HERE' + 'y'.repeat(5000);
    const { excerpt } = lookUp(textSource('a', text, 64), 1, 5001, 1, 5005);
    expect(excerpt?.lines[0]).toHaveLength(EXCERPT_WIDTH);
    expect(excerpt?.lines[0]?.slice(5001 - (excerpt.startColumn ?? 1), 5005 - (excerpt.startColumn ?? 1))).toBe('HERE');
  });

  it('never cut a character into half a surrogate pair', () => {
    const text = '😀'.repeat(400);
    for (const column of [1, 200, 201, 302]) {
      const line = lookUp(textSource('a', text), 1, column).excerpt?.lines[0] ?? '';
      expect(line).not.toMatch(/\p{Surrogate}/u);
    }
  });

  it('know nothing of a file whose bytes cannot be had', () => {
    const gone: Source = {
      name: 'a',
      size: 0,
      // biome-ignore lint/correctness/useYield: the bytes cannot be had
      *chunks() {
        throw new SourceUnreadable('it is a folder');
      },
    };
    expect(lookUp(gone, 1, 1)).toEqual({ excerpt: null, text: '', outside: null });
    expect(lookUp(gone, 2, 1).outside).toBe('the file was not read');
  });
});
