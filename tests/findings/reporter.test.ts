import { describe, expect, it } from 'vitest';
import { gatherLines } from '../../src/findings/lines.ts';
import type { ReportDescriptor } from '../../src/findings/report-descriptor.ts';
import {
  createReporter,
  DescriptorError,
  docsPath,
  locationsOf,
  type ReportingRule,
} from '../../src/findings/reporter.ts';
import { textSource } from '../../src/source/source.ts';

const RULE: ReportingRule = {
  id: 'speed/above-machine',
  severity: 'error',
  messages: { above: 'Speed {speed} mm/s is above {limit} mm/s.', here: 'The limit stands here.' },
};
const FILE = 'signs/gate.gcode';

function draft(change: Partial<ReportDescriptor> = {}): ReportDescriptor {
  return {
    messageId: 'above',
    args: { speed: 700, limit: 500 },
    location: { file: FILE, line: 2, column: 4, endLine: 2, endColumn: 10 },
    ...change,
  };
}

function report(program: string, ...drafts: ReportDescriptor[]) {
  const sources = new Map([[FILE, textSource(FILE, program, 7)]]);
  const reporter = createReporter(gatherLines(sources, drafts.flatMap(locationsOf)));
  return drafts.map((one) => reporter.report(RULE, one));
}

const PROGRAM = 'G21\nG1 F42000 X10\nM5\n';

describe('the reporter', () => {
  it('makes a whole finding of a sound draft', () => {
    expect(report(PROGRAM, draft({ hints: ['Slow down.'] }))).toEqual([
      {
        rule: 'speed/above-machine',
        messageId: 'above',
        severity: 'error',
        message: 'Speed 700 mm/s is above 500 mm/s.',
        location: { file: FILE, line: 2, column: 4, endLine: 2, endColumn: 10 },
        excerpt: { startLine: 2, lines: ['G1 F42000 X10'] },
        related: [],
        hints: ['Slow down.'],
        docs: 'docs/rules/speed-above-machine.md',
        fingerprint: expect.stringMatching(/^[0-9a-f]{16}$/),
        status: 'open',
      },
    ]);
  });

  it.each<[string, Partial<ReportDescriptor>]>([
    ['an unknown message', { messageId: 'toString' }],
    ['a missing argument', { args: { speed: 1 } }],
    ['an argument that is no number', { args: { speed: Number.NaN, limit: 1 } }],
    ['a line behind the end of the file', { location: { file: FILE, line: 9, column: 1, endLine: 9, endColumn: 1 } }],
    ['a column behind the end of the line', { location: { file: FILE, line: 1, column: 5, endLine: 1, endColumn: 5 } }],
    ['an end behind the end of the line', { location: { file: FILE, line: 1, column: 1, endLine: 2, endColumn: 99 } }],
    ['an end ahead of the start', { location: { file: FILE, line: 2, column: 4, endLine: 2, endColumn: 3 } }],
    ['line zero', { location: { file: FILE, line: 0, column: 1, endLine: 1, endColumn: 1 } }],
    ['half a column', { location: { file: FILE, line: 1, column: 1.5, endLine: 1, endColumn: 2 } }],
    [
      'a place in a file that was not read',
      { location: { file: 'gone.svg', line: 2, column: 1, endLine: 2, endColumn: 1 } },
    ],
    ['a severity that is none', { severity: 'fatal' as never }],
    [
      'a related place outside its file',
      {
        related: [{ file: FILE, place: { line: 8, column: 1, endLine: 8, endColumn: 1 }, messageId: 'here', args: {} }],
      },
    ],
  ])('refuses %s', (_, change) => {
    expect(() => report(PROGRAM, draft(change))).toThrow(DescriptorError);
  });

  it('accepts the first character of a file that cannot be read, without an excerpt', () => {
    const [finding] = report(
      PROGRAM,
      draft({ location: { file: 'gone.svg', line: 1, column: 1, endLine: 1, endColumn: 1 } }),
    );
    expect(finding?.excerpt).toBeNull();
  });

  it('accepts the end of a line and of the file', () => {
    const [line, file] = report(
      PROGRAM,
      draft({ location: { file: FILE, line: 1, column: 4, endLine: 1, endColumn: 4 } }),
      draft({ location: { file: FILE, line: 4, column: 1, endLine: 4, endColumn: 1 } }),
    );
    expect([line?.excerpt?.lines, file?.excerpt?.lines]).toEqual([['G21'], ['']]);
  });

  it('names the page of a rule', () => {
    expect(docsPath('toolpath/beam-left-on')).toBe('docs/rules/toolpath-beam-left-on.md');
  });
});

describe('fingerprints', () => {
  const one = (program: string, line: number, change: Partial<ReportDescriptor> = {}) =>
    report(program, draft({ location: { file: FILE, line, column: 1, endLine: line, endColumn: 1 }, ...change }))[0]
      ?.fingerprint;

  it('survive lines put in above, re-numbering, other blanks and checksums', () => {
    const before = one('G21\nG1 F42000 X10\n', 2);
    expect(one('G21\n\n(new)\nG1 F42000 X10\n', 4)).toBe(before);
    expect(one('N10 G21\nN20  G1 F42000  X10 *71\n', 2)).toBe(before);
  });

  it('differ by text, subject, message and file', () => {
    const all = [
      one('G1 F42000\n', 1),
      one('G1 F43000\n', 1),
      one('G1 F42000\n', 1, { subject: 'outline' }),
      one('G1 F42000\n', 1, { messageId: 'here' }),
    ];
    expect(new Set(all).size).toBe(4);
  });

  it('number the same finding on equal lines', () => {
    const at = (line: number) => draft({ location: { file: FILE, line, column: 1, endLine: line, endColumn: 1 } });
    const [first, second] = report('G1 X1\nG1 X1\n', at(1), at(2));
    expect(first?.fingerprint).not.toBe(second?.fingerprint);
  });
});
