import { describe, expect, it } from 'vitest';
import { scaleSuspect } from '../../../src/facts/artwork/scale-suspect.ts';
import { artwork, match, placement } from '../../rules/build-files.ts';
import { sidecar } from '../../rules/build-job.ts';

/** Without a size in the file, so large a page and so large a drawing on it. */
const drawing = (widthMm: number, heightMm: number, page = { widthMm: 210, heightMm: 297 }) =>
  artwork({ size: 'assumed', ...page, boundsMm: { minX: 5, minY: 7, maxX: 5 + widthMm, maxY: 7 + heightMm } });

const sheet = (widthMm: number, heightMm: number) => sidecar({ sheet: { widthMm, heightMm } });
const laid = (scale: number) => match({ placement: { ...placement, scale } });

describe('a slip of scale, by the toolpath', () => {
  it.each([
    [4 / 3, 'drawn at 72 px per inch and read at 96', '1.333'],
    [16 / 15, 'drawn at 90 px per inch and read at 96', '1.067'],
    [3 / 4, 'drawn at 96 px per inch and written out as if at 72', '0.750'],
    [15 / 16, 'drawn at 96 px per inch and written out as if at 90', '0.938'],
    [25.4, 'drawn in inches and read as millimetres', '25.400'],
  ])('%s times as large: %s', (scale, cause, times) => {
    expect(scaleSuspect(artwork(), null, laid(scale))).toEqual({
      factor: scale,
      cause,
      evidence: `the toolpath is ${times} times the size of the drawing`,
    });
  });

  it('is one within 0.3 % of it, and any other scale is none', () => {
    const factor = 4 / 3;
    expect(scaleSuspect(artwork(), null, laid(factor * 1.0029))!.factor).toBe(factor);
    expect(scaleSuspect(artwork(), null, laid(factor * 0.9971))!.factor).toBe(factor);
    expect(scaleSuspect(artwork(), null, laid(factor * 1.0031))).toBeNull();
    expect(scaleSuspect(artwork(), null, laid(factor * 0.9969))).toBeNull();
    expect(scaleSuspect(artwork(), null, laid(1))).toBeNull();
  });

  it('is settled by it, whatever sheet and millimetres say; where it has no place they are asked', () => {
    // 90.75 × 46.5 mm would be 121 × 62 mm at 72 px per inch.
    const plate = drawing(90.75, 46.5);
    expect(scaleSuspect(plate, null, laid(1))).toBeNull();
    expect(scaleSuspect(plate, null, match({ placement: null }))!.factor).toBe(4 / 3);
  });
});

describe('a slip of scale, by the sheet', () => {
  // A page of 450 × 225 mm would be 600 × 300 mm at 72 px per inch; the drawing on it says nothing.
  const page = (widthMm: number, heightMm: number) => drawing(100, 50, { widthMm, heightMm });

  it('is suspected where the page would be the sheet', () => {
    expect(scaleSuspect(page(450, 225), sheet(600, 300), null)).toEqual({
      factor: 4 / 3,
      cause: 'drawn at 72 px per inch and read at 96',
      evidence: 'the page would then be the sheet’s 600 × 300 mm',
    });
  });

  it('needs both sides to fit, to 0.3 %', () => {
    const factor = (widthMm: number, heightMm: number) =>
      scaleSuspect(page(widthMm, heightMm), sheet(600, 300), null)?.factor ?? null;
    expect([factor(450, 226), factor(452, 225)]).toEqual([null, null]);
    expect([factor(451.3, 225.6), factor(448.7, 224.4)]).toEqual([4 / 3, 4 / 3]);
    expect([factor(451.4, 225), factor(450, 224.2)]).toEqual([null, null]);
  });

  it('is not suspected of a page whose size is in the file, nor without a sheet', () => {
    expect(scaleSuspect({ ...page(450, 225), size: 'physical' }, sheet(600, 300), null)).toBeNull();
    expect(scaleSuspect(page(450, 225), sidecar({ sheet: null }), null)).toBeNull();
    expect(scaleSuspect(page(450, 225), null, null)).toBeNull();
  });
});

describe('a slip of scale, by whole millimetres', () => {
  const suspected = (widthMm: number, heightMm: number) => scaleSuspect(drawing(widthMm, heightMm), null, null);

  it('is suspected where both sides would be whole', () => {
    // 127.5 × 44.0625 mm times 16/15. At 72 px per inch they would be 170 × 58.75 mm: one of them alone is whole.
    expect(suspected(136 * (15 / 16), 47 * (15 / 16))).toEqual({
      factor: 16 / 15,
      cause: 'drawn at 90 px per inch and read at 96',
      evidence: 'its lines would then measure 136 × 47 mm, whole millimetres',
    });
  });

  it('takes a side for whole within two hundredths of a millimetre', () => {
    // 121 × 62 mm at 72 px per inch, the width off by so much once it is put right.
    const off = (mm: number) => suspected((121 + mm) * 0.75, 62 * 0.75);
    expect([off(0.019), off(-0.019)].map((one) => one?.factor)).toEqual([4 / 3, 4 / 3]);
    expect([off(0.022), off(-0.022)]).toEqual([null, null]);
    expect(off(0.019)!.evidence).toContain('121 × 62 mm');
  });

  it('is not where both are whole as they are, one of them alone, or neither would be', () => {
    expect(suspected(120, 60)).toBeNull();
    expect(suspected(90, 46.5)!.factor).toBe(4 / 3);
    expect(suspected(90.75, 46.6)).toBeNull();
    expect(suspected(91.234, 47.123)).toBeNull();
  });

  it('is not where the two sides are the same, or one is too small to tell', () => {
    expect(suspected(90.75, 90.75)).toBeNull();
    // 19.5 mm would be 26 mm, 20.25 mm would be 27 mm: from 20 mm on a size tells.
    expect(suspected(90.75, 19.5)).toBeNull();
    expect(suspected(90.75, 20.25)!.factor).toBe(4 / 3);
    expect(suspected(19.5, 90.75)).toBeNull();
  });

  it('is not of a drawing without lines', () => {
    expect(scaleSuspect({ ...drawing(1, 1), boundsMm: null }, null, null)).toBeNull();
  });
});
