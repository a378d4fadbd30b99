import fc from 'fast-check';
import { expect, it } from 'vitest';
import { StrokeList } from '../../../src/facts/strokes/stroke-list.ts';

it('strokes that are added in any order and many times are listed once each, ascending', () => {
  fc.assert(
    fc.property(fc.array(fc.nat(40), { maxLength: 100 }), (strokes) => {
      const list = new StrokeList();
      for (const stroke of strokes) list.add(stroke);
      expect([...list.ascending()]).toEqual([...new Set(strokes)].sort((a, b) => a - b));
    }),
  );
});

it('strokes of a long program are all listed, whether they come in order or not', () => {
  const numbers = Array.from({ length: 100 }, (_, i) => i);
  const rising = new StrokeList();
  const falling = new StrokeList();
  for (const i of numbers) {
    rising.add(i);
    falling.add(99 - i);
  }
  expect([...rising.ascending()]).toEqual(numbers);
  expect([...falling.ascending()]).toEqual(numbers);
  expect([...new StrokeList().ascending()]).toEqual([]);
});
