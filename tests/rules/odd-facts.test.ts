import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../src/cli/registered-rules.ts';
import type { JobFacts } from '../../src/facts/facts.ts';
import { MessageError, renderMessage } from '../../src/findings/message.ts';
import { everything } from '../../src/units/found.ts';
import { cut, facts, pass } from './build-facts.ts';
import { cases } from './cases/index.ts';

/** Values that a fact should never have, and that must not bring a rule down all the same. */
const odd = fc.constantFrom<unknown>(
  0,
  -1,
  1e308,
  -1e308,
  Number.NaN,
  Number.POSITIVE_INFINITY,
  '',
  '\u001b[31m::error',
  '{name}',
  [],
);

/** Texts that come from a user's file; the others are words of our own, of which only the known ones occur. */
const FREE = new Set([
  'name',
  'text',
  'reason',
  'source',
  'cause',
  'evidence',
  'href',
  'task',
  'rule',
  'found',
  'planned',
  'id',
  'file',
]);

/** Paths of the numbers, free texts and lists in a model, typed arrays left out. */
function leaves(value: unknown, path: string[] = []): string[][] {
  if (typeof value === 'number') return [path];
  if (typeof value === 'string') return FREE.has(path.at(-1) ?? '') ? [path] : [];
  if (typeof value !== 'object' || value === null || ArrayBuffer.isView(value)) return [];
  const below = Object.entries(value).flatMap(([key, member]) => leaves(member, [...path, key]));
  return Array.isArray(value) && value.length > 0 ? [path, ...below] : below;
}

function withValue(value: unknown, path: readonly string[], replacement: unknown): unknown {
  const [key, ...rest] = path;
  if (key === undefined) return replacement;
  if (Array.isArray(value))
    return value.map((member, i) => (String(i) === key ? withValue(member, rest, replacement) : member));
  const record = value as Record<string, unknown>;
  return { ...record, [key]: withValue(record[key], rest, replacement) };
}

function at(value: unknown, path: readonly string[]): unknown {
  return path.reduce<unknown>((member, key) => (member as Record<string, unknown>)[key], value);
}

/** A value of the same type, since readers and loaders hand on no other. */
const sameType = (before: unknown, after: unknown) =>
  Array.isArray(before) === Array.isArray(after) && typeof before === typeof after;

const checkAll = (facts: JobFacts) => {
  for (const rule of RULES) {
    const defaults = Object.fromEntries(Object.entries(rule.options).map(([name, option]) => [name, option.default]));
    const answer = rule.check(facts, defaults);
    if ('notApplicable' in answer) {
      expect(answer.notApplicable).not.toBe('');
      continue;
    }
    for (const draft of answer) {
      const template = rule.messages[draft.messageId]!;
      const text = renderMessage(template, draft.args);
      // What the loader says is passed on as it is.
      if (!/^\{\w+\}$/.test(template)) expect(text).not.toBe('');
      for (const one of draft.related ?? []) renderMessage(rule.messages[one.messageId]!, one.args);
    }
  }
};

describe('rules over odd facts', () => {
  it('never throw and phrase whatever they say, for any single odd value in any job of the tables', () => {
    fc.assert(
      fc.property(fc.nat(cases.length - 1), fc.nat(), odd, (which, where, value) => {
        const { facts } = cases[which]!;
        const paths = leaves(facts);
        const path = paths[where % paths.length]!;
        // A sentence that a loader wrote is passed on as it stands, and no loader writes an empty one.
        fc.pre(sameType(at(facts, path), value) && !(value === '' && path.at(-1) === 'text'));
        try {
          checkAll(withValue(facts, path, value) as JobFacts);
        } catch (fault) {
          // The reporter refuses to print a number that is none; that is its answer, and the job counts as incomplete.
          if (!(fault instanceof MessageError) || Number.isFinite(value)) throw fault;
        }
      }),
      { numRuns: 1500, seed: 20261125 },
    );
  });

  it('say one thing once, however often its cause occurs', () => {
    const MANY = 1000;
    const many = <T>(one: T): T[] => new Array<T>(MANY).fill(one);
    // Findings with different causes of one rule: kinds of problem, tasks, aims, settings.
    const MOST = 12;
    for (const one of cases) {
      const { facts } = one;
      const crowded: JobFacts = {
        ...facts,
        cuts: facts.cuts.flatMap((cut) => many(cut)),
        toolpath: facts.toolpath && {
          ...facts.toolpath,
          problems: facts.toolpath.problems.flatMap((problem) => many(problem)),
          dwells: everything(facts.toolpath.dwells.items.flatMap((dwell) => many(dwell))),
        },
        artwork: facts.artwork && {
          ...facts.artwork,
          problems: facts.artwork.problems.flatMap((problem) => many(problem)),
        },
      };
      const rule = RULES.find(({ id }) => id === one.rule)!;
      const defaults = Object.fromEntries(Object.entries(rule.options).map(([name, option]) => [name, option.default]));
      const answer = rule.check(crowded, { ...defaults, ...one.options });
      if (!('notApplicable' in answer)) expect([rule.id, [...answer].length <= MOST]).toEqual([rule.id, true]);
    }
    // More than a call takes as arguments.
    const longCut = { ...cut(), passes: new Array(200_000).fill(pass({ setting: 0.05, programmedMmPerS: 2 })) };
    checkAll(facts({ cuts: [longCut] }));
  });

  it('give the same answer when asked again: no state is left behind', () => {
    for (const one of cases) {
      const rule = RULES.find(({ id }) => id === one.rule)!;
      const defaults = Object.fromEntries(Object.entries(rule.options).map(([name, option]) => [name, option.default]));
      const ask = () => {
        const answer = rule.check(one.facts, { ...defaults, ...one.options });
        return 'notApplicable' in answer ? answer : [...answer];
      };
      expect(ask()).toEqual(ask());
    }
  });
});
