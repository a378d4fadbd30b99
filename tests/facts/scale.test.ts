import { describe, expect, it } from 'vitest';
import { scaleCause } from '../../src/facts/match/scale.ts';

// 1 in = 25.4 mm by definition; a px is 1/96 in (CSS Values 4 §6.2), 1/90 or 1/72 in in older drawing programs (common practice, no source).
describe('why a toolpath has another size than its artwork', () => {
  it.each([
    [25.4, /^inches were taken where millimetres/],
    [1 / 25.4, /^millimetres were taken where inches/],
    [96 / 72, /72 px to the inch and was read at 96/],
    [72 / 96, /96 px to the inch and was read at 72/],
    [96 / 90, /90 px to the inch and was read at 96/],
    [90 / 96, /96 px to the inch and was read at 90/],
    [90 / 72, /72 px to the inch and was read at 90/],
    [72 / 90, /90 px to the inch and was read at 72/],
    [10, /^centimetres were taken for millimetres/],
    [0.1, /^millimetres were taken for centimetres/],
    [2, /no slip of units explains this ratio/],
  ])('%d times', (ratio, cause) => {
    expect(scaleCause(ratio)).toMatch(cause);
    expect(scaleCause(ratio * 1.002)).toMatch(cause);
    expect(scaleCause(ratio * 1.02)).toMatch(/no slip of units/);
  });

  it('is none where the size is the same but for tolerances', () => {
    for (const ratio of [1, 1.0019, 0.9981]) expect(scaleCause(ratio)).toBeNull();
    for (const ratio of [1.0021, 0.9979]) expect(scaleCause(ratio)).toMatch(/no slip/);
  });
});
