import { describe, expect, it } from 'vitest';
import { wordPlaces } from '../../src/gcode/text/words.ts';
import { textSource } from '../../src/source/source.ts';

describe('the words of a line', () => {
  const source = textSource('t', 'G21\r\nN10 g1 (to X0) X12.5Y-3 ;F5\nM2');

  it('are found again with their columns, comments left out', () => {
    expect(
      wordPlaces(source, 2).map(({ letter, text, place }) => [letter, text, place.column, place.endColumn]),
    ).toEqual([
      ['N', 'N10', 1, 4],
      ['G', 'g1', 5, 7],
      ['X', 'X12.5', 16, 21],
      ['Y', 'Y-3', 21, 24],
    ]);
    expect(wordPlaces(source, 2)[0]!.place.line).toBe(2);
  });

  it('of a line that does not exist are none', () => {
    expect(wordPlaces(source, 9)).toEqual([]);
  });
});
