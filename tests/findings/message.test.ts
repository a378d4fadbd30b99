import { describe, expect, it } from 'vitest';
import { fnv1a64, normalisedLine } from '../../src/findings/fingerprint.ts';
import { MessageError, renderMessage } from '../../src/findings/message.ts';

describe('a message', () => {
  it.each<[string, Record<string, string | number>, string]>([
    ['Depth {depth} mm of {sheet}.', { depth: 4.1, sheet: 'birch' }, 'Depth 4.1 mm of birch.'],
    ['{a}{a}', { a: 'x' }, 'xx'],
    ['{{a}} and {a}', { a: 1 }, '{a} and 1'],
    ['{a}', { a: '{b} $& $1' }, '{b} $& $1'],
    ['{a}', { a: -0 }, '0'],
    ['no slots { here }', {}, 'no slots { here }'],
  ])('%s', (template, args, text) => {
    expect(renderMessage(template, args)).toBe(text);
  });

  it.each([{}, { a: Number.NaN }, { a: Number.POSITIVE_INFINITY }, Object.create({ a: 1 })])(
    'is refused with %j',
    (args) => {
      expect(() => renderMessage('{a}', args)).toThrow(MessageError);
    },
  );
});

describe('FNV-1a, 64 bit', () => {
  // Test vectors of draft-eastlake-fnv, appendix C.
  it.each([
    ['', 'cbf29ce484222325'],
    ['a', 'af63dc4c8601ec8c'],
    ['foobar', '85944171f73967e8'],
  ])('of "%s"', (text, hash) => {
    expect(fnv1a64(text)).toBe(hash);
  });
});

describe('the normalised line', () => {
  it.each([
    ['N120 G1 X5', 'G1 X5'],
    ['n7G1 X5*33', 'G1 X5'],
    ['  <path\t d="M0 0"/> ', '<path d="M0 0"/>'],
    ['name: outline', 'name: outline'],
  ])('of "%s"', (line, text) => {
    expect(normalisedLine(line)).toBe(text);
  });
});
