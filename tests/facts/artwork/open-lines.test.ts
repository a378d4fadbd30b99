import { describe, expect, it } from 'vitest';
import { openLines } from '../../../src/facts/artwork/open-lines.ts';
import { drawn, path, rect } from './drawn.ts';

const lines = (...elements: string[]) => openLines(drawn(...elements));
const round = (mm: number) => Math.round(mm * 1e6) / 1e6;

describe('lines that do not close', () => {
  it('are told with number, place, length and the gap between their ends', () => {
    const { open, nearlyClosed } = lines(rect(100, 10, 20, 20), path('M10 10 H40 V50'));
    expect(open).toMatchObject([{ outline: 1, location: { file: 'gate.svg', line: 3 } }]);
    // Sides of 30 and 40 mm leave a gap of 50.
    expect([open[0]!.lengthMm, open[0]!.gapMm].map(round)).toEqual([70, 50]);
    expect(nearlyClosed).toEqual([]);
  });

  it('are one where they join end to end, told of the first of them', () => {
    // Drawn in any order and direction: the last begins where the first ends, the second ends where it begins.
    const { open } = lines(path('M40 10 V50'), path('M10 10 H40'), path('M80 50 H40'));
    expect(open).toMatchObject([{ outline: 0, location: { line: 2 } }]);
    expect([open[0]!.lengthMm, open[0]!.gapMm].map(round)).toEqual([110, round(Math.hypot(70, 40))]);
  });

  it.each([
    [0.04, 1],
    [0.06, 2],
  ])('join where their ends are %s mm apart, up to a twentieth: then there are %s', (mm, count) => {
    expect(lines(path('M10 10 H40'), path(`M${40 + mm} 10 H80`)).open).toHaveLength(count);
  });

  it('are no matter where they are shorter than half a millimetre: those are strays', () => {
    expect(lines(path('M10 10 h0.49')).open).toEqual([]);
    expect(lines(path('M10 10 h0.51')).open).toHaveLength(1);
  });
});

describe('lines that all but close', () => {
  /** A rectangle of 50 by 30 mm that ends so far from where it begins. */
  const short = (mm: number) => path(`M10 10 H60 V40 H10 V${10 + mm}`);

  it('are told with number, place and gap, and are not open', () => {
    const { open, nearlyClosed } = lines(rect(100, 10, 20, 20), short(0.4));
    expect(open).toEqual([]);
    expect(nearlyClosed).toMatchObject([{ outline: 1, location: { file: 'gate.svg', line: 3 } }]);
    expect(round(nearlyClosed[0]!.gapMm)).toBe(0.4);
  });

  it('have a gap of a millimetre at most', () => {
    expect(lines(short(0.99)).nearlyClosed).toHaveLength(1);
    expect(lines(short(1.01)).nearlyClosed).toEqual([]);
    expect(lines(short(1.01)).open).toHaveLength(1);
  });

  it('are ten times as long as their gap: what is shorter is a hook', () => {
    // Legs of so much each, half a millimetre apart: 2 × 2.2 + 0.5 = 4.9 mm, 2 × 2.3 + 0.5 = 5.1 mm.
    const hook = (mm: number) => lines(path(`M10 10 h${mm} v0.5 h${-mm}`));
    expect([hook(2.2).open.length, hook(2.2).nearlyClosed.length]).toEqual([1, 0]);
    expect([hook(2.3).open.length, hook(2.3).nearlyClosed.length]).toEqual([0, 1]);
  });
});
