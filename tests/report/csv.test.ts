import { describe, expect, it } from 'vitest';
import { csv } from '../../src/report/data/csv.ts';
import { reportText } from '../../src/report/report-context.ts';
import { finding, job, run } from '../findings/results.ts';
import { context } from './context.ts';

/** Reads RFC 4180, written from the RFC's grammar and independently of our writer. */
function readCsv(text: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  for (const [, quoted, plain = '', end] of text.matchAll(/(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n)/g)) {
    row.push(quoted === undefined ? plain : quoted.replaceAll('""', '"'));
    if (end === '\r\n') {
      rows.push(row);
      row = [];
    }
  }
  return rows;
}

function table(...args: Parameters<typeof run>): Record<string, string>[] {
  const [head = [], ...rows] = readCsv(reportText(csv, run(...args), context()));
  return rows.map((row) => Object.fromEntries(head.map((name, i) => [name, row[i] ?? 'MISSING'])));
}

describe('the CSV report', () => {
  it('has one row a job with what an audit asks for', () => {
    const findings = [finding({ severity: 'warning' }), finding(), finding({ status: 'waived' })];
    expect(table([job({ findings }), job({ name: 'tray' })])).toMatchObject([
      {
        job: 'gate',
        verdict: 'fail',
        errors: '1',
        warnings: '1',
        notes: '0',
        'set aside': '1',
        'worst rule': 'cut/short-of-through',
        where: 'signs/gate.gcode:12:4',
        material: 'birch-plywood',
        'thickness mm': '6',
        'least P(through)': '0.03',
        'time s': '181.6',
        'expected waste': '4.58',
        currency: 'EUR',
      },
      { job: 'tray', verdict: 'pass', 'worst rule': '', 'not checked': '' },
    ]);
  });

  it('tells the length that the toolpath cuts, and the artwork’s only where there is no toolpath', () => {
    const { toolpath: cut, artwork: drawn, ...rest } = job();
    const toolpath = { ...cut!, cutLengthMm: 3600.5 };
    const artwork = { ...drawn!, lengthMm: 1800.25 };
    const lengthOf = (one: Parameters<typeof table>[0][number]) => table([one])[0]?.['cut length mm'];
    expect(lengthOf({ ...rest, toolpath, artwork })).toBe('3600.5');
    expect(lengthOf({ ...rest, artwork })).toBe('1800.25');
    expect(lengthOf(rest)).toBe('');
  });

  it('has rows for files that were not checked', () => {
    expect(table([], [{ file: 'a.svg', reason: 'no sidecar, no options' }])).toMatchObject([
      { job: 'a.svg', verdict: 'not checked', 'not checked': 'no sidecar, no options' },
      { job: '', verdict: 'pass', headline: 'Nothing was judged: no job was found; 1 file was left out.' },
    ]);
  });

  it('says why a job was not judged whole', () => {
    const notChecked = [{ rule: 'a/b', kind: 'failed' as const, reason: 'x' }];
    expect(table([job({ incomplete: ['material unknown'], notChecked })])[0]?.['not checked']).toBe(
      'material unknown; a/b failed: x',
    );
  });

  it.each(['=cmd|x!A0', '+1', '-1', '@x', '\t=1', '\r\n=1', '"; =1', 'a","=1', '\u001b[31m', '\ud800'])(
    'takes the sting out of %j in any field, in one row',
    (evil) => {
      const findings = [
        finding({ message: evil, location: { file: evil, line: 1, column: 1, endLine: 1, endColumn: 1 } }),
      ];
      const rows = table([job({ name: evil, material: evil, sidecar: evil, findings, incomplete: [evil] })]);
      expect(rows).toHaveLength(1);
      for (const value of Object.values(rows[0] ?? {})) expect(value).not.toMatch(/^\s*[=+\-@]|\p{Cc}|\p{Surrogate}/u);
    },
  );
});
