// Files with random damage through the whole street and out by every format. `npm run fuzz` does the same with many more.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv } from 'ajv';
import fc from 'fast-check';
import { SaxesParser } from 'saxes';
import { describe, expect, it } from 'vitest';
import type { RunResult } from '../../src/findings/result.ts';
import { discoverJobs } from '../../src/job/discovery.ts';
import { createLibrary } from '../../src/job/library.ts';
import { readSettings } from '../../src/job/settings.ts';
import { collectShop } from '../../src/job/shop.ts';
import { preflightDrawn } from '../../src/preflight.ts';
import type { ReportContext } from '../../src/report/format.ts';
import { FORMATS, type FormatName } from '../../src/report/formats.ts';
import { rulesInForce } from '../../src/rules/in-force.ts';
import { RULES } from '../../src/rules/index.ts';
import { bytesSource } from '../../src/source/source.ts';
import { REPOSITORY } from '../cli/harness.ts';
import { memoryAccess } from '../memory-access.ts';
import { catalogueSources, demoFiles, type Files, shed, TODAY } from '../memory-shop.ts';
import { readCommands } from '../report/runner-grammar.ts';
import { corpusIsThere, type Kind, mutated, seeds } from './mutations.ts';

/** How many inputs in all; `npm run fuzz` sets many more. */
const INPUTS = Number(process.env['FUZZ_INPUTS'] ?? 3_000);
/** The suite damages the same files in the same way each time; `npm run fuzz` looks for new ways. */
const SEED = process.env['FUZZ_INPUTS'] === undefined ? { seed: 20_261_125 } : {};
/** Processor time: what else the machine does has no say. A guard against hangs, not a measurement. */
const LONGEST_S = 2;

if (!corpusIsThere) console.warn('The corpus is not here: only the files of the repository were damaged.');

const library = createLibrary({
  catalogue: catalogueSources(),
  shop: collectShop(memoryAccess(shed()), true).sources,
  untrusted: false,
});
const BARE = { machine: 'shed-60w', lens: '2in', material: 'birch-plywood', thickness: '3 mm' };

const fitsSchema = new Ajv({ strict: false }).compile(
  JSON.parse(readFileSync(join(REPOSITORY, 'schemas/result.schema.json'), 'utf8')),
);

function judge(files: Files): { result: RunResult; context: ReportContext } {
  const { jobs } = discoverJobs(memoryAccess(files), [''], true);
  const { result, drawings } = preflightDrawn({
    jobs,
    library,
    settings: null,
    options: { today: TODAY, untrusted: false, ...BARE },
    toolVersion: '0.0.0-test',
  });
  const pictures = new Map(result.jobs.flatMap(({ name }, i) => (drawings[i] ? [[name, drawings[i]] as const] : [])));
  return {
    result,
    context: {
      rules: RULES,
      width: 100,
      colour: false,
      quiet: false,
      rootInRepository: '',
      docsUrl: null,
      pictures,
      script: null,
    },
  };
}

/** The encoding of artwork that has no mark, by its look or its declaration (XML 1.0 appendix F). */
function encodingOf(bytes: Uint8Array): string {
  if (bytes[0] === 0x3c && bytes[1] === 0) return 'utf-16le';
  if (bytes[0] === 0 && bytes[1] === 0x3c) return 'utf-16be';
  const head = Buffer.from(bytes.subarray(0, 200)).toString('latin1');
  const named = /^<\?xml[^>]*?\sencoding\s*=\s*["']([^"']*)["']/.exec(head)?.[1] ?? 'utf-8';
  // A name for wide characters in front of bytes that are none is wrong.
  return /^utf-?16/i.test(named) ? 'utf-8' : named;
}

function textOf(file: string, bytes: Uint8Array): string {
  try {
    const encoding = file.endsWith('.svg') ? encodingOf(bytes) : 'utf-8';
    return new TextDecoder(encoding, { ignoreBOM: true }).decode(bytes);
  } catch {
    return new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes);
  }
}

/** As the places count: lines end with LF, CR LF or a lone CR. */
function lineLengths(file: string, bytes: string | Uint8Array): number[] {
  const text = typeof bytes === 'string' ? bytes : textOf(file, bytes);
  return text.split(/\r\n|\r|\n/).map((line) => line.length);
}

