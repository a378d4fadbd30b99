// How rules speak: what is wrong, then what to do, then why; in words, with the names of settings left to the rule's page.
import { describe, expect, it } from 'vitest';
import { RULES } from '../../src/cli/registered-rules.ts';
import type { Rule } from '../../src/rules/rule.ts';
import { cases } from './cases/index.ts';

/** Words that a sentence on what to do begins with; one that is missing here is added when it does. */
const TELLS_WHAT_TO_DO = new Set(
  `Add Apply Ask Bring Check Close Convert Correct Cut Delete Draw Embed End Expand Export Fill Fit Flatten Give Go Have Hold If Keep Lay Leave Lower
  Make Mask Measure Mirror Move Name Plan Program Put Raise Remove Restore Run Save Say See Set Simplify Slow Space Spread State Switch Take
  Look Try Turn Use Waive Widen Write {remedy}`.split(/\s+/),
);
/** A template may be so long; what is filled in comes on top. */
const LONGEST_TEMPLATE = 300;

/** A template whole, and what it says after its first sentence; what a reader says in `{text}` is a sentence of its own. */
function rest(template: string): string | null {
  const end = /^\{text\} [A-Z]/.test(template) ? '{text} '.length - 2 : template.search(/[.?!] /);
  return end < 0 ? null : template.slice(end + 2);
}

const messages = RULES.flatMap((rule) => Object.entries(rule.messages).map(([id, text]) => ({ rule, id, text })));
/** Messages of related places, and words that come whole from elsewhere. */
const labels = messages.filter(({ text }) => rest(text) === null);
const sentences = messages.filter(({ text }) => rest(text) !== null);

/** Everything that the cases of a rule say, its arguments filled in: those may name things too. */
function argumentsOf(rule: Rule): string[] {
  return cases
    .filter((one) => one.rule === rule.id)
    .flatMap((one) => {
      const defaults = Object.fromEntries(
        Object.entries(rule.options).map(([name, { default: value }]) => [name, value]),
      );
      const answer = rule.check(one.facts, { ...defaults, ...one.options });
      return 'notApplicable' in answer ? [] : [...answer].flatMap(({ args }) => Object.values(args).map(String));
    });
}

describe('messages', () => {
  it.each(sentences)('$rule.id, $id: what to do follows what is wrong', ({ text }) => {
    const [first] = rest(text)!.split(/[\s,;:]/);
    expect([...TELLS_WHAT_TO_DO]).toContain(first);
  });

  it('are sentences but for those of related places', () => {
    for (const { text } of labels) expect(text).toMatch(/^(\{text\}|[^.A-Z][^.]*)$/);
    expect(sentences.length).toBeGreaterThan(100);
  });

  it.each(messages)('$rule.id, $id: is short', ({ text }) => {
    expect(text.length).toBeLessThanOrEqual(LONGEST_TEMPLATE);
  });

  it.each(RULES)('of $id name no option of the rule and no key of a machine’s profile', (rule) => {
    for (const text of [...Object.values(rule.messages), rule.example, ...argumentsOf(rule)]) {
      const named = [...text.matchAll(/`([^`]*)`/g)].map(([, name]) => name);
      expect(named.filter((name) => Object.hasOwn(rule.options, name!))).toEqual([]);
      expect(named.filter((name) => /^[a-z][a-z-]*(\.[a-z-]+)+(:.*)?$/.test(name!))).toEqual([]);
      expect(text).not.toMatch(/\brule option/);
    }
  });
});
