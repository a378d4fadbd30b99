import { describe, expect, it } from 'vitest';
import { jointsOf, narrowOf, websOf } from '../../../src/facts/artwork/fine-detail.ts';
import { workFor } from '../../../src/units/work.ts';
import { drawn, path, rect } from './drawn.ts';

const PART = rect(10, 10, 150, 80);

describe('the bridges between two cuts', () => {
  const work = workFor(0);
  const webs = (elements: string[], kerfMm: number | null = 0.2, thicknessMm: number | null = null) =>
    websOf(drawn(...elements), { kerfMm, thicknessMm, work }).items;
  /** Two labels side by side, so far apart. */
  const apart = (mm: number) => [rect(10, 10, 30, 40), rect(40 + mm, 10, 30, 40)];

  it.each<[string, number | null, number | null, number]>([
    ['three kerfs', 0.2, null, 0.6],
    ['three kerfs of a thin sheet', 0.2, 0.5, 0.6],
    ['the thickness of the sheet', 0.2, 3, 3],
    ['three ordinary kerfs of 0.25 mm where none is known', null, null, 0.75],
  ])('are listed up to %s', (_, kerfMm, thicknessMm, limitMm) => {
    expect(webs(apart(limitMm - 0.05), kerfMm, thicknessMm)).toHaveLength(1);
    expect(webs(apart(limitMm + 0.05), kerfMm, thicknessMm)).toEqual([]);
  });

  it('have both lines, the earlier as the other, and the place in the middle between them', () => {
    // One slit ends half a millimetre before the other line.
    const [web, ...rest] = webs([path('M20 10 V60'), path('M20.5 30 H60')]);
    expect(rest).toEqual([]);
    expect(web).toMatchObject({ other: { file: 'gate.svg', line: 2 }, location: { file: 'gate.svg', line: 3 } });
    expect([web!.widthMm, web!.xMm, web!.yMm]).toEqual([0.5, 20.25, 30].map((mm) => expect.closeTo(mm, 6)));
  });

  it('may lie within one outline: a neck between two halves', () => {
    const neck = path('M10 10 H30 V29.8 H50 V10 H70 V50 H50 V30.2 H30 V50 H10 Z');
    const [web] = webs([neck]);
    expect(web).toMatchObject({ other: { line: 2 }, location: { line: 2 } });
    expect(web!.widthMm).toBeCloseTo(0.4, 6);
  });

  it('are none where what lies between falls out', () => {
    // A hole, in it a part that falls out of it, in which two holes lie close together.
    const [hole, inner] = [rect(20, 20, 60, 60), rect(20.4, 30, 50, 40)];
    expect(webs([PART, hole, inner])).toEqual([]);
    expect(webs([hole, inner, PART])).toEqual([]);
    const [between] = webs([PART, hole, inner, rect(30, 40, 10, 10), rect(40.3, 40, 10, 10)]);
    expect(between).toMatchObject({ other: { line: 5 }, location: { line: 6 } });
  });

  it('are listed from the narrowest on', () => {
    const three = [rect(10, 10, 30, 40), rect(40.5, 10, 30, 40), rect(70.8, 10, 30, 40)];
    expect(webs(three).map(({ widthMm }) => Math.round(widthMm * 1e3) / 1e3)).toEqual([0.3, 0.5]);
  });

  it('may be more than were found where the search ended early', () => {
    const lines = drawn(...apart(0.4));
    const found = (most: number) => websOf(lines, { kerfMm: 0.2, thicknessMm: 3, work: { ...work, webs: most } });
    expect(found(work.webs).endedEarly).toBeNull();
    expect(found(0).endedEarly).toMatch(/\S/);
  });
});

describe('narrow holes and slots', () => {
  const narrow = (elements: string[], kerfMm: number | null = 0.2) => narrowOf(drawn(PART, ...elements), kerfMm);

  it.each<[string, number | null, number]>([
    ['three kerfs', 0.2, 0.6],
    ['three ordinary kerfs of 0.25 mm where none is known', null, 0.75],
  ])('are listed up to %s', (_, kerfMm, limitMm) => {
    expect(narrow([rect(30, 30, limitMm - 0.01, 20)], kerfMm)).toHaveLength(1);
    expect(narrow([rect(30, 30, limitMm + 0.01, 20)], kerfMm)).toEqual([]);
  });

  it('are slots where they are longer than two and a half widths, corner to corner', () => {
    // Of a width of 0.5 mm that is 1.25 mm: √(0.5² + 1.14²) = 1.245, √(0.5² + 1.16²) = 1.263.
    expect(narrow([rect(30, 30, 0.5, 1.14)])).toMatchObject([{ kind: 'hole' }]);
    expect(narrow([rect(30, 30, 1.16, 0.5)])).toMatchObject([{ kind: 'slot' }]);
  });

  it('have their line, their width and their middle, the narrowest first', () => {
    const found = narrow([rect(30, 30, 0.5, 20), rect(60, 40, 10, 0.3)]);
    expect(found.map(({ location }) => [location.file, location.line])).toEqual([
      ['gate.svg', 4],
      ['gate.svg', 3],
    ]);
    const numbers = found.map(({ widthMm, xMm, yMm }) => [widthMm, xMm, yMm].map((mm) => Math.round(mm * 1e6) / 1e6));
    expect(numbers).toEqual([
      [0.3, 65, 40.15],
      [0.5, 30.25, 40],
    ]);
  });

  it('are none where the line encloses nothing, nor where it is a part itself', () => {
    expect(narrow([path('M30 30 H50 Z')])).toEqual([]);
    expect(narrow([rect(170, 10, 0.4, 50)])).toEqual([]);
    // A thin part that lies in a hole.
    expect(narrow([rect(30, 30, 40, 40), rect(40, 35, 0.4, 20)])).toEqual([]);
  });
});

describe('what has to fit the thickness of a sheet', () => {
  const joints = (...elements: string[]) =>
    jointsOf(drawn(...elements)).map(({ kind, count, sizeMm, location }) => [
      kind,
      count,
      Number(sizeMm.toFixed(4)),
      location.line,
    ]);

  it('is listed by how often it is drawn, the smaller first of what is drawn as often', () => {
    expect(
      joints(
        PART,
        rect(20, 20, 6, 20),
        rect(40, 20, 20, 3),
        rect(80, 20, 4, 20),
        rect(90, 20, 4, 20),
        rect(100, 20, 2, 20),
      ),
    ).toEqual([
      ['slot', 2, 4, 5],
      ['slot', 1, 2, 7],
      ['slot', 1, 3, 4],
      ['slot', 1, 6, 3],
    ]);
  });

  it('is one size to the nearest twentieth of a millimetre', () => {
    expect(joints(PART, rect(20, 20, 3.02, 20), rect(40, 20, 2.98, 20), rect(60, 20, 3.03, 20))).toEqual([
      ['slot', 2, 3, 3],
      ['slot', 1, 3.05, 5],
    ]);
  });

  it('is the width of a slot from the edge and how far a tab stands out, told apart where both measure the same', () => {
    const side = path('M20 20 H50 V17 H65 V20 H110 V30 H113 V20 H140 V60 H20 Z');
    expect(joints(side)).toContainEqual(['tab', 1, 3, 2]);
    expect(joints(side)).toContainEqual(['slot', 1, 3, 2]);
  });

  it('is no joint where it is wider than 30 mm', () => {
    expect(joints(PART, rect(20, 20, 30.5, 60))).toEqual([]);
    expect(joints(PART, rect(20, 20, 29.5, 60))).toEqual([['slot', 1, 29.5, 3]]);
  });
});
