import { docsPath } from '../src/findings/reporter.ts';
import { READERS } from '../src/readers.ts';
import { rulesFor } from '../src/rules/index.ts';
import { ruleIndexPage, rulePage } from '../src/rules/rule-page.ts';
import type { Generated } from './generate.ts';

/** A page for each rule, and the list of them all. */
export function rulePages(): Generated {
  const rules = rulesFor(READERS);
  const formats = READERS.map(({ name }) => name);
  const pages: Generated = new Map(rules.map((rule) => [docsPath(rule.id), rulePage(rule, formats)]));
  pages.set('docs/rules.md', ruleIndexPage(rules));
  return pages;
}
