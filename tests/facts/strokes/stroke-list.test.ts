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
