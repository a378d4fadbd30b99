import { describe, expect, it } from 'vitest';
import { RULES } from '../../src/cli/registered-rules.ts';
import { type RuleSetting, rulesInForce } from '../../src/rules/in-force.ts';

const said = (id: string, severity: RuleSetting['severity'], options: RuleSetting['options'] = {}): RuleSetting => ({
  id,
  severity,
  options,
});

describe('rules in force', () => {
  it('without settings are all rules with their defaults', () => {
    const { rules, problems } = rulesInForce(RULES, []);
    expect(problems).toEqual([]);
    expect(rules.map(({ rule }) => rule.id)).toEqual(RULES.map((rule) => rule.id));
    expect(rules.every(({ severity }) => severity === null)).toBe(true);
  });

  it('can be switched off, and given another severity and other options', () => {
    const { rules, problems } = rulesInForce(RULES, [
      said('toolpath/tip-up', 'off'),
      said('focus/lens-too-short', 'note', { ratio: 6 }),
    ]);
    expect(problems).toEqual([]);
    expect(rules.some(({ rule }) => rule.id === 'toolpath/tip-up')).toBe(false);
    const lens = rules.find(({ rule }) => rule.id === 'focus/lens-too-short')!;
    expect([lens.severity, lens.options['ratio']]).toEqual(['note', 6]);
  });

  const optionOf = (rules: ReturnType<typeof rulesInForce>['rules'], id: string, option: string) =>
    rules.find(({ rule }) => rule.id === id)!.options[option];

  it('share a limit: what follows another option takes what is stated of it, even where that rule is off', () => {
    for (const severity of [null, 'off'] as const) {
      const { rules, problems } = rulesInForce(RULES, [said('cut/short-of-through', severity, { below: 0.3 })]);
      expect(problems).toEqual([]);
      expect(optionOf(rules, 'cut/marginal', 'from')).toBe(0.3);
      expect(optionOf(rules, 'cut/out-of-reach', 'below')).toBe(0.3);
    }
  });

  it('leave an option that follows another as it is where it is stated itself, or the other is wrong or not stated', () => {
    const stated = [said('cut/short-of-through', null, { below: 0.3 }), said('cut/marginal', null, { from: 0.2 })];
    expect(optionOf(rulesInForce(RULES, stated).rules, 'cut/marginal', 'from')).toBe(0.2);
    const wrong = rulesInForce(RULES, [said('cut/short-of-through', null, { below: 3 })]);
    expect(optionOf(wrong.rules, 'cut/marginal', 'from')).toBe(0);
    expect(wrong.problems.map(({ path }) => path.join('.'))).toEqual(['cut/short-of-through.below']);
    expect(optionOf(rulesInForce(RULES, []).rules, 'cut/marginal', 'from')).toBe(0);
  });

  it('follow options that there are', () => {
    const known = new Set(RULES.flatMap((rule) => Object.keys(rule.options).map((key) => `${rule.id} ${key}`)));
    const followed = RULES.flatMap((rule) => Object.values(rule.options).flatMap(({ follows }) => follows ?? []));
    expect(followed.length).toBeGreaterThan(0);
    for (const { rule, option } of followed) expect([...known]).toContain(`${rule} ${option}`);
  });

  it.each(RULES.filter((rule) => rule.safety).map((rule) => rule.id))('%s stays, whatever the settings say', (id) => {
    const { rules, problems } = rulesInForce(RULES, [said(id, 'off')]);
    expect(rules.find(({ rule }) => rule.id === id)!.severity).toBeNull();
    expect(problems[0]!.text).toMatch(
      new RegExp(`^${id} is about people's safety and stays (an error|a warning|a note): waive a single finding`),
    );
  });

  it.each<[string, RuleSetting, string]>([
    ['an unknown rule', said('cut/margnal', 'off'), 'cut/marginal'],
    ['an unknown option', said('focus/lens-too-short', null, { ration: 6 }), 'ratio'],
    ['a value of the wrong type', said('focus/lens-too-short', null, { ratio: 'six' }), 'number'],
    ['a value out of range', said('cut/marginal', null, { from: 2 }), 'above 1'],
    ['an option of a rule that has none', said('input/unreadable', null, { much: 1 }), 'no options'],
  ])('%s is a problem that says what belongs there', (_, one, text) => {
    const { problems } = rulesInForce(RULES, [one]);
    expect(problems).toHaveLength(1);
    expect(problems[0]!.text).toContain(text);
  });
});
