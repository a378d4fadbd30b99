import { describe, expect, it } from 'vitest';
import { reasonsEndedEarly, SEARCHES, type Search } from '../../src/facts/searches.ts';
import { artwork, facts, geometry, match, toolpath } from '../rules/build-facts.ts';

const ENDED = { items: [], endedEarly: 'given up' };
const NAMES = Object.keys(SEARCHES) as Search[];

/** Facts in which one search alone ended early. */
const early: [Search, ReturnType<typeof facts>][] = [
  ['drawn-lines', facts({ artwork: artwork({ endedEarly: 'given up' }) })],
  ['tasks', facts({ tasksEndedEarly: 'given up' })],
  ['passes', facts({ cutsEndedEarly: 'given up' })],
  ['placement', facts({ match: match({ placementEndedEarly: 'given up' }) })],
  ['missing-lines', facts({ match: match({ missing: ENDED }) })],
  ['extra-lines', facts({ match: match({ extra: ENDED }) })],
  ['duplicates', facts({ geometry: geometry({ duplicates: ENDED }) })],
  ['crossings', facts({ geometry: geometry({ selfCrossing: ENDED }) })],
  ['crossings', facts({ geometry: geometry({ overlappingParts: ENDED }) })],
  ['webs', facts({ geometry: geometry({ webs: ENDED }) })],
  ['dwells', facts({ toolpath: toolpath({ dwells: ENDED }) })],
];

describe('a search that ended early', () => {
  it.each(early)('is told by its own name: %s', (search, of) => {
    expect(NAMES.filter((name) => SEARCHES[name].endedEarly(of) !== null)).toEqual([search]);
    expect(reasonsEndedEarly(of, NAMES)).toEqual(['given up']);
    expect(reasonsEndedEarly(of, [search])).toEqual(['given up']);
    const others = NAMES.filter((name) => name !== search);
    expect(reasonsEndedEarly(of, others)).toEqual([]);
  });

  it('is none where all looked at everything, or had nothing to look at', () => {
    expect(reasonsEndedEarly(facts({ match: match() }), NAMES)).toEqual([]);
    expect(reasonsEndedEarly(facts({ artwork: null, toolpath: null, geometry: null, match: null }), NAMES)).toEqual([]);
  });

  it('is told once for each reason, in the order of the searches that were asked for', () => {
    const of = facts({
      tasksEndedEarly: 'too many fits',
      cutsEndedEarly: 'too many passes',
      match: match({ missing: ENDED, extra: ENDED }),
    });
    expect(reasonsEndedEarly(of, ['extra-lines', 'passes', 'missing-lines', 'tasks', 'webs'])).toEqual([
      'given up',
      'too many passes',
      'too many fits',
    ]);
  });
});

describe('the members that rest on a search', () => {
  /** Whether facts have a member by this path; of a list the first item has it, and an empty one may. */
  function has(model: unknown, path: readonly string[]): boolean {
    const one = Array.isArray(model) ? model[0] : model;
    const [key, ...rest] = path;
    if (key === undefined || (Array.isArray(model) && model.length === 0)) return true;
    return typeof one === 'object' && one !== null && key in one && has((one as Record<string, unknown>)[key], rest);
  }
  const whole = facts({ match: match() });

  it.each(NAMES)('are members that there are: %s', (search) => {
    const { feeds } = SEARCHES[search];
    expect(feeds.length).toBeGreaterThan(0);
    expect(feeds.filter((path) => !has(whole, path.split('.')))).toEqual([]);
    expect(new Set(feeds).size).toBe(feeds.length);
  });
});
