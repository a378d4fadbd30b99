import { describe, expect, it } from 'vitest';
import { percent } from '../../src/report/text/wording.ts';

describe('a probability in words', () => {
  it.each([
    [0, '< 1 %'],
    [0.004, '< 1 %'],
    [0.012, '1 %'],
    [0.5, '50 %'],
    [0.994, '99 %'],
    [0.996, '> 99 %'],
    [1, '> 99 %'],
  ])('of %d reads %s: certainty is never claimed', (probability, text) => {
    expect(percent(probability)).toBe(text);
  });
});
