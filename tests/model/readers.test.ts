import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { argumentNames } from '../../src/findings/message.ts';
import { BENCH_SUFFIX, JOB_SUFFIX, MACHINE_SUFFIX, MATERIAL_SUFFIX, SETTINGS_NAME } from '../../src/job/files/paths.ts';
import type { Reader } from '../../src/model/reader.ts';
import { chooseReader, formatsInWords, HEAD_BYTES, kindByName } from '../../src/model/reader-choice.ts';
import { READERS } from '../../src/readers.ts';
import { bytesSource, type Source, SourceUnreadable, textSource } from '../../src/source/source.ts';
import { readers } from '../memory-shop.ts';

const reader = (id: string): Reader => READERS.find((one) => one.id === id)!;
const head = (id: string, bytes: Uint8Array | string) =>
  reader(id).recognises(typeof bytes === 'string' ? new TextEncoder().encode(bytes) : bytes);
const utf16 = (text: string) => Uint8Array.from([...text].flatMap((c) => [c.charCodeAt(0), 0]));

describe('the list of readers', () => {
  it('has ids of their own, and no extension that stands for both kinds', () => {
    expect(new Set(READERS.map(({ id }) => id)).size).toBe(READERS.length);
    for (const { makes, extensions } of READERS) {
      for (const extension of extensions) {
        expect(extension).toMatch(/^\.[a-z0-9]+$/);
        expect(READERS.filter((one) => one.extensions.includes(extension)).map((one) => one.makes)).toEqual([makes]);
      }
    }
  });

  it('is what the pre-commit hook asks for', () => {
    const hook = readFileSync(new URL('../../.pre-commit-hooks.yaml', import.meta.url), 'utf8');
    const [, said = ''] = /files: '\(\?i\)(.*)'/.exec(hook)!;
    const files = new RegExp(said, 'i');
    const uncertain = READERS.flatMap((one) => one.uncertain?.extensions ?? []).filter((one) =>
      /^\.(?!txt$)/.test(one),
    );
    for (const extension of [...READERS.flatMap(({ extensions }) => extensions), ...uncertain]) {
      expect(`a${extension}`).toMatch(files);
      expect(`garden/A${extension.toUpperCase()}`).toMatch(files);
    }
    const own = [JOB_SUFFIX, MACHINE_SUFFIX, BENCH_SUFFIX, MATERIAL_SUFFIX].map((suffix) => `garden/a${suffix}`);
    for (const name of [...own, 'A.MACHINE.YAML', SETTINGS_NAME, `garden/${SETTINGS_NAME}`])
      expect(name).toMatch(files);
    for (const name of ['a.txt', 'README.md', 'ajob.yaml.bak', 'x.kerflint.yaml.orig', 'compose.yaml', 'svg', 'a.svgz'])
      expect(name).not.toMatch(files);
  });

  it.each(READERS)('$id: what it makes bears its id, so that its problems find their words', async (one) => {
    const source = textSource(`a${one.extensions[0]}`, '');
    const made =
      one.makes === 'toolpath'
        ? readers.toolpathReading(source).read(source, {
            power: { word: 'S', full: 1000 },
            m4: 'constant',
            arcToleranceMm: 0.05,
            rapidMmPerS: 600,
            speedMmPerS: 500,
            accelerationMmPerS2: 3000,
            cornerDeviationMm: 0.02,
            airDelayS: 0,
            harmless: new Set(),
            blockDelete: null,
            spotMm: 0.15,
          })
        : readers.artworkReading(source).read(source, { pxPerInch: 96 });
    expect(made.reader).toBe(one.id);
    expect(made.problems.map(({ code }) => code)).toEqual(['empty']);
  });

  it.each(READERS)('$id: its messages say what is wrong and what to do', ({ problems }) => {
    for (const { messageId, message } of Object.values(problems)) {
      expect(messageId).toMatch(/^[a-z][A-Za-z]+$/);
      expect(message).toMatch(/^[A-Z{].*\. [A-Z].*\.$/);
      for (const name of argumentNames(message)) expect(name).toMatch(/^[a-z][A-Za-z]*$/);
    }
  });
});

describe('how a reader recognises its format', () => {
  it.each([
    ['a header comment', '; plant labels\n(shed)\nG21\n', true],
    ['a line number', '%\nN10 g0 x5', true],
    ['block delete', '/G1 X5', true],
    ['artwork', '<svg><path d="M10 10"/></svg>', false],
    ['prose', 'Good morning', false],
    ['M in a word', 'Gate M 5', false],
    ['NUL bytes', 'G21\0', false],
  ])('G-code: %s', (_, text, is) => {
    expect(head('gcode', text)).toBe(is);
  });

  it.each([
    ['a plain root', '<svg width="5mm">', true],
    ['a prefix', '<?xml version="1.0"?>\n<s:svg\n', true],
    ['UTF-16', utf16('<?xml version="1.0"?><svg>'), true],
    ['UTF-16 with a mark', utf16('\uFEFF<svg>'), true],
    ['another format of XML', '<html><body>svg</body></html>', false],
    ['a longer name', '<svgx>', false],
    ['G-code', 'G21 G90', false],
  ])('SVG: %s', (_, bytes, is) => {
    expect(head('svg', bytes)).toBe(is);
  });
});

describe('which reader a file has', () => {
  const other: Reader = { ...reader('gcode'), id: 'other', extensions: ['.nc'], recognises: () => true } as Reader;

  it('by its extension, whatever the case', () => {
    expect(['a.NC', 'a.svg', 'a.job.yaml', 'svg', 'a.svg.bak'].map((name) => kindByName(READERS, name))).toEqual([
      'toolpath',
      'artwork',
      null,
      null,
      null,
    ]);
  });

  it('by its first bytes where two have the extension', () => {
    const choose = (text: string) => chooseReader([...READERS, other], 'toolpath', textSource('a.nc', text)).id;
    expect(choose('G21')).toBe('gcode');
    expect(choose('21')).toBe('other');
    expect(choose(`${' '.repeat(HEAD_BYTES)}G21`)).toBe('other');
  });

  it('reads no more than these bytes, and nothing where the name tells', () => {
    let read = 0;
    const source = (name: string): Source => ({
      name,
      size: 1e9,
      *chunks() {
        for (;;) {
          read += 100;
          yield new Uint8Array(100);
        }
      },
    });
    chooseReader([...READERS, other], 'toolpath', source('a.nc'));
    expect(read).toBe(100 * Math.ceil(HEAD_BYTES / 100));
    read = 0;
    chooseReader([...READERS, other], 'toolpath', source('a.gcode'));
    chooseReader(READERS, 'toolpath', source('a.txt'));
    expect(read).toBe(0);
  });

  it('the first of the list for a file that cannot be read', () => {
    const gone: Source = {
      name: 'a.txt',
      size: 0,
      // biome-ignore lint/correctness/useYield: a source whose bytes cannot be had
      *chunks() {
        throw new SourceUnreadable('there is no such file');
      },
    };
    expect(chooseReader([...READERS, { ...other, recognises: () => false }], 'toolpath', gone).id).toBe('gcode');
  });

  it('none is an error of whoever made the list', () => {
    expect(() => chooseReader([], 'artwork', bytesSource('a', new Uint8Array()))).toThrow('artwork');
  });
});

it('formats are named with their extensions, once where both are one word', () => {
  expect(formatsInWords(READERS)).toEqual(['G-code (.gcode, .nc, .ngc, .tap, .cnc, .gc, .gco, .g)', '.svg']);
});
