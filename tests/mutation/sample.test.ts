// The arithmetic of `npm run mutate`: which mutants it tries, and what may be said of all from those.
import { describe, expect, it } from 'vitest';
import { changed } from '../../build/mutation/change.mjs';
import { draw } from '../../build/mutation/sample.mjs';
import { interval } from '../../build/mutation/score.mjs';

describe('the draw of mutants', () => {
  const names = Array.from({ length: 200 }, (_, i) => `src/a.ts:${i}:0-${i}:9 BooleanLiteral true`);

  it('is the same for the same seed, whatever the order they are listed in, and another for another seed', () => {
    const first = draw(names, 20, '1');
    expect(draw([...names].reverse(), 20, '1')).toEqual(first);
    expect(draw(names, 20, '2')).not.toEqual(first);
    expect(new Set(first).size).toBe(20);
  });

  it('holds the smaller samples in the larger ones, and among the others stays as it was when a file changes', () => {
    expect(draw(names, 50, '1').slice(0, 20)).toEqual(draw(names, 20, '1'));
    const others = names.filter((_, i) => i % 2 === 0);
    expect(draw(others, 200, '1')).toEqual(draw(names, 200, '1').filter((name) => others.includes(name)));
  });
});

describe('the interval', () => {
  // Solved outside of the project: the two shares p with (p − k/n)² = z² p(1 − p)/n, z = 1.96, which is what Wilson's interval means.
  it.each([
    [0, 10, 0, 0.2775],
    [10, 10, 0.7225, 1],
    [8, 10, 0.4902, 0.9433],
    [320, 400, 0.758, 0.8363],
  ])('for %d of %d goes from %d to %d', (killed, tried, low, high) => {
    const [from, to] = interval(killed, tried);
    expect(from).toBeCloseTo(low, 3);
    expect(to).toBeCloseTo(high, 3);
  });

  it('of nothing tried is everything', () => {
    expect(interval(0, 0)).toEqual([0, 1]);
  });
});

describe('a mutant in its file', () => {
  const text = 'const a = b && c && d;\nif (a) {\n  done();\n}\nswitch (a) {\n  case 1:\n    go();\n}\n';

  it.each([
    ['an expression is kept together', 'f.ts:1:10-1:16 LogicalOperator b || c', 'const a = (b || c) && d;'],
    ['a literal is put in brackets too', 'f.ts:2:4-2:5 ConditionalExpression true', 'if ((true)) {'],
    ['a block stays a block', 'f.ts:2:7-4:1 BlockStatement {}', 'if (a) {}\nswitch (a) {'],
    ['and a case a case', 'f.ts:6:2-7:9 ConditionalExpression case 1:', 'switch (a) {\n  case 1:\n}'],
  ])('%s', (_, name, part) => {
    const mutant = changed(text, name);
    expect(mutant).toContain(part);
    expect(mutant).not.toBe(text);
  });

  it('leaves what stands before and behind it', () => {
    const mutant = changed(text, 'f.ts:3:2-3:8 ArrowFunction () => undefined');
    expect(mutant).toBe(text.replace('done()', '(() => undefined)'));
  });

  it('has to have a name', () => {
    expect(() => changed(text, 'f.ts')).toThrow(/names no mutant/);
  });
});
