import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bytesSource } from '../../src/source/source.ts';
import { readArtwork } from '../../src/svg/read.ts';

const FOLDER = join(import.meta.dirname, '../../fixtures/artwork');
const files = readdirSync(FOLDER).map((name) => new Uint8Array(readFileSync(join(FOLDER, name))));

/** A file with some stretches overwritten, cut out or doubled. */
const damaged = fc
  .tuple(
    fc.constantFrom(...files),
    fc.array(
      fc.record({
        at: fc.nat(),
        length: fc.nat({ max: 40 }),
        put: fc.oneof(
          fc.uint8Array({ maxLength: 6 }),
          fc.constantFrom(
            ...[
              '<',
              '>',
              '"',
              '&',
              '</g>',
              '<g>',
              '<use href="#pair"/>',
              '1e308',
              'NaN',
              '(',
              '{',
              '}',
              '-',
              '%',
              'url(#',
              '!important',
              '/*',
            ].map((s) => new TextEncoder().encode(s)),
          ),
        ),
      }),
      { minLength: 1, maxLength: 6 },
    ),
  )
  .map(([file, edits]) => {
    let bytes = file;
    for (const { at, length, put } of edits) {
      const from = at % bytes.length;
      bytes = Uint8Array.of(...bytes.subarray(0, from), ...put, ...bytes.subarray(from + length));
    }
    return bytes;
  });

describe('damaged artwork', () => {
  it('never throws; numbers stay finite, places stay inside the file', () => {
    fc.assert(
      fc.property(damaged, (bytes) => {
        const artwork = readArtwork(bytesSource('a.svg', bytes), { pxPerInch: 96 });
        const lines = new TextDecoder().decode(bytes).split(/\r\n|\r|\n/).length;
        expect(Number.isFinite(artwork.lengthMm)).toBe(true);
        for (const { xy, lengthMm, box, element } of artwork.outlines) {
          expect(xy.every(Number.isFinite) && Number.isFinite(lengthMm) && Number.isFinite(box.minX + box.maxY)).toBe(
            true,
          );
          expect(xy.length).toBeGreaterThanOrEqual(4);
          expect(artwork.elements[element]).toBeDefined();
        }
        for (const { place } of artwork.problems) {
          expect(place.line >= 1 && place.column >= 1 && place.endLine <= lines).toBe(true);
        }
      }),
      { numRuns: 400 },
    );
  });
});
