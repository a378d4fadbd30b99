import { describe, expect, it } from 'vitest';
import type { Artwork } from '../../src/model/artwork.ts';
import { textSource } from '../../src/source/source.ts';
import { parseAspectRatio, parseViewBox, viewBoxTransform } from '../../src/svg/frames/viewport.ts';
import { readArtwork } from '../../src/svg/read.ts';

function read(head: string, body = '<rect width="96" height="48"/>', pxPerInch = 96): Artwork {
  return readArtwork(textSource('a.svg', `<svg xmlns="http://www.w3.org/2000/svg" ${head}>${body}</svg>`), {
    pxPerInch,
  });
}

// Check values: SVG 2 §8.2 "equivalent transform of an SVG viewport", worked by hand.
describe('the transform of a viewBox', () => {
  it.each([
    ['0 0 100 50', 'xMidYMid meet', 0, 0, [2, 0, 0, 2, 0, 50]],
    ['0 0 100 50', 'xMidYMid slice', 0, 0, [4, 0, 0, 4, -100, 0]],
    ['0 0 100 50', 'xMinYMax meet', 0, 0, [2, 0, 0, 2, 0, 100]],
    ['0 0 100 50', 'none', 0, 0, [2, 0, 0, 4, 0, 0]],
    ['10 20 100 50', 'xMidYMid meet', 5, 5, [2, 0, 0, 2, -15, 15]],
  ])('%s, %s, in 200 × 200 at (%d, %d)', (box, ratio, x, y, expected) => {
    const matrix = viewBoxTransform(parseViewBox(box)!, parseAspectRatio(ratio)!, x, y, 200, 200);
    for (const [i, value] of expected.entries()) expect(matrix[i]).toBeCloseTo(value, 12);
  });

  it.each(['0 0 100', '0 0 -1 5', '0 0 a 5', '0 0 1 2 3', ''])('%j is no viewBox', (text) => {
    expect(parseViewBox(text)).toBeNull();
  });

  it.each(['xmidymid', 'xMidYMid fit', 'xMidYMid meet now', ''])('%j is no preserveAspectRatio', (text) => {
    expect(parseAspectRatio(text)).toBeNull();
  });
});

// CSS Values and Units 4 §6.2: 1 in = 2.54 cm = 25.4 mm = 101.6 Q = 72 pt = 6 pc = 96 px.
describe('physical units', () => {
  it.each([
    ['1in', 25.4],
    ['2.54cm', 25.4],
    ['25.4mm', 25.4],
    ['101.6Q', 25.4],
    ['72pt', 25.4],
    ['6pc', 25.4],
    ['6PC', 25.4],
  ])('a width of %s is %d mm', (width, mm) => {
    const artwork = read(`width="${width}" height="10mm"`);
    expect(artwork.widthMm).toBeCloseTo(mm, 12);
    expect(artwork.size).toBe('physical');
    expect(artwork.problems).toEqual([]);
    expect(artwork.elements[0]?.box?.maxX).toBeCloseTo(25.4, 12);
  });

  it('a viewBox gives the missing side', () => {
    expect(read('width="100mm" viewBox="0 0 200 50"')).toMatchObject({ widthMm: 100, heightMm: 25, problems: [] });
  });
});

describe('artwork without a physical size', () => {
  it.each([
    ['px', 'width="192px" height="96"', 192, 96],
    ['a viewBox alone', 'viewBox="5 5 192 96"', 192, 96],
    ['percentages', 'width="100%" height="100%" viewBox="0 0 192 96"', 192, 96],
    ['nothing at all', '', 300, 150],
  ])('%s: the given px per inch count, and that is said', (_name, head, width, height) => {
    for (const pxPerInch of [72, 90, 96]) {
      const artwork = read(head, '', pxPerInch);
      expect(artwork.size).toBe('assumed');
      expect(artwork.widthMm).toBeCloseTo((width / pxPerInch) * 25.4, 9);
      expect(artwork.heightMm).toBeCloseTo((height / pxPerInch) * 25.4, 9);
      expect(artwork.problems).toMatchObject([{ code: 'no-physical-size', args: { pxPerInch } }]);
    }
  });

  it('an unreadable size is shown where it stands', () => {
    expect(read('width="wide" height="10mm"').problems).toMatchObject([
      { code: 'bad-value', args: { attribute: 'width', text: 'wide' }, place: { line: 1, column: 48, endColumn: 52 } },
    ]);
  });

  it('a negative size is no size', () => {
    expect(read('width="-5mm" height="10mm"').problems).toMatchObject([{ code: 'bad-value', args: { text: '-5mm' } }]);
  });
});

