// What was assumed, and that a machine is made up, stands with each job in every format for people, in the same words; a result of an earlier
// version says nothing of it.
import { describe, expect, it } from 'vitest';
import { assumedText, inventedText } from '../../src/facts/assumed/assumed-text.ts';
import type { JobResult } from '../../src/findings/result.ts';
import { FORMATS, type FormatName } from '../../src/report/formats.ts';
import { reportText } from '../../src/report/report-context.ts';
import { job, run } from '../findings/results.ts';
import { wordsOfHtml, wordsOfMarkdown } from '../markdown-reader.ts';
import { context } from './context.ts';

const key = (name: string, value: number | string, unit: string | null, inDoubt: boolean) => ({
  key: name,
  value,
  unit,
  basis: 'memory',
  inDoubt,
});
const RATED = key('source.measured', 40, 'W', true);
const BEAM = key('beam.diameter', 5, 'mm', true);
const SPEED = key('motion.speed', 500, 'mm/s', false);
const SHAPE = key('lenses.2in.shape', 'plano-convex', null, false);

const ASSUMED: JobResult = job({
  machine: 'garden-40w',
  inventedMachine: true,
  assumed: [RATED, BEAM, SPEED, SHAPE],
  narrows: { key: 'source.measured', fromShare: 0.384, toShare: 0.241 },
});

const PEOPLE: Partial<Record<FormatName, (report: string) => string>> = {
  text: (report) => report.replace(/\s+/g, ' '),
  summary: (report) => wordsOfMarkdown(report).replace(/\s+/g, ' '),
  html: (report) => wordsOfHtml(report.replace(/^[\s\S]*<body>/, '')).replace(/\s+/g, ' '),
};

describe('the line on what was assumed', () => {
  it.each(Object.entries(PEOPLE))('stands in %s, also of a job in which nothing was found', async (format, read) => {
    const write = await FORMATS[format as FormatName].load();
    for (const one of [ASSUMED, { ...ASSUMED, findings: [], incomplete: [] }]) {
      const said = read(reportText(write, run([one, job({ name: 'tray' })]), context()));
      expect(said).toContain(assumedText(one));
      expect(said).toContain(inventedText(one.machine, true));
      expect(said.split('Assumed, as the profile does not say').length).toBe(2);
    }
  });

  it('names what is in doubt, counts the rest, and says what a measurement would bring', () => {
    expect(assumedText(ASSUMED)).toBe(
      'Assumed, as the profile does not say: source.measured 40 W, beam.diameter 5 mm and 2 more. A measured power would take the depth from ± 38 % to ± 24 %.',
    );
  });

  it('names the first few where nothing is in doubt', () => {
    const one = { ...ASSUMED, assumed: [SPEED, SHAPE], narrows: null };
    expect(assumedText(one)).toBe(
      'Assumed, as the profile does not say: motion.speed 500 mm/s and lenses.2in.shape plano-convex.',
    );
  });

  it.each([
    ['beam.diameter', 'A measured beam diameter at the lens'],
    ['beam.m2', 'A stated M²'],
    ['lenses.2in.spot', 'A measured spot'],
    ['source.floor', 'A stated source.floor'],
  ])('says by words what would fill in %s', (named, words) => {
    const one = { ...ASSUMED, narrows: { key: named, fromShare: 0.9, toShare: 0.3 } };
    expect(assumedText(one)).toContain(`. ${words} would take the depth from within a factor of 2.5 to ± 30 %.`);
  });

  it('is none where nothing was assumed, or the result is older', () => {
    expect(assumedText({ ...ASSUMED, assumed: [] })).toBe('');
    const { assumed: _, narrows: __, inventedMachine: ___, ...rest } = ASSUMED;
    const older: JobResult = rest;
    expect([assumedText(older), inventedText(older.machine, older.inventedMachine === true)]).toEqual(['', '']);
  });
});
