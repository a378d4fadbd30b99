// The formats for servers, of the demo as the built command writes them, read by others than the code that wrote them: libxml2 against a
// grammar (tests/outside/grammars; no official schema exists), and a reader of test results from the registry (ts-junit2json).

import { readFileSync } from 'node:fs';
import { parse } from 'junit2json';
import { describe, expect, it } from 'vitest';
import { validateXML } from 'xmllint-wasm';
import { checkstyle } from '../../src/report/ci/checkstyle.ts';
import { junit } from '../../src/report/ci/junit.ts';
import { reportText } from '../../src/report/report-context.ts';
import { finding, job, run } from '../findings/results.ts';
import { context } from '../report/context.ts';

const HOSTILE = '</failure>]]> & "\u0000\u001b[31m\ufffe\ud800 ::error::x ##[error] \'<!-- -- -->';
const RESULTS = {
  'with all kinds of outcome': run([
    job({
      findings: [finding(), finding({ severity: 'note', rule: 'a/b' })],
      notChecked: [
        { rule: 'c/d', kind: 'not-applicable', reason: 'nothing to look at' },
        { rule: 'e/f', kind: 'ended-early', reason: 'so many lines' },
      ],
    }),
  ]),
  empty: run([]),
  'of hostile text': run([
    job({
      name: HOSTILE,
      incomplete: [HOSTILE],
      findings: [finding({ message: HOSTILE, hints: [HOSTILE], location: { ...finding().location, file: HOSTILE } })],
    }),
  ]),
};

async function faultsBy(grammar: string, contents: string): Promise<readonly unknown[]> {
  const schema = readFileSync(new URL(`grammars/${grammar}.xsd`, import.meta.url), 'utf8');
  const { errors } = await validateXML({ xml: { fileName: 'report.xml', contents }, schema });
  return errors;
}

describe.each(Object.entries(RESULTS))('a result %s', (_, result) => {
  it('is XML that libxml2 finds to follow the grammar', async () => {
    expect(await faultsBy('junit', reportText(junit, result, context()))).toEqual([]);
    expect(await faultsBy('checkstyle', reportText(checkstyle, result, context()))).toEqual([]);
  });

  it('is read as the same counts by another reader of test results', async () => {
    const read = await parse(reportText(junit, result, context()));
    if (read === null || read === undefined || !('testsuite' in read)) throw new Error('no suites were read');
    expect(read.testsuite?.length).toBe(result.jobs.length + 1);
    for (const { testcase: tests = [], ...suite } of read.testsuite!) {
      expect(tests).toHaveLength(suite.tests!);
      expect(tests.filter((test) => test.failure !== undefined)).toHaveLength(suite.failures!);
      expect(tests.filter((test) => test.error !== undefined)).toHaveLength(suite.errors!);
      expect(tests.filter((test) => test.skipped !== undefined)).toHaveLength(suite.skipped!);
    }
  });
});

it('the grammar refuses what is none: a negative line, an outcome without a message', async () => {
  const wrong = '<checkstyle><file name="a"><error line="-1" severity="error" message=""/></file></checkstyle>';
  expect((await faultsBy('checkstyle', wrong)).length).toBeGreaterThan(0);
  const mute = reportText(junit, RESULTS.empty, context()).replace(/<skipped message="[^"]*"\/>/, '<failure/>');
  expect((await faultsBy('junit', mute)).length).toBeGreaterThan(0);
});
