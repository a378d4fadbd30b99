// SARIF held against two readings from outside: the OASIS schema of SARIF 2.1.0 (errata 01) by Ajv, and Microsoft's validator
// with its rules for SARIF and for GitHub. Both come with @microsoft/sarif-multitool-linux 5.7.0, which .ci/run installs.

import { execFileSync } from 'node:child_process';
import { chmodSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import formats from 'ajv-formats';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../src/cli/registered-rules.ts';
import { sarif } from '../../src/report/ci/sarif.ts';
import { reportText } from '../../src/report/report-context.ts';
import { demo, kerflint, REPOSITORY } from '../cli/harness.ts';
import { finding, job, run } from '../findings/results.ts';
import { context } from '../report/context.ts';

const TOOL = join(REPOSITORY, 'node_modules/.outside/node_modules/@microsoft/sarif-multitool-linux');
const there = existsSync(TOOL);
if (!there)
  console.warn(
    'SARIF was not held against its schema and validator: @microsoft/sarif-multitool-linux is not installed (.ci/run does).',
  );

/** Rules of the validator that are not asked here, and why. */
const SET_ASIDE: Record<string, string> = {
  SARIF2006: 'URLs shall be reachable: there is no network here',
};
/** The command line, unlike the action, knows no address of its own to point to. */
const FROM_THE_COMMAND_LINE = ['fixes', 'the demo'];
const SET_ASIDE_WITHOUT_ADDRESS: Record<string, string> = { ...SET_ASIDE, SARIF2005: 'an address of the tool' };

const all = context({ rules: RULES, docsUrl: 'https://example.org/kerflint/v0.1.0/' });
const REPORTS: [string, () => Promise<string> | string][] = [
  ['no jobs', () => reportText(sarif, run([]), all)],
  [
    'every kind of thing',
    () =>
      reportText(
        sarif,
        run(
          [
            job({
              findings: [
                finding({
                  related: [
                    { file: 'a b.svg', line: 1, column: 1, endLine: 2, endColumn: 3, message: 'see [here](x)' },
                  ],
                }),
                finding({ status: 'waived', reason: 'proved on coupon 12' }),
                finding({ status: 'baselined' }),
              ],
              incomplete: ['the material is unknown'],
              notChecked: [{ rule: 'cut/marginal', kind: 'failed', reason: 'x' }],
            }),
          ],
          [{ file: 'ü#?.svg', reason: 'no sidecar' }],
        ),
        all,
      ),
  ],
  [
    'text from strangers',
    () =>
      reportText(
        sarif,
        run([job({ name: '\ud800\u202e', findings: [finding({ message: '\ud800 \u001b[31m ##[error]x [a](b)' })] })]),
        all,
      ),
  ],
  [
    'fixes',
    async () =>
      (await kerflint(demo(), ['fix', 'gate-sign.job.yaml', '--dry-run', '--format', 'text=t', '--format', 'sarif']))
        .stdout,
  ],
  ['the demo', async () => (await kerflint(demo(), ['check', '--format', 'sarif'])).stdout],
];

describe('SARIF', () => {
  it('does not go unchecked in CI', () => {
    expect(there || process.env['CI'] !== 'true').toBe(true);
  });

  describe.skipIf(!there)('by the OASIS schema', () => {
    it.each(REPORTS)('of %s is valid', async (_, make) => {
      const ajv = new Ajv2020({ strict: false, allErrors: true, validateSchema: false });
      formats.default(ajv);
      const schema = JSON.parse(readFileSync(join(TOOL, 'sarif-2.1.0.json'), 'utf8'));
      delete schema.$schema;
      const valid = ajv.compile(schema);
      expect(valid(JSON.parse(await make())), JSON.stringify(valid.errors, null, 1)).toBe(true);
      expect(valid({ version: '2.1.0', runs: [{}] })).toBe(false);
    });
  });

  describe.skipIf(!there)("by Microsoft's validator, with GitHub's rules", () => {
    it.each(REPORTS)('of %s has no complaint', async (name, make) => {
      const folder = mkdtempSync(join(tmpdir(), 'kerflint-sarif-'));
      try {
        writeFileSync(join(folder, 'in.sarif'), await make());
        chmodSync(join(TOOL, 'Sarif.Multitool'), 0o755);
        const argv = [
          'validate',
          join(folder, 'in.sarif'),
          '--rule-kind',
          'Sarif;Gh',
          '--output',
          join(folder, 'out.sarif'),
          '--log',
          'ForceOverwrite',
        ];
        try {
          execFileSync(join(TOOL, 'Sarif.Multitool'), argv, {
            stdio: 'pipe',
            env: { ...process.env, DOTNET_SYSTEM_GLOBALIZATION_INVARIANT: '1' },
          });
        } catch {
          // Its exit code says nothing; the log that it wrote is read.
        }
        const setAside = FROM_THE_COMMAND_LINE.includes(name) ? SET_ASIDE_WITHOUT_ADDRESS : SET_ASIDE;
        const [{ results, tool }] = JSON.parse(readFileSync(join(folder, 'out.sarif'), 'utf8')).runs;
        expect(tool.driver.name).toMatch(/Sarif/i);
        const complaints = (results as { ruleId: string; level?: string; message: unknown }[]).filter(
          ({ ruleId, level }) => !(ruleId in setAside) && level !== 'note',
        );
        expect(complaints).toEqual([]);
      } finally {
        rmSync(folder, { recursive: true, force: true });
      }
    });
  });
});
