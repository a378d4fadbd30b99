import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { duplicateLines } from '../../../src/facts/artwork/crossing-lines.ts';
import { type ThroughLines, throughLines } from '../../../src/facts/artwork/through-lines.ts';
import { textSource } from '../../../src/source/source.ts';
import { readArtwork } from '../../../src/svg/read.ts';
import { workFor } from '../../../src/units/work.ts';

/** Rectangles and lines side by side and over each other, one a line of the file, some of them many times. */
const drawings = fc
  .array(fc.tuple(fc.nat(3), fc.nat(3), fc.integer({ min: 1, max: 3 }), fc.nat(2), fc.constantFrom(1, 1, 2, 3, 300)), {
    minLength: 1,
    maxLength: 5,
  })
  .chain((rows) => {
    const drawn = rows.flatMap(([x, y, width, height, times]) =>
      Array.from(
        { length: times },
        () => `<path d="M${9 * x} ${9 * y}h${9 * width}${height ? `v${9 * height}h-9` : ''}"/>`,
      ),
    );
    return fc.shuffledSubarray(drawn, { minLength: drawn.length });
  })
  .map((paths) => {
    const text = `<svg xmlns="http://www.w3.org/2000/svg" width="90mm" height="90mm" viewBox="0 0 90 90" fill="none" stroke="#1864ab">\n${paths.join('\n')}</svg>`;
    const artwork = readArtwork(textSource('gate.svg', text), { pxPerInch: 96 });
    return throughLines(artwork, 'gate.svg', [{ aim: 'through', outlines: Uint32Array.from(artwork.outlines.keys()) }]);
  });

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
});