// Worked by hand: in a viewBox of 30 × 40 a radius of 10 % is a tenth of √((30² + 40²)/2) = 35.3553 (SVG 2 §8.9); a size that is
// `smaller` or `larger` is 1/1.2 or 1.2 times that of the parent, as browsers have it (CSS Fonts 4 §2.5 leaves 1.2 to 1.5 open).
describe('relative lengths', () => {
  const boxOf = (body: string) =>
    read('width="30mm" height="40mm" viewBox="0 0 30 40"', body).elements.find((one) => one.tag !== 'g')!.box!;

  it.each([
    ['10 %, of the width across', '<rect width="10%" height="1"/>', 3],
    ['10 %, of the diagonal over √2 where neither side is meant', '<circle r="10%"/>', 2 * 3.53553],
    ['1 em of a smaller font', '<g font-size="12"><g font-size="smaller"><rect width="1em" height="1"/></g></g>', 10],
    ['1 em of a larger font', '<g font-size="10"><g font-size="larger"><rect width="1em" height="1"/></g></g>', 12],
  ])('%s', (_, body, widthMm) => {
    const { minX, maxX } = boxOf(body);
    expect(maxX - minX).toBeCloseTo(widthMm, 4);
  });
});

describe('outlines in mm', () => {
  it('a circle keeps its exact length and box, and closes', () => {
    const artwork = read('width="50mm" height="50mm" viewBox="0 0 50 50"', '<circle cx="20" cy="30" r="10"/>');
    const [outline] = artwork.outlines;
    expect(outline?.lengthMm).toBeCloseTo(2 * Math.PI * 10, 9);
    expect(outline?.box.minX).toBeCloseTo(10, 9);
    expect(outline?.box.maxY).toBeCloseTo(40, 9);
    expect(outline?.closed).toBe(true);
    expect(artwork.lengthMm).toBe(outline?.lengthMm);
  });

  it('every flattened point of a turned ellipse lies on it, and every chord within the tolerance', () => {
    const source = textSource(
      'a.svg',
      '<svg xmlns="http://www.w3.org/2000/svg" width="90mm" height="90mm" viewBox="0 0 90 90"><ellipse rx="30" ry="10" transform="translate(45 45) rotate(30)"/></svg>',
    );
    for (const toleranceMm of [0.1, 0.01, 0.001]) {
      const { xy } = readArtwork(source, { pxPerInch: 96, toleranceMm }).outlines[0]!;
      for (let i = 0; i < xy.length; i += 2) {
        const middleX = (xy[i]! + xy[(i + 2) % xy.length]!) / 2 - 45;
        const middleY = (xy[i + 1]! + xy[(i + 3) % xy.length]!) / 2 - 45;
        const along = middleX * Math.cos(Math.PI / 6) + middleY * Math.sin(Math.PI / 6);
        const across = middleY * Math.cos(Math.PI / 6) - middleX * Math.sin(Math.PI / 6);
        const level = Math.hypot(along / 30, across / 10);
        // The distance to the ellipse is at most (1 − level) times the distance from the centre.
        expect((1 - level) * Math.hypot(along, across)).toBeLessThan(toleranceMm * 3);
        expect((1 - level) * 10).toBeLessThan(toleranceMm * 1.01);
        expect(level).toBeLessThan(1 + 1e-9);
      }
    }
  });

  it('closed and open contours of one path are told apart', () => {
    const artwork = read('width="9mm" height="9mm" viewBox="0 0 9 9"', '<path d="M0 0h5v5zM6 6h1M7 7L7 7"/>');
    expect(artwork.outlines.map((outline) => [outline.closed, outline.xy.length / 2, outline.element])).toEqual([
      [true, 3, 0],
      [false, 2, 0],
      [false, 2, 0],
    ]);
    expect(artwork.elements[0]?.contours).toBe(1);
  });

  it('a shape squeezed to nothing is reported and left out', () => {
    const artwork = read('width="9mm" height="9mm"', '<rect width="5" height="5" transform="scale(0 1)"/>');
    expect(artwork.elements).toEqual([]);
    expect(artwork.problems).toMatchObject([{ code: 'zero-size' }]);
  });
});
