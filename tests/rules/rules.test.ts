import { describe, expect, it } from 'vitest';
import { RULES } from '../../src/cli/registered-rules.ts';
import { SEVERITIES } from '../../src/findings/finding.ts';
import { argumentNames, renderMessage } from '../../src/findings/message.ts';
import type { ReportDescriptor } from '../../src/findings/report-descriptor.ts';
import type { Rule } from '../../src/rules/rule.ts';
import { facts } from './build-facts.ts';
import type { Expected, RuleCase } from './case.ts';
import { cases } from './cases/index.ts';

const ruleOf = (id: string): Rule => {
  const rule = RULES.find((one) => one.id === id);
  if (rule === undefined) throw new Error(`no rule ${id}`);
  return rule;
};

const defaultsOf = (rule: Rule) =>
  Object.fromEntries(Object.entries(rule.options).map(([name, option]) => [name, option.default]));

function run(one: RuleCase): ReportDescriptor[] | string {
  const rule = ruleOf(one.rule);
  const answer = rule.check(one.facts, { ...defaultsOf(rule), ...one.options });
  return 'notApplicable' in answer ? answer.notApplicable : [...answer];
}

function textOf(rule: Rule, draft: Pick<ReportDescriptor, 'messageId' | 'args'>): string {
  const template = rule.messages[draft.messageId];
  if (template === undefined) throw new Error(`${rule.id} has no message ${draft.messageId}`);
  return renderMessage(template, draft.args);
}

function expectDraft(rule: Rule, draft: ReportDescriptor, wanted: Expected): void {
  expect(draft.severity ?? rule.severity).toBe(wanted.severity ?? rule.severity);
  // Findings of one rule are told apart by their subject from run to run.
  if (draft.subject !== undefined) expect(draft.subject).not.toBe('');
  for (const piece of wanted.says ?? []) expect(textOf(rule, draft)).toContain(piece);
  if (wanted.at !== undefined) expect(`${draft.location.file}:${draft.location.line}`).toBe(wanted.at);
  if (wanted.related !== undefined) expect(draft.related ?? []).toHaveLength(wanted.related);
  if (wanted.hints !== undefined) expect(draft.hints ?? []).toEqual(wanted.hints);
}

describe.each(RULES.map((rule) => rule.id))('%s', (id) => {
  const own = cases.filter((one) => one.rule === id);
  const rule = ruleOf(id);

  it.each(own.map((one) => [one.it, one] as const))('%s', (_, one) => {
    const answer = run(one);
    if (typeof one.expect === 'string' || typeof answer === 'string') {
      expect(answer).toContain(one.expect);
      return;
    }
    expect(answer.map((draft) => draft.messageId)).toEqual(one.expect.map((wanted) => wanted.messageId));
    for (const [i, wanted] of one.expect.entries()) expectDraft(rule, answer[i]!, wanted);
  });

  it('is silent or not applicable on a sound job', () => {
    const answer = run({ rule: id, it: '', facts: facts(), expect: [] });
    if (typeof answer !== 'string') expect(answer).toEqual([]);
  });

  it('speaks in every message at least once in these tests, and is silent at least once', () => {
    const said = new Set<string>();
    let silent = false;
    for (const one of own) {
      const answer = run(one);
      if (typeof answer === 'string' || answer.length === 0) silent = true;
      else for (const draft of answer) for (const part of [draft, ...(draft.related ?? [])]) said.add(part.messageId);
    }
    expect(said).toEqual(new Set(Object.keys(rule.messages)));
    expect(silent).toBe(true);
  });

  it('gives each message exactly the arguments that its template asks for, already rounded', () => {
    for (const one of own) {
      const answer = run(one);
      if (typeof answer === 'string') continue;
      for (const draft of answer.flatMap((d) => [d, ...(d.related ?? [])])) {
        expect(Object.keys(draft.args).sort()).toEqual(argumentNames(rule.messages[draft.messageId]!).sort());
        expect(textOf(rule, draft)).not.toMatch(/NaN|undefined|Infinity|\d\.\d{5}|\[object|-0\b(?!\.)/);
      }
      for (const draft of answer) expect((draft.related ?? []).length).toBeLessThanOrEqual(5);
    }
  });

  it('names only severities that exist', () => {
    for (const one of own) {
      const answer = run(one);
      if (typeof answer === 'string') continue;
      for (const draft of answer) {
        const severity = draft.severity ?? rule.severity;
        expect(SEVERITIES).toContain(severity);
        // Where a message is not as severe as its rule, or more so, the page has to say so.
        if (severity !== rule.severity) expect(rule.why + rule.remedy).toMatch(new RegExp(`\\b${severity}\\b`));
      }
    }
  });
});
