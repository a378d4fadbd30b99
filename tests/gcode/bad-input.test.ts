import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readToolpath } from '../../src/gcode/read.ts';
import { bytesSource, SourceUnreadable } from '../../src/source/source.ts';
import { codes, OPTIONS, read } from './reading.ts';

describe('bad input', () => {
  it.each([
    ['an empty file', '', ['empty']],
    ['blank lines', '\n\n \r\n', ['empty']],
    ['prose', 'Dear member,\nthe gate sign', ['empty', 'unreadable-word']],
    ['a word cut short', 'G1 X10 F100\nG1 X', ['unreadable-word']],
    ['a number of 5,000 digits', `G1 F100 X${'1'.repeat(5000)}`, ['empty', 'line-too-long']],
    ['a number of 500 digits', `G1 F100 X${'1'.repeat(500)}`, ['empty', 'number-out-of-range']],
    ['1e400', 'G1 F100 X1e400', ['empty', 'unreadable-word']],
    ['Infinity', 'G1 F100 XInfinity', ['empty', 'unreadable-word']],
    ['a coordinate beyond any bed', 'G1 F100 X99999999', ['empty', 'number-out-of-range']],
    ['G2 without a centre', 'F100 M3 S1\nG2 X5 Y5', ['arc-no-centre']],
    ['a centre on the start', 'F100 M3 S1\nG2 X5 Y5 I0 J0', ['arc-no-centre']],
    ['a centre beyond all bounds', 'F100 M3 S1\nG2 X5 Y5 I999999999999', ['number-out-of-range']],
    ['a dwell of years', 'G1 X1 F1\nG4 P999999999', ['number-out-of-range']],
    ['R too small', 'F100 M3 S1\nG2 X50 R5', ['arc-radius-too-small']],
    ['R for a full circle', 'F100 M3 S1\nG2 X0 Y0 R5', ['empty', 'arc-radius-too-small']],
    ['a billion turns', 'F100 M3 S1\nG2 X0 Y0 I5 P1000000000', ['number-out-of-range']],
    ['F0', 'G1 X1 F0', ['zero-feed']],
    ['NUL', 'G1 F1 X1\nG1\u0000X2', ['binary']],
  ])('%s has its finding', (_, text, expected) => {
    const toolpath = read(text);
    expect(codes(toolpath).sort()).toEqual([...expected].sort());
    for (const { place } of toolpath.problems) {
      expect(place.line).toBeGreaterThanOrEqual(1);
      expect(place.endColumn).toBeGreaterThanOrEqual(place.column);
    }
  });

  it('arcs that do not fit give the numbers', () => {
    const toolpath = read('F100 M3 S1\nG2 X10 Y0 I4 J0');
    expect(toolpath.problems).toMatchObject([
      {
        code: 'arc-mismatch',
        place: { line: 2 },
        args: { startRadiusMm: 4, endRadiusMm: 6, differenceMm: 2, toleranceMm: 0.05 },
      },
    ]);
    expect(codes(read('F100 M3 S1\nG2 X10.05 Y0 I5 J0'))).toEqual([]);
    // 0.1 % of the radius is accepted whatever the stated tolerance.
    expect(codes(read('F100 M3 S1\nG2 X1000.4 Y0 I500 J0'))).toEqual([]);
    expect(codes(read('F100 M3 S1\nG2 X1000.6 Y0 I500 J0'))).toEqual(['arc-mismatch']);
  });

  it('many faults of one kind are one problem with a count', () => {
    const toolpath = read(`F100\n${'G1 X1,5\n'.repeat(5000)}`);
    expect(toolpath.problems.filter((p) => p.code === 'unreadable-word')).toMatchObject([
      { more: 4999, place: { line: 2, column: 4 } },
    ]);
  });

  it('a single endless line is passed over in bounded memory', () => {
    const chunk = new TextEncoder().encode('G1X1'.repeat(1 << 18));
    const source = {
      name: 'long.gcode',
      size: 200 * chunk.length,
      *chunks() {
        for (let i = 0; i < 200; i++) yield chunk;
      },
    };
    const toolpath = readToolpath(source, OPTIONS);
    expect(toolpath.problems.find((p) => p.code === 'line-too-long')).toMatchObject({
      args: { length: 200 * (1 << 20) },
    });
    expect(toolpath.analysed).toBe(false);
  });

  it('a source that cannot be read says so itself', () => {
    const source = {
      name: 'gone.gcode',
      size: 1,
      // biome-ignore lint/correctness/useYield: it fails before the first chunk
      *chunks(): Generator<Uint8Array> {
        throw new SourceUnreadable('it is gone');
      },
    };
    expect(() => readToolpath(source, OPTIONS)).toThrow(SourceUnreadable);
  });

  it('whatever the bytes, the answer is a toolpath', () => {
    const soup = fc.array(
      fc.oneof(
        fc.constantFrom(
          'G1',
          'G0',
          'G2',
          'G3',
          'G18',
          'G91',
          'G92',
          'G93',
          'G10L2P1',
          'G28',
          'G4',
          'G81',
          'G80',
          'M3',
          'M4',
          'M5',
          'M8',
          'M0',
          'M106',
        ),
        fc
          .tuple(
            fc.constantFrom(...'XYZIJKRFSPTLNEAO%/#[](;$*MG'),
            fc.oneof(fc.double().map(String), fc.integer().map(String), fc.constant('')),
          )
          .map((p) => p.join('')),
        fc.constantFrom('\n', '\r\n', '\r', ' ', '\u0000', 'ä', '🌱'),
      ),
      { maxLength: 60 },
    );
    fc.assert(
      fc.property(soup, fc.integer({ min: 1, max: 40 }), (parts, chunk) => {
        const bytes = new TextEncoder().encode(parts.join(''));
        const toolpath = readToolpath(bytesSource('soup', bytes, chunk), OPTIONS);
        expect(toolpath.bytes).toBe(bytes.length);
        expect(Number.isFinite(toolpath.time.totalS)).toBe(true);
        expect(Number.isFinite(toolpath.cutLengthMm)).toBe(true);
        for (const value of Object.values(toolpath.boundsMm ?? {})) expect(Number.isFinite(value)).toBe(true);
      }),
      { numRuns: 1500, seed: 4 },
    );
  });

  it('random bytes too', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 400 }), (bytes) => {
        expect(readToolpath(bytesSource('noise', bytes, 37), OPTIONS).bytes).toBe(bytes.length);
      }),
      { numRuns: 500, seed: 5 },
    );
  });

  it('of more kinds than are kept, every code has its finding all the same', () => {
    const unknown = Array.from({ length: 300 }, (_, i) => `M${700 + i}`);
    const { problems } = read([...unknown, 'G0 G1 X5', 'G1 X5 F0']);
    const counts = problems.map(({ code, more = 0 }) => [code, more] as const);
    expect(counts.filter(([code]) => code === 'not-analysed')).toHaveLength(200);
    expect(counts.reduce((sum, [code, more]) => sum + (code === 'not-analysed' ? 1 + more : 0), 0)).toBe(300);
    expect(counts.map(([code]) => code)).toEqual(expect.arrayContaining(['modal-conflict', 'zero-feed']));
  });

  it('of more dwells than are kept is told, and of no more is not', () => {
    const dwelling = (count: number) => read(['M3 S100', ...new Array<string>(count).fill('G4 P0.1')]).dwells;
    expect(dwelling(10_000).endedEarly).toBeNull();
    const many = dwelling(10_003);
    expect(many.items).toHaveLength(10_000);
    expect(many.endedEarly).toContain('3 of the dwells were not kept');
  });

  it('of more labels than are kept is told, and of no more is not', () => {
    const labelled = (count: number) =>
      read(['M3 S100 F600', ...Array.from({ length: count }, (_, i) => `(part ${i})\nG1 X${i + 1}`)]);
    expect(labelled(9_990).labelsEndedEarly).toBeNull();
    expect(labelled(10_010).labelsEndedEarly).toContain('more than 10000 different comments');
  });
});
