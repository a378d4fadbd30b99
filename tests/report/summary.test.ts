import { describe, expect, it } from 'vitest';
import { compareResults } from '../../src/findings/comparing/compare.ts';
import type { JobResult } from '../../src/findings/result.ts';
import { SUMMARY_BYTES, summary } from '../../src/report/ci/summary.ts';
import { finding, job, run } from '../findings/results.ts';
import { context } from './context.ts';

describe('the job summary', () => {
  it('gives the verdict, a table of the jobs with the worst first, and the findings', () => {
    const result = run([
      job({ name: 'tray', waste: null }),
      job({ findings: [finding({ hints: ['Or fit the 4in lens.'] })] }),
    ]);
    expect(
      summary(result, context({ docsUrl: 'https://example.org/v1/' })),
    ).toBe(`## kerflint: Do not run\\: 1 of 2 jobs (gate).

2 jobs · 1 error · expected waste 4.58 EUR

| job | verdict | material | thickness | P(through) | time | expected waste | found |
|---|---|---|--:|--:|--:|--:|---|
| gate | ⛔ Do not run\\: predicted depth 4.1 mm (3.0–5.3) of 6.0 mm birch plywood after 1 pass at 48 W, 12 mm/s. | birch-plywood | 6.0 mm | 3 % | 3 min 2 s | 4.58 of 4.72 EUR | 1 error |
| tray | Found no error in what was checked\\: the one cut is 3 % likely to part the sheet. | birch-plywood | 6.0 mm | 3 % | 3 min 2 s |  | nothing |

### gate

- **⛔ error** Predicted depth 4.1 mm (3.0–5.3) of 6.0 mm birch plywood after 1 pass at 48 W, 12 mm/s. Slow to 7.5 mm/s.
  - → Or fit the 4in lens.
  <br>signs/gate.gcode\\:12\\:4 · [cut/short-of-through](https://example.org/v1/docs/rules/cut-short-of-through.md)

  \`\`\`text
  G1 F720 X10
  \`\`\`


Never leave a running laser unattended; extraction on, extinguisher at hand, interlocks working. The material's safety data sheet, the machine's manual and local rules decide.
`);
  });

  it('shows the least sure cut through the sheet as it was and as it is, side by side', () => {
    const deep = (name: string, depthMm: number | null, throughProbability: number | null): JobResult => {
      const one = job({ name });
      const sure = { ...one.cuts[0]!, depthMm: 30, throughProbability: 0.99 };
      return { ...one, cuts: [sure, { ...one.cuts[0]!, depthMm, throughProbability }] };
    };
    const base = run([deep('as-before', 4.1, 0.03), deep('deeper', 4.1, 0.03), deep('odd', 4.1, 0.03)]);
    const now = run([deep('as-before', 4.1, 0.03), deep('deeper', 6.3, 0.8), deep('odd', null, null)]);
    const comparison = compareResults(base, now, { oncePerRun: new Set(), isThere: () => false, gate: 'all' });
    // 4.1 of 6.0 mm are 8.2 of 12 twelfths; what reaches the underside is full.
    expect(summary({ ...now, comparison }, context())).toContain(`
| section of the least sure cut | in the base | now |
| --- | --- | --- |
| deeper | ████████░░░░ 4.1 of 6.0 mm | ████████████ 6.3 of 6.0 mm |
| odd | ████████░░░░ 4.1 of 6.0 mm | ████████████ 30.0 of 6.0 mm |
`);
  });

  it('says what was not judged, waived and not checked', () => {
    const jobs = [
      job({ incomplete: ['the material is unknown'], findings: [finding({ status: 'waived', reason: 'coupon 12' })] }),
    ];
    const page = summary(run(jobs, [{ file: 'a.svg', reason: 'no sidecar' }]), context());
    expect(page).toMatch('## kerflint: Not judged\\: the material is unknown.\n');
    expect(page).toContain(
      '### Waived, and still so (1)\n\n- signs/gate.gcode\\:12\\:4 cut/short-of-through\\: coupon 12\n',
    );
    expect(page).toContain('### Not checked (1 file)\n\n- a.svg\\: no sidecar\n');
  });

  it('ends between two findings ahead of the limit, and counts those left out', () => {
    const findings = Array.from({ length: 6000 }, (_, i) => finding({ message: `No. ${i}: ${'ü'.repeat(200)}.` }));
    const page = summary(run([job({ findings })]), context());
    expect(Buffer.byteLength(page)).toBeLessThanOrEqual(SUMMARY_BYTES);
    expect(SUMMARY_BYTES).toBeLessThan(1024 * 1024);
    const shown = page.match(/\*\*⛔ error\*\*/g)?.length ?? 0;
    expect(page).toMatch(new RegExp(`\\n\\*\\*Cut here\\*\\*: ${6000 - shown} more findings `));
    expect(page.match(/```/g)?.length).toBe(shown * 2);
  });

  it.each([
    '<img src=x onerror=alert(1)>',
    '| a | b |',
    '```\n# x',
    '![x](https://example.org/a.png)',
    '\n\n# heading',
    '@all',
    '\u001b[31m',
    '\ud800',
    '</summary>',
  ])('shows %j in any field as text', (evil) => {
    const findings = [finding({ message: evil, hints: [evil], excerpt: { startLine: 1, lines: evil.split('\n') } })];
    const page = summary(run([job({ name: evil, material: evil, findings, incomplete: [evil] })]), context());
    const outsideBlocks = page.replace(/^ {2}(`{3,})text\n[\s\S]*?\n {2}\1$/gm, '');
    expect(outsideBlocks).not.toMatch(/<(?!br>)|[^\\]!\[|^# |@all|```/m);
    expect(page).not.toMatch(/[^\n\P{Cc}]|\p{Surrogate}/u);
    const row = page.split('\n').find((line) => line.includes('| ❔'));
    expect(row?.match(/(?<!\\)\|/g)).toHaveLength(9);
  });
});
