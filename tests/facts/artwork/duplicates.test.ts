import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { duplicateLines } from '../../../src/facts/artwork/crossing-lines.ts';
import type { ThroughLines } from '../../../src/facts/artwork/through-lines.ts';
import { workFor } from '../../../src/units/work.ts';
import { drawn, path } from './drawn.ts';

/** Rectangles and lines side by side and over each other, one a line of the file, some of them many times. */
const drawings = fc
  .array(fc.tuple(fc.nat(3), fc.nat(3), fc.integer({ min: 1, max: 3 }), fc.nat(2), fc.constantFrom(1, 1, 2, 3, 300)), {
    minLength: 1,
    maxLength: 5,
  })
  .chain((rows) => {
    const paths = rows.flatMap(([x, y, width, height, times]) =>
      Array.from({ length: times }, () => path(`M${9 * x} ${9 * y}h${9 * width}${height ? `v${9 * height}h-9` : ''}`)),
    );
    return fc.shuffledSubarray(paths, { minLength: paths.length });
  })
  .map((paths) => drawn(...paths));

/** The same lines, each taken for one of its own kind. */
function eachAlone(through: ThroughLines): ThroughLines {
  const numbers = [...through.lines.keys()];
  const equal = { firsts: numbers, kindOf: Uint32Array.from(numbers), members: numbers.map((i) => [i]) };
  return { ...through, equal };
}

describe('lines that are drawn again', () => {
  it('are told of the same two lines, as long and as often, whether like ones are recognised or searched for one by one', () => {
    fc.assert(
      fc.property(drawings, (through) => {
        const found = (of: ThroughLines) => {
          const { items, endedEarly } = duplicateLines(of, workFor(1e6));
          return { endedEarly, items: items.map((one) => ({ ...one, lengthMm: Math.round(one.lengthMm * 1e6) })) };
        };
        expect(found(through)).toEqual(found(eachAlone(through)));
      }),
      { numRuns: 200 },
    );
  });

  const found = (...elements: string[]) =>
    duplicateLines(drawn(...elements), workFor(0)).items.map(({ other, location, lengthMm, times }) => [
      other.line,
      location.line,
      Math.round(lengthMm * 1e3) / 1e3,
      times,
    ]);

  it('are told of the two that were drawn first along a stretch, with its length and how often it is run along', () => {
    const long = path('M10 10 H60');
    expect(found(long, path('M20 10 H50'))).toEqual([[2, 3, 30, 2]]);
    // Along 30 to 40 a third line runs too: it is told of the first two, the most often that it is.
    expect(found(long, path('M60 10 H10'), path('M30 10 H40'))).toEqual([[2, 3, 50, 3]]);
    // From 10 to 40 the second is the next line, from 40 to 60 the first comes again.
    expect(found(long, path('M10 10 H40'), long)).toEqual([
      [2, 3, 30, 3],
      [2, 4, 20, 2],
    ]);
  });

  it('add up the stretches of the same two lines', () => {
    expect(found(path('M10 10 H60'), path('M20 10 H20.6 V20 H40 V10 H40.7'))).toEqual([[2, 3, 1.3, 2]]);
  });

  it('may be one line that runs back over itself', () => {
    expect(found(path('M10 10 H60 V30 H50 H70'), path('M10 50 H90'))).toEqual([[2, 2, 10, 2]]);
  });

  it('are none where they only touch: less than a millimetre along each other, or more than a twentieth apart', () => {
    const long = path('M10 10 H60');
    expect(found(long, path('M50 20 V10 H50.9 V20'))).toEqual([]);
    expect(found(long, path('M50 20 V10 H51.1 V20'))).toEqual([[2, 3, 1.1, 2]]);
    expect(found(long, path('M10 10.06 H60'))).toEqual([]);
    expect(found(long, path('M10 10.04 H60'))).toHaveLength(1);
  });

  it('may be more than were found where the search ended early', () => {
    const lines = drawn(path('M10 10 H60'), path('M10 10 H60'), path('M20 10 H50'));
    expect(duplicateLines(lines, workFor(0)).endedEarly).toBeNull();
    expect(duplicateLines(lines, { ...workFor(0), duplicates: 0 }).endedEarly).toMatch(/\S/);
  });
});
