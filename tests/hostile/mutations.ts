import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { REPOSITORY } from '../cli/harness.ts';

/** Files of other people's making, where they are at hand: they are never part of the repository. */
const CORPUS = join(REPOSITORY, '../shared/corpus');
/** Larger files add time, and hardly another way to fail. */
const LARGEST_BYTES = 20_000;

/** Files that take the reader of artwork to its limits on purpose: damaged, they draw all that they can, which takes longer than is asked of others. */
const AT_THE_LIMIT = /bad-too-many-/;

export const corpusIsThere = existsSync(CORPUS);

/** What a kind of file is made of: one of these, put anywhere, most likely means something. */
const WORDS = {
  gcode: [
    'G0',
    'G1 X',
    'G2 X1 I',
    'G4 P',
    'G91',
    'G92 X',
    'G20',
    'M3 S',
    'M4',
    'M5',
    'M2',
    'F',
    'F0',
    'S1e9',
    '%',
    '(',
  ],
  svg: [
    '<g>',
    '</g>',
    '<use href="#a"/>',
    '<!--',
    ']]>',
    '&lt;',
    '&#0;',
    'url(#',
    '{',
    '}',
    'a1 1 0 11',
    'Z',
    'style="',
  ],
  yaml: [
    '- ',
    ': ',
    '\n  ',
    '{',
    '}',
    '[',
    ']',
    '&a ',
    '*a',
    '!!x ',
    '|',
    '"',
    '±',
    ' mm',
    ' W',
    '# ',
    '? ',
    '---\n',
    '<<: ',
  ],
};
const ODDITIES = [
  '1e308',
  '-0',
  'NaN',
  '9'.repeat(40),
  '\0',
  '\r',
  '\n',
  '\t',
  '\ufeff',
  '\u2028',
  '\u202e',
  '::error::',
  '##[error]',
  '%0A',
  '\u001b[31m',
  '=1+1',
  '<script>',
  '|',
  '`',
  '..',
  '/',
];
const BROKEN_BYTES = [
  Uint8Array.of(0xff),
  Uint8Array.of(0xc3),
  Uint8Array.of(0xed, 0xa0, 0x80),
  Uint8Array.of(0xf0, 0x9f),
];

export type Kind = keyof typeof WORDS;

function filesBelow(folder: string, suffix: RegExp): Uint8Array[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => suffix.test(name) && !AT_THE_LIMIT.test(name))
    .sort()
    .map((name) => join(folder, name))
    .filter((path) => statSync(path).isFile() && statSync(path).size <= LARGEST_BYTES)
    .map((path) => new Uint8Array(readFileSync(path)));
}

/** Files to begin with: our own and, where it is there, the corpus. */
export function seeds(suffix: RegExp): Uint8Array[] {
  const own = ['examples', 'fixtures', 'tests/golden', 'data/machines'].map((name) => join(REPOSITORY, name));
  return [...own, CORPUS].flatMap((folder) => filesBelow(folder, suffix));
}

/** A file of some kind with stretches overwritten, cut out, doubled, moved or broken off. */
export function mutated(kind: Kind, files: readonly Uint8Array[]): fc.Arbitrary<Uint8Array> {
  const text = fc.constantFrom(...[...WORDS[kind], ...ODDITIES].map((word) => new TextEncoder().encode(word)));
  const put = fc.oneof(
    { weight: 6, arbitrary: text },
    fc.constantFrom(...BROKEN_BYTES),
    fc.uint8Array({ maxLength: 5 }),
  );
  const edit = fc.record({
    at: fc.nat(),
    length: fc.oneof(fc.constant(0), fc.nat({ max: 30 })),
    how: fc.constantFrom('put', 'put', 'put', 'double', 'many', 'end'),
    put,
  });
  return fc.tuple(fc.constantFrom(...files), fc.array(edit, { minLength: 1, maxLength: 5 })).map(([file, edits]) =>
    edits.reduce((bytes, { at, length, how, put: word }) => {
      const from = at % (bytes.length + 1);
      const [before, middle, after] = [
        bytes.subarray(0, from),
        bytes.subarray(from, from + length),
        bytes.subarray(from + length),
      ];
      if (how === 'end') return Uint8Array.of(...before);
      if (how === 'double') return Uint8Array.of(...before, ...middle, ...middle, ...after);
      return Uint8Array.of(
        ...before,
        ...(how === 'many' ? Array.from({ length: 50 }, () => [...word]).flat() : word),
        ...after,
      );
    }, file),
  );
}
