import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Artwork } from '../../src/model/artwork.ts';
import { textSource } from '../../src/source/source.ts';
import { readArtwork } from '../../src/svg/read.ts';

const read = (body: string): Artwork =>
  readArtwork(
    textSource(
      'a.svg',
      `<svg xmlns="http://www.w3.org/2000/svg" width="90mm" height="90mm" viewBox="0 0 90 90">${body}</svg>`,
    ),
    { pxPerInch: 96 },
  );

/** Surroundings that change what a shape comes to: paint, width, transform, layer, font size, a clip, nothing to be seen. */
const AROUND = [
  '',
  'stroke="#e03131"',
  'stroke-width="2"',
  'transform="rotate(30) scale(2 1)"',
  'id="front"',
  'font-size="4"',
  'clip-path="url(#c)"',
  'stroke="none" fill="none"',
];
const SHAPES = [
  '<path SELF d="M1 1h3v2z"/>',
  '<rect SELF width="1em" height="10%"/>',
  '<path SELF d="M1 1q3 0 3 3" marker-end="url(#m)"/>',
  '<path SELF d="M1 1h3L" stroke-dasharray="1"/>',
];
const DEFS = '<clipPath id="c"><path d="M0 0h4v40h-4z"/></clipPath><marker id="m"><path d="M0 0h1"/></marker>';

/** Outlines, and what they are selected by. */
const drawn = ({ elements, outlines }: Artwork) => ({
  elements: elements.map(({ stroke, fill, strokeWidthMm, layers, box }) => ({
    stroke,
    fill,
    strokeWidthMm,
    layers,
    box,
  })),
  outlines: outlines.map(({ xy, closed, lengthMm, element }) => ({ xy: [...xy], closed, lengthMm, element })),
});
const told = ({ problems }: Artwork) => problems.map(({ code, more }) => [code, more ?? 0]).sort();

describe('what use repeats', () => {
  it('is what it would be written out at each place, as is what is told of it', () => {
    const shape = fc.constantFrom(...SHAPES);
    const places = fc.array(fc.tuple(fc.constantFrom(...AROUND), fc.nat(40)), { minLength: 2, maxLength: 12 });
    fc.assert(
      fc.property(shape, places, (text, rows) => {
        const at = (inner: (x: number) => string) =>
          rows.map(([around, x]) => `<g stroke="#1864ab" ${around}>${inner(x)}</g>`).join('');
        const used = read(
          `<defs>${DEFS}${text.replace('SELF', 'id="s"')}</defs>${at((x) => `<use href="#s" x="${x}" y="2"/>`)}`,
        );
        const written = read(
          `<defs>${DEFS}</defs>${at((x) => `<g transform="translate(${x} 2)">${text.replace('SELF', '')}</g>`)}`,
        );
        expect(drawn(used)).toEqual(drawn(written));
        expect(told(used)).toEqual(told(written));
      }),
    );
  });
});
