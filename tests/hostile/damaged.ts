// What a damaged file goes through: the whole street and out by every format, each report read back.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv } from 'ajv';
import fc from 'fast-check';
import { SaxesParser } from 'saxes';
import { expect, it } from 'vitest';
import { RULES } from '../../src/cli/registered-rules.ts';
import type { RunResult } from '../../src/findings/result.ts';
import { discoverJobs } from '../../src/job/files/discovery.ts';
import { createLibrary } from '../../src/job/files/library.ts';
import { collectShop } from '../../src/job/files/shop.ts';
import { preflightDrawn } from '../../src/preflight.ts';
import { READERS } from '../../src/readers.ts';
import { FORMAT_NAMES, FORMATS, type FormatName } from '../../src/report/formats.ts';
import { type ReportContext, reportText } from '../../src/report/report-context.ts';
import { REPOSITORY } from '../cli/harness.ts';
import { memoryAccess } from '../memory-access.ts';
import { catalogueSources, type Files, readers, shed, TODAY } from '../memory-shop.ts';
import { fitsCodeQuality } from '../report/code-quality-schema.ts';
import { readCommands } from '../report/runner-grammar.ts';
import { readXml } from '../report/xml-reader.ts';
import { toItsEnd } from '../to-its-end.ts';
import { corpusIsThere, type Kind, mutated, seeds } from './mutations.ts';

/** How many inputs in all; `npm run fuzz` sets many more. */
const INPUTS = Number(process.env['FUZZ_INPUTS'] ?? 2_000);
/** The suite damages the same files in the same way each time; `npm run fuzz` looks for new ways. */
const SEED = process.env['FUZZ_INPUTS'] === undefined ? 20_261_125 : Math.floor(Math.random() * 2 ** 31);
/** A long run goes in parts of so many: each tells on its own that it is done, and a failure in one does not end the others. */
const PART = 2_500;
/** Processor time: what else the machine does has no say. A guard against hangs, not a measurement. */
const LONGEST_S = 2;

if (!corpusIsThere) console.warn('The corpus is not here: only the files of the repository were damaged.');

const library = createLibrary({
  catalogue: catalogueSources(),
  shop: collectShop(memoryAccess(shed()), true).sources,
  untrusted: false,
});
const BARE = { machine: 'shed-60w', lens: '2in', material: 'birch-plywood', thickness: '3 mm' };

const schemaOf = (name: string) =>
  new Ajv({ strict: false }).compile(JSON.parse(readFileSync(join(REPOSITORY, `schemas/${name}.schema.json`), 'utf8')));
const fitsSchema = schemaOf('result');
const fitsDrawing = schemaOf('drawing');

interface Judged {
  result: RunResult;
  context: ReportContext;
}

function judge(files: Files): Judged {
  const { jobs } = discoverJobs(memoryAccess(files), READERS, [''], true);
  const { result, drawings } = preflightDrawn({
    jobs,
    library,
    settings: null,
    options: { today: TODAY, untrusted: false, ...BARE },
    toolVersion: '0.0.0-test',
    readers,
  });
  const pictures = new Map(result.jobs.flatMap(({ name }, i) => (drawings[i] ? [[name, drawings[i]] as const] : [])));
  return {
    result,
    context: {
      rules: RULES,
      width: 100,
      colour: false,
      quiet: false,
      failLevel: { failOn: 'error', maxWarnings: null },
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
export function lineLengths(file: string, bytes: string | Uint8Array): number[] {
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
  drawing: (text) => expect(fitsDrawing(JSON.parse(text)), JSON.stringify(fitsDrawing.errors)).toBe(true),
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
  junit: (text) => expect(readXml(text).name).toBe('testsuites'),
  checkstyle: (text) => expect(readXml(text).name).toBe('checkstyle'),
  codequality: (text) => expect(fitsCodeQuality(JSON.parse(text)), JSON.stringify(fitsCodeQuality.errors)).toBe(true),
  oneline: (text) => expect(readCommands(text)).toEqual([]),
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

const writers = new Map(
  await Promise.all(FORMAT_NAMES.map(async (name) => [name, await FORMATS[name].load()] as const)),
);
/** Each input goes out by two of the formats: all of them come up often. */
const twoFormats = fc.uniqueArray(fc.constantFrom(...FORMAT_NAMES), { minLength: 2, maxLength: 2 });

/** Judged and reported without a fault and in time, every place inside its file, every report valid. */
function expectSurvived(files: Files, formats: readonly FormatName[], longestS = LONGEST_S): void {
  const before = process.cpuUsage();
  const { result, reports } = toItsEnd(() => {
    const judged = judge(files);
    return { ...judged, reports: formats.map((name) => reportText(writers.get(name)!, judged.result, judged.context)) };
  });
  const { user, system } = process.cpuUsage(before);
  expect((user + system) / 1e6, `processor seconds for ${shown(files)}`).toBeLessThan(longestS);
  expectSound(result, files);
  for (const [i, name] of formats.entries()) VALID[name](reports[i]!);
}

/** One test for each part of a kind's share of the inputs. */
export function itSurvives(what: string, share: number, property: fc.IProperty<unknown>): void {
  const runs = Math.ceil(INPUTS * share);
  const parts = Math.ceil(runs / PART);
  it.each(Array.from({ length: parts }, (_, i) => [Math.ceil(runs / parts), i + 1, parts] as const))(
    `${what}: %i inputs, part %i of %i`,
    (numRuns, part) => {
      fc.assert(property, { numRuns, endOnFailure: true, seed: SEED + part });
    },
    24 * 3_600_000,
  );
}

/** Files as they are, held to a limit of processor time that no machine reaches unless a search does not end, s. */
export function survives(files: fc.Arbitrary<Files>, longestS: number): fc.IProperty<unknown> {
  return fc.property(files, twoFormats, (one, formats) =>
    expectSurvived(one, formats, longestS),
  ) as fc.IProperty<unknown>;
}

/** Files of a kind, damaged, among the files that make a job of them. */
export function damaged(kind: Kind, suffix: RegExp, filesOf: (bytes: Uint8Array) => Files): fc.IProperty<unknown> {
  return fc.property(mutated(kind, seeds(suffix)), twoFormats, (bytes, formats) => {
    expectSurvived(filesOf(bytes), formats);
  }) as fc.IProperty<unknown>;
}
