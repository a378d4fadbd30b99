import { describe, expect, it } from 'vitest';
import type { Finding } from '../../src/findings/finding.ts';
import { annotations } from '../../src/report/ci/annotations.ts';
import { reportText } from '../../src/report/report-context.ts';
import { finding, job, run } from '../findings/results.ts';
import { context } from './context.ts';
import { readCommands } from './runner-grammar.ts';

const at = (file: string, line: number, change: Partial<Finding> = {}) =>
  finding({ location: { file, line, column: 2, endLine: line, endColumn: 5 }, ...change });
const read = (findings: Finding[], change = {}) =>
  readCommands(reportText(annotations, run([job({ findings, ...change })]), context()));

describe('annotations', () => {
  it('carry level, place, title and the whole message', () => {
    const [only, ...others] = read([at('signs/gate.gcode', 12, { hints: ['Or fit the 4in lens: 100 %.'] })]);
    expect(others).toEqual([]);
    expect(only).toEqual({
      command: 'error',
      properties: {
        file: 'signs/gate.gcode',
        line: '12',
        endLine: '12',
        col: '2',
        endColumn: '5',
        title: 'kerflint cut/short-of-through',
      },
      data: `${finding().message}\nOr fit the 4in lens: 100 %.\n(kerflint explain cut/short-of-through)`,
    });
  });

  it('give no columns for a place of several lines', () => {
    const place = { file: 'a.svg', line: 3, column: 4, endLine: 5, endColumn: 1 };
    expect(Object.keys(read([finding({ location: place })])[0]?.properties ?? {})).toEqual([
      'file',
      'line',
      'endLine',
      'title',
    ]);
  });

  it('begin paths at the top of the repository', () => {
    const text = reportText(
      annotations,
      run([job({ findings: [at('gate.gcode', 1)] })]),
      context({ rootInRepository: 'garden/' }),
    );
    expect(readCommands(text)[0]?.properties['file']).toBe('garden/gate.gcode');
  });

  it('leave out what is waived or in the baseline', () => {
    expect(read([at('a', 1, { status: 'waived' }), at('a', 2, { status: 'baselined' })])).toEqual([]);
  });

  it('put the worst first and keep to ten a level, the last of which counts the others', () => {
    const many = [
      ...Array.from({ length: 12 }, (_, i) => at('signs/notes.svg', i + 1, { severity: 'note' })),
      ...Array.from({ length: 25 }, (_, i) => at(i < 20 ? 'signs/gate.gcode' : 'a,b:c.svg', i + 1)),
      at('x', 1, { severity: 'warning' }),
    ];
    const commands = read(many);
    expect(commands.map((one) => one.command)).toEqual([
      ...Array.from({ length: 10 }, () => 'error'),
      'warning',
      ...Array.from({ length: 10 }, () => 'notice'),
    ]);
    expect(commands[9]?.data).toMatch(/^16 more errors in signs\/gate\.gcode \(16\)/);
    expect(commands[20]?.data).toMatch(/^3 more notes in signs\/notes\.svg \(3\)/);
  });

  it('name exactly ten without a counting one', () => {
    const ten = read(Array.from({ length: 10 }, (_, i) => at('a', i + 1)));
    expect(ten.map((one) => one.properties['line'])).toEqual(Array.from({ length: 10 }, (_, i) => String(i + 1)));
  });

  it('say that a job was not judged whole, even when no finding does', () => {
    const [only] = read([], { incomplete: ['the material is unknown'], sidecar: 'signs/gate.job.yaml' });
    expect(only).toMatchObject({ command: 'error', properties: { file: 'signs/gate.job.yaml' } });
    expect(only?.data).toMatch('the material is unknown');
  });

  it('end ahead of the length at which a runner cuts them', () => {
    const [only] = read([at('a', 1, { message: 'x%'.repeat(4096) })]);
    expect(only?.data.length).toBeLessThan(4096);
    expect(only?.data).toMatch(/explain cut\/short-of-through\)$/);
  });

  const HOSTILE = [
    '::error::injected',
    'x\n::set-output name=verdict::pass',
    '%0A::error::injected',
    '##[error]injected',
    '##[add-mask]pass',
    '\r\n::stop-commands::pause-logging',
    ',line=1,title=x::injected',
    '\u001b[31m\u0007',
    '\u0085::error::injected',
    '\u2028::error::injected',
    '\ud800\u202e',
  ];
  it.each(HOSTILE)('are not multiplied or turned by %j in any field', (evil) => {
    const findings = [
      finding({ message: evil, hints: [evil], location: { file: evil, line: 1, column: 1, endLine: 1, endColumn: 1 } }),
    ];
    const text = reportText(
      annotations,
      run([job({ name: evil, findings, incomplete: [evil], sidecar: evil })]),
      context(),
    );
    const commands = readCommands(text);
    expect(commands.map((one) => one.command)).toEqual(['error', 'error']);
    expect(
      commands.every((one) => Object.keys(one.properties).join() === 'file,line,endLine,col,endColumn,title'),
    ).toBe(true);
    expect(text.split('\n')).toHaveLength(5);
    expect(text).not.toMatch(/[^\n\P{Cc}]|\p{Surrogate}|\u202e|\u2028/u);
  });
});
