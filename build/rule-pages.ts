import { docsPath } from '../src/findings/reporter.ts';
import { RULES } from '../src/rules/index.ts';
import { ruleIndexPage, rulePage } from '../src/rules/rule-page.ts';
import type { Generated } from './generate.ts';

/** A page for each rule, and the list of them all. */
export function rulePages(): Generated {
  const pages: Generated = new Map(RULES.map((rule) => [docsPath(rule.id), rulePage(rule)]));
  pages.set('docs/rules.md', ruleIndexPage(RULES));
  return pages;
}
