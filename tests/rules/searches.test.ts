import { describe, expect, it } from 'vitest';
import { RULES } from '../../src/cli/registered-rules.ts';
import type { JobFacts } from '../../src/facts/facts.ts';
import { SEARCHES, type Search } from '../../src/facts/searches.ts';
import type { Rule } from '../../src/rules/rule.ts';
import { demoFiles, factsOf } from '../memory-shop.ts';
import { cases } from './cases/index.ts';
import { recorded } from './reading.ts';

/** Members of the facts that a rule reads in any job of the tables. */
function membersRead(rule: Rule): Set<string> {
  const read = new Set<string>();
  const options = Object.fromEntries(Object.entries(rule.options).map(([name, option]) => [name, option.default]));
  for (const { facts } of cases) {
    const answer = rule.check(recorded(facts, read), options);
    if (!('notApplicable' in answer)) for (const _ of answer);
  }
  return read;
}

const feeds = (search: Search, member: string) =>
  SEARCHES[search].feeds.some((path) => member === path || member.startsWith(`${path}.`));

/** Paths of the members that say whether a search ended early. */
function ends(model: unknown, path: readonly string[] = []): string[][] {
  if (typeof model !== 'object' || model === null || ArrayBuffer.isView(model)) return [];
  return Object.entries(model).flatMap(([key, value]) =>
    /^endedEarly$|EndedEarly$/.test(key) ? [[...path, key]] : ends(value, [...path, key]),
  );
}

function withValue(model: unknown, [key, ...rest]: readonly string[], value: unknown): unknown {
  if (key === undefined) return value;
  const copy = (Array.isArray(model) ? [...model] : { ...(model as object) }) as Record<string, unknown>;
  copy[key] = withValue(copy[key], rest, value);
  return copy;
}

describe('searches of a job', () => {
  const facts = factsOf(
    demoFiles('machines/shed-60w.machine.yaml', 'gate-sign.job.yaml', 'gate-sign.gcode', 'gate-sign.svg'),
  );
  // What becomes known elsewhere: labels count where a task selects by them, and unpowered outlines are missing ones.
  const elsewhere = ['toolpath.labelsEndedEarly', 'tasks.0.unpoweredOutlines.endedEarly'];

  it.each(ends(facts).map((path) => [path.join('.'), path] as const))('%s leads to a search', (name, path) => {
    if (elsewhere.some((one) => name.replace(/\d+/, '0') === one)) return;
    const early = withValue(facts, path, 'given up') as JobFacts;
    expect(Object.values(SEARCHES).some((search) => search.endedEarly(early) === 'given up')).toBe(true);
  });

  it('are all there to be asked', () => {
    const told = ends(facts).map((path) => path.join('.'));
    expect(told).toEqual(
      expect.arrayContaining(['geometry.webs.endedEarly', 'match.missing.endedEarly', 'cutsEndedEarly']),
    );
  });
});

describe('searches that a rule rests on', () => {
  it.each(RULES)('$id names those whose outcome it reads, and no others', (rule) => {
    const read = [...membersRead(rule)];
    const wanted = (Object.keys(SEARCHES) as Search[]).filter((search) => read.some((member) => feeds(search, member)));
    expect(rule.searches ?? []).toEqual(wanted);
  });
});
