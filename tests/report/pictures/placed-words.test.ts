import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { labelBox } from '../../../src/report/pictures/label-room.ts';
import { fittedTo, PlacedWords, wrappedTo } from '../../../src/report/pictures/placed-words.ts';

const INSIDE = { left: 0, top: 0, right: 300, bottom: 200 };

describe('words on a picture', () => {
  it('never lie on each other nor outside, and are dropped where there is no place', () => {
    const at = fc.record({ x: fc.integer({ min: -50, max: 350 }), y: fc.integer({ min: -20, max: 220 }) });
    const one = fc.record({
      text: fc.constantFrom('pass 1: 8.4 mm', 'doubt', 'you are here: 4.5 mm/s, 6 %'),
      places: fc.array(at, { minLength: 1, maxLength: 4 }),
    });
    fc.assert(
      fc.property(fc.array(one, { minLength: 2, maxLength: 25 }), (labels) => {
        const words = new PlacedWords(INSIDE);
        const boxes = labels.flatMap(({ text, places }) => {
          const drawn = words.place({ text, size: 13 }, places);
          const [, x, y] = /x="([-\d.]+)" y="([-\d.]+)"/.exec(drawn) ?? [];
          return x === undefined ? [] : [labelBox(Number(x), Number(y), text, 13, 'start')];
        });
        for (const [i, a] of boxes.entries()) {
          expect(a.left >= INSIDE.left && a.right <= INSIDE.right && a.top >= 0 && a.bottom <= 200).toBe(true);
          for (const b of boxes.slice(i + 1))
            expect(a.right <= b.left || b.right <= a.left || a.bottom <= b.top || b.bottom <= a.top).toBe(true);
        }
      }),
      { seed: 3, numRuns: 200 },
    );
  });

  it('keep off what is drawn', () => {
    const words = new PlacedWords(INSIDE);
    words.keepOff(100, 100, 8);
    expect(words.place({ text: 'here', size: 13 }, [{ x: 95, y: 104 }])).toBe('');
    expect(
      words.place({ text: 'here', size: 13 }, [
        { x: 95, y: 104 },
        { x: 120, y: 104 },
      ]),
    ).toContain('x="120"');
  });

  it('are wrapped between words and cut off with an ellipsis', () => {
    expect(wrappedTo(160, 'Make 3 passes at 4 mm/s', 20)).toEqual(['Make 3', 'passes at', '4 mm/s']);
    expect(wrappedTo(5, 'ab cd', 20)).toEqual(['ab', 'cd']);
    expect(fittedTo(1000, 'short', 13)).toBe('short');
    expect(fittedTo(60, 'a very long name', 13)).toMatch(/^a ve.*…$/);
  });
});
