import type { Severity } from '../findings/finding.ts';
import { nearestWord } from '../units/nearest-word.ts';
import { findRule } from './index.ts';
import type { OptionValues, Rule, RuleOption } from './rule.ts';

/** What settings say of one rule, as written. */
export interface RuleSetting {
  id: string;
  severity: 'off' | Severity | null;
  options: Record<string, string | number | boolean>;
}

/** A rule as this run judges by it. */
export interface RuleInForce {
  rule: Rule;
  /** Null: as the rule has it. */
  severity: Severity | null;
  options: OptionValues<Record<string, RuleOption>>;
}

/** Something in the settings that no rule understands, with the keys that lead to it below `rules`. */
export interface SettingProblem {
  path: string[];
  text: string;
}

/**
 * The rules with the settings applied. A rule about people's safety keeps its severity and cannot be left out: a finding of it can
 * only be waived, in a sidecar, with a reason and a date.
 */
export function rulesInForce(
  all: readonly Rule[],
  said: readonly RuleSetting[],
): { rules: RuleInForce[]; problems: SettingProblem[] } {
  const problems: SettingProblem[] = [];
  const byId = new Map<string, RuleSetting>();
  for (const one of said) {
    const problem = idProblem(all, one.id);
    if (problem !== null) problems.push({ path: [one.id], text: problem });
    else byId.set(one.id, one);
  }
  const rules = all.flatMap((rule) => inForce(rule, byId, problems) ?? []);
  return { rules, problems };
}

/** A rule with what the settings say of it; null where they switch it off. */
function inForce(rule: Rule, said: ReadonlyMap<string, RuleSetting>, problems: SettingProblem[]): RuleInForce | null {
  const own = said.get(rule.id);
  if (!own) return { rule, severity: null, options: unstated(rule, said) };
  if (rule.safety && own.severity !== null && own.severity !== rule.severity) {
    problems.push({
      path: [rule.id],
      text: `${rule.id} is about people's safety and stays ${rule.severity === 'error' ? 'an error' : `a ${rule.severity}`}: waive a single finding in its sidecar, with a reason and a date`,
    });
  }
  const options = { ...unstated(rule, said), ...statedOptions(rule, own.options, problems) };
  if (rule.safety) return { rule, severity: null, options };
  return own.severity === 'off' ? null : { rule, severity: own.severity, options };
}

function idProblem(all: readonly Rule[], id: string): string | null {
  const found = findRule(all, id);
  if (found.kind === 'rule') return found.rule.id === id ? null : `write ${found.rule.id}`;
  if (found.kind === 'retired') {
    return found.successor === null ? `${id} is no longer a rule` : `${id} is now ${found.successor.id}`;
  }
  const guess = found.suggestions.length === 0 ? '' : `: did you mean ${found.suggestions.join(' or ')}?`;
  return `there is no rule "${id}"${guess}`;
}

/** Options as they are where the settings do not state them: the default, or what is stated of the option that they follow. */
function unstated(rule: Rule, said: ReadonlyMap<string, RuleSetting>): RuleInForce['options'] {
  return Object.fromEntries(
    Object.entries(rule.options).map(([key, option]) => {
      const followed = option.follows && said.get(option.follows.rule)?.options[option.follows.option];
      // What is wrong with a followed value is told where it stands.
      const usable = followed !== undefined && valueProblem(option, followed) === null;
      return [key, usable ? followed : option.default];
    }),
  );
}

function statedOptions(
  rule: Rule,
  said: Record<string, string | number | boolean>,
  problems: SettingProblem[],
): RuleInForce['options'] {
  const options: RuleInForce['options'] = {};
  for (const [key, value] of Object.entries(said)) {
    const option = Object.hasOwn(rule.options, key) ? rule.options[key] : undefined;
    const problem = option ? valueProblem(option, value) : unknownOption(rule, key);
    if (problem !== null) problems.push({ path: [rule.id, key], text: `${rule.id}: ${problem}` });
    else options[key] = value;
  }
  return options;
}

function unknownOption(rule: Rule, key: string): string {
  const known = Object.keys(rule.options);
  if (known.length === 0) return `it has no options, so "${key}" says nothing`;
  const near = nearestWord(key, known);
  return `it has no option "${key}"${near === undefined ? `; it has ${known.join(', ')}` : `: did you mean ${near}?`}`;
}

function valueProblem(option: RuleOption, value: string | number | boolean): string | null {
  if (typeof value !== option.type) {
    const unit = option.unit === undefined ? '' : ` (in ${option.unit}, without the unit)`;
    return `a ${option.type}${unit} belongs here, not ${JSON.stringify(value)}`;
  }
  if (typeof value !== 'number') return null;
  if (option.minimum !== undefined && value < option.minimum) return `${value} is below ${option.minimum}`;
  if (option.maximum !== undefined && value > option.maximum) return `${value} is above ${option.maximum}`;
  return null;
}
