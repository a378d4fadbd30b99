import { describe, expect, it } from 'vitest';
import { hasPlace, placed, placeOnSheet } from '../../../src/facts/drawing/drawn-places.ts';
import type { JobFacts } from '../../../src/facts/facts.ts';
import { everything } from '../../../src/units/found.ts';
import { artwork, artworkOnly, at, facts, rasterArea, strokesThrough, toolpath } from '../../rules/build-facts.ts';

/** Artwork that lies turned by a quarter, half as large again, 5 mm to the right and 7 mm up on the toolpath. */
const TURNED = {
  placement: { scale: 1.5, quarterTurns: 1, mirrored: false, dxMm: 5, dyMm: 7, offsetMm: 0, ambiguous: null },
} as unknown as JobFacts['match'];

const inProgram = (line: number, job = facts()) => placeOnSheet(job, at('coaster.gcode', line));
const inArtwork = (line: number, column: number, job = artworkOnly()) =>
  placeOnSheet(job, at('coaster.svg', line, column));

describe('the place of a line of the program', () => {
  // A square from 10, 10 on, side by side on lines 10 to 13.
  it('is where its stroke begins', () => {
    expect([10, 11, 12, 13].map((line) => inProgram(line))).toEqual([
      [10, 10],
      [90, 10],
      [90, 80],
      [10, 80],
    ]);
  });

  it('is the end of the stroke before it where the line moves nothing, and nowhere ahead of the first', () => {
    expect([14, 25].map((line) => inProgram(line))).toEqual([
      [10, 10],
      [10, 10],
    ]);
    expect(inProgram(9)).toBeNull();
    const strokes = { ...toolpath().strokes, line: Uint32Array.of(10, 12, 14, 16) };
    const gaps = facts({ toolpath: toolpath({ strokes }) });
    expect([11, 13, 15].map((line) => inProgram(line, gaps))).toEqual([
      [90, 10],
      [90, 80],
      [10, 80],
    ]);
  });

  it('is where the first of its strokes begins where it has several', () => {
    const strokes = { ...toolpath().strokes, line: Uint32Array.of(9, 10, 10, 10) };
    const job = facts({ toolpath: toolpath({ strokes }) });
    expect([9, 10, 11].map((line) => inProgram(line, job))).toEqual([
      [10, 10],
      [90, 10],
      [10, 10],
    ]);
    const all = { ...toolpath().strokes, line: Uint32Array.of(10, 10, 10, 10) };
    expect(inProgram(10, facts({ toolpath: toolpath({ strokes: all }) }))).toEqual([10, 10]);
  });

  it('is that of its dwell', () => {
    const place = { line: 11, column: 1, endLine: 11, endColumn: 6 };
    const dwells = everything([
      { place: { ...place, line: 12 }, x: 1, y: 2 },
      { place, x: 33, y: 44 },
    ]) as unknown as ReturnType<typeof toolpath>['dwells'];
    expect(inProgram(11, facts({ toolpath: toolpath({ dwells }) }))).toEqual([33, 44]);
  });

  it('is the middle of a shaded area, from its first line to its last', () => {
    const area = { ...rasterArea(0.3), endLine: 50, minX: 10, maxX: 40, minY: 20, maxY: 30 };
    const other = { ...area, place: { ...area.place, line: 60 }, endLine: 70, maxX: 60 };
    const job = facts({ toolpath: toolpath({ areas: [area, other] }) });
    expect([40, 45, 50, 60, 70].map((line) => inProgram(line, job))).toEqual([
      [25, 25],
      [25, 25],
      [25, 25],
      [35, 25],
      [35, 25],
    ]);
    // Beside them it is where the last stroke ended.
    expect([39, 51, 71].map((line) => inProgram(line, job))).toEqual([
      [10, 10],
      [10, 10],
      [10, 10],
    ]);
  });

  it('is nowhere where the program moves nothing, or by what is no number', () => {
    expect(inProgram(10, facts({ toolpath: toolpath({ strokes: strokesThrough([]) }) }))).toBeNull();
    const lost = strokesThrough([
      [Number.NaN, 0],
      [5, 5],
    ]);
    expect(inProgram(10, facts({ toolpath: toolpath({ strokes: lost }) }))).toBeNull();
  });

  it('is nowhere for another file', () => {
    expect(placeOnSheet(facts(), at('shed-60w.machine.yaml', 10))).toBeNull();
    expect(placeOnSheet(artworkOnly(), at('coaster.gcode', 10))).toBeNull();
  });
});

describe('the place of a line of the artwork', () => {
  const [rim] = artwork().elements;
  const [outline] = artwork().outlines;
  /** Two drawn things on line 4, at columns 3 and 20, and one on line 8. */
  const drawn = artwork({
    elements: [
      rim!,
      { ...rim!, place: { ...rim!.place, line: 4, column: 20 } },
      { ...rim!, place: { ...rim!.place, line: 8, column: 3 } },
    ],
    outlines: [
      outline!,
      { ...outline!, element: 1, xy: Float64Array.of(20, 21, 30, 31) },
      { ...outline!, element: 2, xy: Float64Array.of(50, 51, 60, 61) },
    ],
  });
  const job = artworkOnly({ artwork: drawn });

  it('is where what stands there begins, to the column', () => {
    expect(inArtwork(4, 3, job)).toEqual([10, 10]);
    expect(inArtwork(4, 20, job)).toEqual([20, 21]);
    expect(inArtwork(8, 3, job)).toEqual([50, 51]);
  });

  it('is that of the first of the line where the column is another', () => {
    expect(inArtwork(4, 11, job)).toEqual([10, 10]);
    expect(inArtwork(8, 20, job)).toEqual([50, 51]);
  });

  it('is nowhere where nothing is drawn', () => {
    expect(inArtwork(5, 3, job)).toBeNull();
    const empty = artworkOnly({ artwork: artwork({ outlines: [{ ...outline!, xy: new Float64Array(0) }] }) });
    expect(inArtwork(4, 3, empty)).toBeNull();
    expect(inArtwork(4, 3, artworkOnly({ artwork: null }))).toBeNull();
    expect(placeOnSheet(job, at('other.svg', 4, 3))).toBeNull();
  });

  it('is where the toolpath has it, and nowhere where it was not found there', () => {
    // Flipped: 10, −10; turned: 10, 10; half as large again: 15, 15; moved by 5, 7.
    expect(inArtwork(4, 3, facts({ match: TURNED }))).toEqual([20, 22]);
    expect(inArtwork(4, 3, facts({ match: null }))).toBeNull();
    expect(inArtwork(4, 3, facts({ match: { ...TURNED!, placement: null } }))).toBeNull();
  });
});

describe('artwork in the frame of the picture', () => {
  it('has a place without a toolpath, and where it was found in one', () => {
    expect(hasPlace(artworkOnly())).toBe(true);
    expect(hasPlace(facts({ match: TURNED }))).toBe(true);
    expect(hasPlace(facts({ match: null }))).toBe(false);
    expect(hasPlace(facts({ match: { ...TURNED!, placement: null } }))).toBe(false);
  });

  it('stays as it is on the page, and is laid over a toolpath point by point', () => {
    const xy = Float64Array.of(10, 20, 30, 50);
    expect(placed(artworkOnly(), xy)).toBe(xy);
    expect(placed(facts({ match: null }), xy)).toBe(xy);
    // x, y → 1.5 y + 5, 1.5 x + 7.
    expect([...Array.from(placed(facts({ match: TURNED }), xy))]).toEqual([35, 22, 80, 52]);
  });
});
