import { describe, expect, it } from 'vitest';
import { run, shed } from '../memory-shop.ts';

const BARE = { machine: 'shed-60w', lens: '2in', material: 'birch-plywood', thickness: '3 mm' };

// With a pattern that tries every stretch of the text these take minutes and meet the test's limit.
describe('long texts in artwork', () => {
  it.each([
    [
      'a name of an element in front of a wrong value',
      `<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm"><path d="M0 0H9 x"/><${'a'.repeat(600_000)} transform="turn(1)"/></svg>`,
    ],
    [
      'the size in the shorthand for fonts',
      `<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm"><style>text{font:${'1'.repeat(600_000)}}</style><text>a</text></svg>`,
    ],
  ])('%s are read through once', (_, text) => {
    const { jobs } = run({ ...shed(), 'long.svg': text }, BARE);
    expect(jobs).toHaveLength(1);
    expect(jobs[0]?.incomplete.join()).not.toContain('fault of kerflint');
  });
});
