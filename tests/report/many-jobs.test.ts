import { describe, expect, it } from 'vitest';
import { FORMATS, type FormatName } from '../../src/report/formats.ts';
import { reportText } from '../../src/report/report-context.ts';
import { finding, job, run } from '../findings/results.ts';
import { context } from './context.ts';

const COUNT = 650;
/** The later a job comes, the worse it is. */
const jobs = Array.from({ length: COUNT }, (_, i) => {
  const findings = Array.from({ length: 1 + Math.floor(i / 300) }, (_, n) => finding({ message: `Fault ${i}.${n}.` }));
  return job({ name: `label-${String(i).padStart(3, '0')}`, findings });
});
const written = async (format: FormatName) => reportText(await FORMATS[format].load(), run(jobs), context());

describe('a run of more jobs than are shown', () => {
  it.each(['text', 'summary', 'html'] as const)(
    '%s shows the worst, counts the others, and totals all',
    async (name) => {
      const page = (await written(name)).replaceAll('\\', '');
      expect(page).toContain('label-649');
      expect(page).not.toContain('label-299');
      expect(page).toContain('150 more jobs');
      expect(page).toContain('650 jobs');
      expect(page).toContain(`${650 + 350 + 50} errors`);
    },
  );

  it.each([
    ['json', /"label-\d+"/g],
    ['junit', /<testsuite name="label-\d+"/g],
    ['csv', /^label-\d+,/gm],
    ['oneline', /Fault \d+\.0/g],
    ['codequality', /Fault \d+\.0/g],
    ['checkstyle', /Fault \d+\.0/g],
    ['sarif', /Fault \d+\.0/g],
  ] as const)('%s has all', async (name, each) => {
    const found = new Set((await written(name)).match(each)?.map((one) => one.replace(/\D/g, '')));
    expect(found.size).toBe(COUNT);
  });

  it('json is the result, whatever the order of its keys', async () => {
    expect(JSON.parse(await written('json'))).toEqual(JSON.parse(JSON.stringify(run(jobs))));
  });
});
