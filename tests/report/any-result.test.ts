import { readFileSync } from 'node:fs';
import { Ajv } from 'ajv';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { JobPictures } from '../../src/facts/drawing/drawing-model.ts';
import type { Finding } from '../../src/findings/finding.ts';
import type { RunResult } from '../../src/findings/result.ts';
import { discoverJobs } from '../../src/job/files/discovery.ts';
import { preflightDrawn } from '../../src/preflight.ts';
import { READERS } from '../../src/readers.ts';
import { drawsPictures, FORMAT_NAMES, FORMATS, type FormatName } from '../../src/report/formats.ts';
import { reportText } from '../../src/report/report-context.ts';
import { finding, job, run } from '../findings/results.ts';
import { memoryAccess } from '../memory-access.ts';
import { demoFiles, libraryOf, readers, shed, TODAY } from '../memory-shop.ts';
import { context } from './context.ts';
import { readCommands } from './runner-grammar.ts';
import { readXml } from './xml-reader.ts';

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

const fitsDrawing = new Ajv({ strict: false }).compile(
  JSON.parse(readFileSync(new URL('../../schemas/drawing.schema.json', import.meta.url), 'utf8')),
);

/** Pictures of a job of the demo, which the jobs of a run get by their names, with texts of those names in them. */
const DRAWN = drawnGateSign();

function drawnGateSign(): JobPictures {
  const files = { ...shed(), ...demoFiles('gate-sign.job.yaml', 'gate-sign.gcode', 'gate-sign.svg') };
  const { drawings } = preflightDrawn({
    jobs: discoverJobs(memoryAccess(files), READERS, [''], false).jobs,
    library: libraryOf(files),
    settings: null,
    options: { today: TODAY, untrusted: false },
    toolVersion: '0.0.0-test',
    readers,
  });
  return drawings[0]!;
}

const picturesOf = ({ jobs }: RunResult) =>
  new Map(
    jobs.map(({ name, findings }) => {
      const { cuts, card, tasks } = DRAWN.drawing;
      const drawing = {
        ...DRAWN.drawing,
        job: name,
        cuts: cuts.map((cut) => ({ ...cut, task: name, recipe: name, file: name })),
        tasks: tasks.map((task) => ({ ...task, name })),
        card: {
          ...card,
          material: name,
          machine: name,
          recipes: card.recipes.map((one) => ({ ...one, task: name, file: name })),
        },
      };
      const around = findings.map(({ fingerprint }) => ({ fingerprint, startLine: 1, lines: [name] }));
      return [name, { drawing, around }] as const;
    }),
  );

/** Elements that HTML writes without an end (HTML standard, void elements). */
const VOID = ['meta', 'input', 'br', 'hr', 'img', 'link'];
const TAG = /<(?!!doctype html>)(\/?)([a-zA-Z0-9]*)((?:\s+[a-zA-Z][a-zA-Z-]*(?:="[^"<>]*")?)*)\s*(\/?)(>?)/g;

/** Reads a page tag by tag: whatever stood in a text, it has neither opened an element nor left an attribute. */
function expectWholePage(text: string): void {
  const open: string[] = [];
  const faults: string[] = [];
  for (const [all, closing, name = '', attributes = '', alone, end] of text.matchAll(TAG)) {
    const fits = closing === '/' ? open.pop() === name : true;
    const strange =
      name === '' || end === '' || ['script', 'iframe', 'b'].includes(name) || /\son\w+/i.test(attributes);
    if (strange || !fits) faults.push(all);
    else if (closing === '' && alone === '' && !VOID.includes(name)) open.push(name);
  }
  expect([faults, open]).toEqual([[], []]);
}

/** What each format must be, whatever was found: a format that is added has to say it. */
const SOUND: Record<FormatName, (text: string) => void> = {
  text: (text) => expect(readCommands(text)).toEqual([]),
  json: (text) => expect(fitsSchema(JSON.parse(text))).toBe(true),
  annotations: (text) => {
    const levels = readCommands(text).map((one) => one.command);
    for (const level of ['error', 'warning', 'notice'])
      expect(levels.filter((one) => one === level).length).toBeLessThanOrEqual(10);
    expect(levels.filter((one) => !['error', 'warning', 'notice'].includes(one))).toEqual([]);
    expect(text.trimEnd().split('\n')).toHaveLength(levels.length + 2);
  },
  sarif: (text) => expect(JSON.parse(text).version).toBe('2.1.0'),
  summary: (text) => expect(Buffer.byteLength(text)).toBeLessThan(1024 * 1024),
  html: (text) => {
    expect(text).toMatch(/^<!doctype html>\n[\s\S]*<\/html>\n$/);
    expectWholePage(text);
  },
  drawing: (text) => expect(fitsDrawing(JSON.parse(text)), JSON.stringify(fitsDrawing.errors)).toBe(true),
  junit: (text) => expect(readXml(text).name).toBe('testsuites'),
  checkstyle: (text) => expect(readXml(text).name).toBe('checkstyle'),
  codequality: (text) => {
    const issues = JSON.parse(text) as { fingerprint: string }[];
    expect(issues.length === 0 || issues.every(({ fingerprint }) => fingerprint.length === 16)).toBe(true);
    expect(new Set(issues.map(({ fingerprint }) => fingerprint)).size).toBe(issues.length);
  },
  oneline: (text) => expect(readCommands(text)).toEqual([]),
  csv: (text) => expect(text).toMatch(/\r\n$/),
};

describe('whatever the result', () => {
  it.each(FORMAT_NAMES)('%s is sound, the same each time, and holds nothing that a terminal acts on', async (name) => {
    const format = await FORMATS[name].load();
    fc.assert(
      fc.property(anyRun, (result) => {
        const shown = drawsPictures(name) ? context({ pictures: picturesOf(result) }) : context();
        const text = reportText(format, result, shown);
        SOUND[name](text);
        expect(reportText(format, result, shown)).toBe(text);
        // A page keeps the tabs of the lines that it quotes.
        const plain = text.replaceAll('\r\n', '\n').replaceAll(name === 'html' ? '\t' : '', '');
        expect(plain).not.toMatch(/[^\n\P{Cc}]|\p{Surrogate}|[\u202a-\u202e\u2066-\u2069]/u);
      }),
      { numRuns: 150, seed: 20261125 },
    );
  });
});
