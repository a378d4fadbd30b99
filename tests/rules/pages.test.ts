// What a rule says of itself is what its page says: summary, reasons, options, sources, waiver. The pages are committed and read by people,
// so a change of one is a change that somebody has looked at.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../src/cli/registered-rules.ts';
import { docsPath } from '../../src/findings/reporter.ts';
import { READERS } from '../../src/readers.ts';
import { ruleIndexPage, rulePage } from '../../src/rules/rule-page.ts';
import { REPOSITORY } from '../cli/harness.ts';

const committed = (path: string) => readFileSync(join(REPOSITORY, path), 'utf8');
const formats = READERS.map(({ name }) => name);

describe('the page of a rule', () => {
  it.each(RULES.map((rule) => [rule.id, rule] as const))('of %s says what the rule says', (id, rule) => {
    expect(rulePage(rule, formats)).toBe(committed(docsPath(id)));
  });

  it('has a line in the list of all', () => {
    expect(ruleIndexPage(RULES)).toBe(committed('docs/rules.md'));
  });
});
