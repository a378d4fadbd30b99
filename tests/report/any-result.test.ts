import { readFileSync } from 'node:fs';
import { Ajv } from 'ajv';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Finding } from '../../src/findings/finding.ts';
import { FORMATS, type FormatName } from '../../src/report/formats.ts';
import { finding, job, run } from '../findings/results.ts';
import { context } from './context.ts';
import { readCommands } from './runner-grammar.ts';

const SPICES = [
  '::error::x',
  '##[error]x',
  '%0A',
  '\u001b[31m',
  '\u009b',
  '\n',
  '\r\n',
  '\u2028',
  '\u202e',
  '\ud800',
  '\udc00',
  '|',
  '`',
  '```',
  '<b>',
  '&',
  '=1+1',
  '"',
  "'",
  ',',
  ';',
  '\t',
  '\0',
  '\ufeff',
  'x'.repeat(5000),
  '[a](b)',
  '@all',
  '$x$',
];
const anyText = fc
  .array(fc.oneof(fc.constantFrom(...SPICES), fc.string({ unit: 'binary', maxLength: 12 })), { maxLength: 6 })
  .map((parts) => parts.join(''));
const anyPlace = fc.record({
  line: fc.integer({ min: 1, max: 9e6 }),
  column: fc.integer({ min: 1, max: 300 }),
  more: fc.nat(3),
  width: fc.nat(400),
});

const anyFinding: fc.Arbitrary<Finding> = fc
  .record({
    file: anyText,
    place: anyPlace,
    message: anyText,
    hint: anyText,
    lines: fc.array(anyText, { minLength: 1, maxLength: 3 }),
    severity: fc.constantFrom('error', 'warning', 'note'),
    status: fc.constantFrom('open', 'waived', 'baselined'),
  })
  .map(({ file, place, message, hint, lines, severity, status }) => {
    const { line, column, more, width } = place;
    const location = { file, line, column, endLine: line + more, endColumn: column + width };
    return finding({
      message,
      severity,
      status,
      location,
      hints: [hint],
      related: [{ ...location, message: hint }],
      excerpt: { startLine: line, lines, startColumn: column > 200 ? column - 60 : 1 },
      reason: hint,
    });
  });

const anyRun = fc
  .record({
    names: fc.array(anyText, { maxLength: 3 }),
    findings: fc.array(anyFinding, { maxLength: 15 }),
    reasons: fc.array(anyText, { maxLength: 2 }),
  })
  .map(({ names, findings, reasons }) =>
    run(
      names.map((name) => {
        const kinds = ['failed', 'ended-early', 'not-applicable'] as const;
        const notChecked = reasons.flatMap((reason) => kinds.map((kind) => ({ rule: 'a/b', kind, reason })));
        return job({ name, material: name, findings, incomplete: reasons, notChecked });
      }),
      reasons.map((reason) => ({ file: reason, reason })),
    ),
  );

const fitsSchema = new Ajv({ strict: false }).compile(
  JSON.parse(readFileSync(new URL('../../schemas/result.schema.json', import.meta.url), 'utf8')),
);

/** What each format must be, whatever was found. */
const SOUND: Record<string, (text: string) => void> = {
  text: (text) => expect(readCommands(text)).toEqual([]),
  json: (text) => expect(fitsSchema(JSON.parse(text))).toBe(true),
  annotations: (text) => {
    const levels = readCommands(text).map((one) => one.command);
    for (const level of ['error', 'warning', 'notice'])
      expect(levels.filter((one) => one === level).length).toBeLessThanOrEqual(10);
    expect(levels.filter((one) => !['error', 'warning', 'notice'].includes(one))).toEqual([]);
    expect(text.trimEnd().split('\n')).toHaveLength(levels.length + 1);
  },
  sarif: (text) => expect(JSON.parse(text).version).toBe('2.1.0'),
  summary: (text) => expect(Buffer.byteLength(text)).toBeLessThan(1024 * 1024),
  csv: (text) => expect(text).toMatch(/\r\n$/),
};

describe('whatever the result', () => {
  const names = Object.keys(SOUND) as FormatName[];
  it.each(names)('%s is sound, the same each time, and holds nothing that a terminal acts on', async (name) => {
    const format = await FORMATS[name].load();
    fc.assert(
      fc.property(anyRun, (result) => {
        const text = format(result, context());
        SOUND[name]?.(text);
        expect(format(result, context())).toBe(text);
        expect(text.replaceAll('\r\n', '\n')).not.toMatch(/[^\n\P{Cc}]|\p{Surrogate}|[\u202a-\u202e\u2066-\u2069]/u);
      }),
      { numRuns: 150, seed: 20261125 },
    );
  });
});
