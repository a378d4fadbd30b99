import { describe, expect, it } from 'vitest';
import { STROKE_AIR, STROKE_SCALED, STROKE_STARTS_PATH } from '../../src/model/strokes.ts';
import { codes, read } from './reading.ts';

describe('power by S', () => {
  it('is a fraction of full on G1, G2 and G3 while M3 or M4 is on', () => {
    const toolpath = read('F600\nM3 S250\nG1 X1\nS500 X2\nM5\nX3\nM4 X4\nG2 X6 I1');
    expect(Array.from(toolpath.strokes.setting)).toEqual([0.25, 0.5, 0.5, 0.5]);
    expect(Array.from(toolpath.strokes.flags, (f) => f & STROKE_SCALED)).toEqual([0, 0, STROKE_SCALED, STROKE_SCALED]);
    expect(toolpath.highestSetting).toEqual({
      value: 0.5,
      raw: 500,
      place: { line: 4, column: 1, endLine: 4, endColumn: 5 },
    });
    expect(toolpath.lowestPoweredSetting).toMatchObject({ value: 0.25, raw: 250, place: { line: 2, column: 4 } });
  });

  it('M4 is not scaled where the controller keeps it constant', () => {
    expect(read('M4 S1 F1\nG1 X1', { m4: 'constant' }).strokes.flags[0]! & STROKE_SCALED).toBe(0);
  });

  it('a feed move at zero is travel', () => {
    const toolpath = read('M3 S0 F600\nG1 X10\nS500 X20\nS0 X30');
    expect(toolpath.strokes.count).toBe(1);
    expect(toolpath.travels.count).toBe(2);
    expect(toolpath.cutLengthMm).toBe(10);
    expect(toolpath.poweredBoundsMm).toMatchObject({ minX: 10, maxX: 20 });
    expect(toolpath.boundsMm).toMatchObject({ minX: 10, maxX: 30 });
  });

  it('a new path starts where the beam was off or the head elsewhere', () => {
    const toolpath = read('M3 S500 F600\nG1 X1\nX2\nG0 X3\nG1 X4\nM5\nM3\nX5');
    expect(Array.from(toolpath.strokes.flags, (f) => f & STROKE_STARTS_PATH)).toEqual([
      STROKE_STARTS_PATH,
      0,
      STROKE_STARTS_PATH,
      STROKE_STARTS_PATH,
    ]);
  });

  it('rapids with the beam commanded on are counted', () => {
    const toolpath = read('M3 S500 F600\nG1 X1\nG0 X11\nG1 X12\nM5\nG0 X0');
    expect(toolpath.poweredRapids).toMatchObject({ count: 1, lengthMm: 10, first: { line: 3 }, setting: 0.5 });
  });

  it('above full is kept as it was asked for; below zero is a problem and counts as zero', () => {
    expect(read('M3 S1500 F1\nG1 X1').strokes.setting[0]).toBe(1.5);
    const negative = read('M3 S-5 F1\nG1 X1');
    expect(negative.problems).toMatchObject([
      { code: 'negative-power', args: { value: -5 }, place: { line: 1, column: 4 } },
    ]);
    expect(negative.strokes.count).toBe(0);
  });

  it('S without M3 or M4 is a problem when a feed move relies on it', () => {
    expect(read('G1 X5 S800 F600').problems).toMatchObject([{ code: 'power-without-beam', args: { value: 800 } }]);
    expect(codes(read('S800\nM3\nG1 X5 F600'))).toEqual([]);
    expect(codes(read('M3 S800 F600\nG1 X5\nM5\nG1 X0'))).toEqual([]);
  });

  it('S beside another code is that code’s', () => {
    expect(read('M106 S255\nM3 S100 F60\nG1 X1').highestSetting!.raw).toBe(100);
  });
});

describe('power by other words', () => {
  it('by fan', () => {
    const toolpath = read('F600\nG1 X1\nM106 S127.5\nX2\nS999 X3\nM107\nX4\nM106\nX5', {
      power: { word: 'M106', full: 255 },
    });
    expect(Array.from(toolpath.strokes.setting)).toEqual([0.5, 0.5, 1]);
    expect(codes(toolpath)).toEqual([]);
    expect(toolpath.end.beam).toEqual({ mode: 'on', word: 'M3' });
  });

  it('by analog output', () => {
    const toolpath = read('F600\nM67 E0 Q50\nG1 X1\nM67 E0 Q0\nX2', { power: { word: 'analog', full: 100 } });
    expect(Array.from(toolpath.strokes.setting)).toEqual([0.5]);
    expect(toolpath.analysed).toBe(true);
  });

  it('an analog output that the profile does not name leaves the beam unknown', () => {
    expect(read('M67 E0 Q50').analysed).toBe(false);
  });
});

describe('air', () => {
  it('is on from M7 or M8 to M9, and coming on takes its time', () => {
    const toolpath = read('M3 S1 F600\nG1 X1\nM8\nX2\nM7 X3\nM9\nX4');
    expect(Array.from(toolpath.strokes.flags, (f) => (f & STROKE_AIR) !== 0)).toEqual([false, true, true, false]);
    expect(toolpath.time.dwellS).toBe(0.5);
  });
});
