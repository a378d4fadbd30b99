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