function expectSound(result: RunResult, files: Files): void {
  for (const { findings, incomplete, notChecked } of result.jobs) {
    expect(incomplete.join()).not.toContain('fault of kerflint');
    expect(notChecked.filter((one) => one.kind === 'failed')).toEqual([]);
    for (const { location, related } of findings) {
      for (const place of [location, ...related]) {
        const file = files[place.file];
        if (file === undefined) {
          expect(place.file).toMatch(/^(kerflint\/data|machines)\//);
          continue;
        }
        const lengths = lineLengths(place.file, file);
        expect(place.line).toBeGreaterThanOrEqual(1);
        expect(place.endLine).toBeLessThanOrEqual(lengths.length);
        expect(place.column).toBeLessThanOrEqual((lengths[place.line - 1] ?? 0) + 1);
        // The end is exclusive; an empty place is shown one column wide.
        expect(place.endColumn).toBeLessThanOrEqual((lengths[place.endLine - 1] ?? 0) + 2);
      }
    }
  }
}

/** What each report must be, read by another's reader or by a reading of the grammar of its own. */
const VALID: Record<FormatName, (text: string) => void> = {
  text: (text) => expect(readCommands(text)).toEqual([]),
  json: (text) => expect(fitsSchema(JSON.parse(text)), JSON.stringify(fitsSchema.errors)).toBe(true),
  annotations: (text) => {
    for (const { command, data } of readCommands(text)) {
      expect(['error', 'warning', 'notice']).toContain(command);
      expect(data.length).toBeLessThanOrEqual(4096);
    }
  },
  sarif: (text) => {
    for (const { ruleId, ruleIndex, locations } of JSON.parse(text).runs[0].results) {
      expect(RULES[ruleIndex]?.id).toBe(ruleId);
      expect(locations).toHaveLength(1);
    }
  },
  summary: (text) => {
    expect(Buffer.byteLength(text)).toBeLessThan(1024 * 1024);
    // Inside a fenced block nothing is markup.
    expect(text.replace(/^ *(`{3,})[^\n]*\n[\s\S]*?^ *\1$/gm, '')).not.toMatch(/<script/i);
  },
  html: (text) => {
    const scripts = text.match(/<script/gi) ?? [];
    expect(scripts).toEqual([]);
    for (const [svg] of text.matchAll(/<svg[\s\S]*?<\/svg>/g)) wellFormed(svg);
  },
  csv: (text) => {
    // RFC 4180: every record has as many fields as the first.
    const fields = [...text.matchAll(/(?:"(?:[^"]|"")*"|[^",\r\n]*)(,|\r\n)/g)];
    expect(fields.map(([all]) => all).join('')).toBe(text);
    const ends = fields.flatMap(([, end], i) => (end === ',' ? [] : i));
    for (const [row, end] of ends.entries()) expect(end - (ends[row - 1] ?? -1)).toBe((ends[0] ?? 0) + 1);
  },
};

function wellFormed(xml: string): void {
  const parser = new SaxesParser({});
  parser.on('error', (error) => {
    throw error;
  });
  parser.write(xml).close();
}

/** Bytes as one can paste them into a test. */
const shown = (files: Files) =>
  Object.entries(files).map(([name, content]) => `${name} ${Buffer.from(content as Uint8Array).toString('base64')}`);

async function survives(files: Files, formats: readonly FormatName[]): Promise<void> {
  const before = process.cpuUsage();
  const { result, context } = judge(files);
  const { user, system } = process.cpuUsage(before);
  expect((user + system) / 1e6, `processor seconds for ${shown(files)}`).toBeLessThan(LONGEST_S);
  expectSound(result, files);
  for (const name of formats) VALID[name]((await FORMATS[name].load())(result, context));
}

const names = Object.keys(FORMATS) as FormatName[];
/** Each input goes out by two of the formats: all of them come up often. */
const twoFormats = fc.tuple(fc.constantFrom(...names), fc.constantFrom(...names));

const trio = demoFiles('gate-sign.job.yaml', 'gate-sign.gcode', 'gate-sign.svg');
const sidecars = seeds(/\.job\.yaml$/);

const TARGETS: [string, number, Kind, RegExp, (bytes: Uint8Array) => Files][] = [
  ['toolpaths', 0.3, 'gcode', /\.(gcode|nc|ngc)$/, (bytes) => ({ 'odd.gcode': bytes })],
  ['artwork', 0.3, 'svg', /\.svg$/, (bytes) => ({ 'odd.svg': bytes })],
  ['sidecars', 0.2, 'yaml', /\.job\.yaml$/, (bytes) => ({ ...trio, 'gate-sign.job.yaml': bytes })],
  [
    'machines beside a job',
    0.1,
    'yaml',
    /\.machine\.yaml$/,
    (bytes) => ({
      ...trio,
      'own.machine.yaml': bytes,
      'gate-sign.job.yaml': (trio['gate-sign.job.yaml'] as string).replace(
        /^machine: .*/m,
        'machine: own.machine.yaml',
      ),
    }),
  ],
  ['materials beside a job', 0.05, 'yaml', /\.material\.yaml$/, (bytes) => ({ ...trio, 'own.material.yaml': bytes })],
];

describe(`damaged files (${INPUTS} in all)`, () => {
  it('begin with files of every kind', () => {
    expect(sidecars.length).toBeGreaterThan(5);
    for (const [, , , suffix] of TARGETS) expect(seeds(suffix).length).toBeGreaterThan(0);
  });

  it.each(TARGETS)(
    '%s are judged without a fault, in time, with every place inside its file and every format valid',
    async (_, share, kind, suffix, filesOf) => {
      await fc.assert(
        fc.asyncProperty(mutated(kind, seeds(suffix)), twoFormats, (bytes, formats) =>
          survives(filesOf(bytes), formats),
        ),
        { numRuns: Math.ceil(INPUTS * share), endOnFailure: true, ...SEED },
      );
    },
    24 * 3_600_000,
  );

  it(
    'settings give problems with places, never an exception',
    () => {
      const files = [
        ...seeds(/\.kerflint\.yaml$/),
        new TextEncoder().encode(
          'kerflint: 1\nmachines: [machines]\nexclude: ["old/**"]\nbudget: 5 EUR\nrules: { cut/short-of-through: warning, toolpath/dwell-burn: { severity: note } }\n',
        ),
      ];
      fc.assert(
        fc.property(mutated('yaml', files), (bytes) => {
          const { value, problems } = readSettings(bytesSource('.kerflint.yaml', bytes));
          const more =
            value === null
              ? []
              : rulesInForce(value.rules).problems.map(({ path }) => value.placeOf(['rules', ...path], 'key'));
          const last = lineLengths('.kerflint.yaml', bytes).length;
          for (const place of [...problems.map((one) => one.place), ...more])
            expect(place.line >= 1 && place.endLine <= last).toBe(true);
        }),
        { numRuns: Math.ceil(INPUTS * 0.05), ...SEED },
      );
    },
    24 * 3_600_000,
  );
});
