import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { Pieces } from '../../src/fixes/pieces.ts';
import { unifiedDiff } from '../../src/fixes/unified-diff.ts';
import type { Edit } from '../../src/model/editing.ts';
import { bytesSource, type Source, SourceUnreadable } from '../../src/source/source.ts';

const PLACE = { line: 1, column: 1, endLine: 1, endColumn: 1 };
const utf8 = new TextEncoder();

/** Cuts as shares of a length, so that they fit whatever is edited. */
const cuts = fc.array(fc.tuple(fc.double({ min: 0, max: 1, noNaN: true }), fc.nat(3), fc.string({ maxLength: 4 })), {
  maxLength: 6,
});

function editsOf(bytes: Uint8Array, shares: readonly [number, number, string][]): Edit[] {
  const edits: Edit[] = [];
  let at = 0;
  for (const [share, length, text] of [...shares].sort((a, b) => a[0] - b[0])) {
    const offset = Math.floor(share * bytes.length);
    if (offset < at) continue;
    const old = bytes.slice(offset, offset + length);
    edits.push({ place: PLACE, offset, old, new: utf8.encode(text) });
    at = offset + old.length;
  }
  return edits;
}

function spliced(bytes: Uint8Array, edits: readonly Edit[]): Uint8Array {
  let result = Buffer.from(bytes);
  for (const { offset, old, new: fresh } of [...edits].reverse())
    result = Buffer.concat([result.subarray(0, offset), fresh, result.subarray(offset + old.length)]);
  return new Uint8Array(result);
}

const whole = (source: Source) => new Uint8Array(Buffer.concat([...source.chunks()].map((chunk) => chunk.slice())));

describe('an edited file', () => {
  it('is what splicing makes of it, edits upon edits, in chunks of any size', () => {
    fc.assert(
      fc.property(
        fc.uint8Array({ maxLength: 40 }),
        fc.array(cuts, { maxLength: 4 }),
        fc.integer({ min: 1, max: 9 }),
        (bytes, rounds, size) => {
          let pieces = Pieces.whole(bytes.length);
          let expected: Uint8Array = bytes;
          for (const shares of rounds) {
            const edits = editsOf(expected, shares);
            pieces = pieces.edited(edits);
            expected = spliced(expected, edits);
          }
          const source = pieces.source(bytesSource('x', bytes, size));
          expect(whole(source)).toEqual(expected);
          expect(source.size).toBe(expected.length);
          const all = pieces.replacements().map(({ offset, length, bytes: fresh }) => ({
            place: PLACE,
            offset,
            old: bytes.slice(offset, offset + length),
            new: fresh,
          }));
          expect(spliced(bytes, all)).toEqual(expected);
        },
      ),
      { numRuns: 300 },
    );
  });

  it('is not read where the file has become longer or shorter', () => {
    const pieces = Pieces.whole(4);
    for (const length of [3, 5])
      expect(() => whole(pieces.source(bytesSource('x', new Uint8Array(length))))).toThrow(SourceUnreadable);
  });
});

describe('the difference', () => {
  const made = mkdtempSync(join(tmpdir(), 'kerflint-diff-'));
  afterAll(() => rmSync(made, { recursive: true, force: true }));

  // Outside: git's own reading of unified diffs.
  it('makes the one file of the other in the hands of git', () => {
    const text = fc
      .array(fc.constantFrom('G1 X1', 'M5', 'G0 X2 Y3', '(a)', ''), { maxLength: 40 })
      .chain((lines) => fc.constantFrom('', '\n').map((end) => lines.join('\n') + end));
    const fresh = fc.array(
      fc.tuple(fc.double({ min: 0, max: 1, noNaN: true }), fc.nat(12), fc.constantFrom('M5\n', '', 'S0\nM8\n')),
      { maxLength: 4 },
    );
    fc.assert(
      fc.property(text, fresh, (before, shares) => {
        const bytes = utf8.encode(before);
        const pieces = Pieces.whole(bytes.length).edited(editsOf(bytes, shares));
        const source = bytesSource('x.gcode', bytes, 7);
        const after = Buffer.from(whole(pieces.source(source))).toString();
        const diff = unifiedDiff(source, pieces.replacements(), ['a/x.gcode', 'b/x.gcode']);
        fc.pre(before !== '' && after !== '' && before !== after);
        writeFileSync(join(made, 'x.gcode'), before);
        const done = spawnSync('git', ['apply', '--unidiff-zero', '--whitespace=nowarn', '-'], {
          cwd: made,
          input: diff,
          encoding: 'utf8',
        });
        expect(done.stderr + diff).toBe(diff);
        expect(readFileSync(join(made, 'x.gcode'), 'utf8')).toBe(after);
      }),
      {
        numRuns: 60,
        examples: [
          // A change among empty lines, told two lines further on, next to another.
          [
            `(a)\n\n\n${'G1 X1\n'.repeat(5)}G1 X1`,
            [
              [0.8780487804878049, 0, 'M5\n'],
              [0, 3, 'M5\n'],
            ],
          ],
        ],
      },
    );
  });

  it('has lines where a lone CR ends them, and holds no long line', () => {
    const bytes = utf8.encode(`G21\rG90\rM3 S700\r;${'x'.repeat(100_000)}\rG4 P1\rM5\r`);
    const at = Buffer.from(bytes).indexOf('G4');
    const edit = { place: PLACE, offset: at, old: new Uint8Array(0), new: utf8.encode('M5\r') };
    const diff = unifiedDiff(bytesSource('x', bytes), Pieces.whole(bytes.length).edited([edit]).replacements(), [
      'x',
      'y',
    ]);
    expect(diff).toContain('\n+M5\n G4 P1\n');
    expect(diff.length).toBeLessThan(400);
  });
});
