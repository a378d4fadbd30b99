import { describe, expect, it } from 'vitest';
import { read } from './reading.ts';

/** Rows of a raster from (20, 10): `pixels` of 0.5 mm, pitch as given, S in turn; run-out of 5 mm on either side. */
function serpentine(
  rows: number,
  pixels: number,
  pitch: number,
  s = (i: number, k: number) => ((i * 7 + k * 13) % 90) + 10,
): string[] {
  const lines: string[] = [];
  for (let i = 0; i < rows; i++) {
    const forth = i % 2 === 0;
    const from = forth ? 20 : 20 + pixels * 0.5;
    const way = forth ? 0.5 : -0.5;
    const y = (10 + i * pitch).toFixed(3);
    lines.push(`G0 X${from - way * 10} Y${y}`, `G1 X${from} S0`);
    for (let k = 1; k <= pixels; k++) lines.push(`X${from + way * k} S${s(i, k)}`);
    lines.push(`X${from + way * (pixels + 10)} S0`);
  }
  return lines;
}

const HEAD = ['G21 G90', 'M4 S0', 'F6000'];

describe('a raster', () => {
  const toolpath = read([...HEAD, ...serpentine(40, 100, 0.1), 'M5', 'M2']);
  const [area] = toolpath.areas;

  it('is summed as one area and none of its strokes is kept', () => {
    expect(toolpath.areas).toHaveLength(1);
    expect(toolpath.strokes.count).toBe(0);
    expect(toolpath.cutLengthMm).toBeCloseTo(0, 9);
    expect(toolpath.travels.count).toBe(1);
  });

  it('knows its extent, lines and places', () => {
    expect(area).toMatchObject({ minX: 20, maxX: 70, minY: 10, strokes: 4000, speedMmPerS: 100, directionDeg: 0 });
    expect(area!.maxY).toBeCloseTo(13.9, 9);
    expect(area!.pitchMm).toBeCloseTo(0.1, 9);
    expect(area!.poweredMm).toBeCloseTo(2000, 6);
    expect(area!.lengthMm).toBeCloseTo(2000 + 40 * 10, 6);
    expect(area!.runOutMm).toBeCloseTo(5, 6);
    // The first powered line is the third of the first row; the last powered one stands before the last run-out.
    expect(area!.place.line).toBe(6);
    expect(area!.endLine).toBe(3 + 40 * 103 - 1);
    expect(area).toMatchObject({ maxSetting: 0.099, minSetting: 0.01 });
  });

  it('knows its energy: setting over speed and pitch', () => {
    let sum = 0;
    for (let i = 0; i < 40; i++) for (let k = 1; k <= 100; k++) sum += ((i * 7 + k * 13) % 90) + 10;
    expect(area!.meanSettingSPerMm2).toBeCloseTo(sum / 4000 / 1000 / (100 * 0.1), 9);
    expect(area!.peakSettingSPerMm2).toBeCloseTo(0.099 / (100 * 0.1), 9);
    expect(toolpath.highestSetting!.place.line).toBe(area!.peakPlace.line);
  });

  it('accounts for all the time: its own and the way to it', () => {
    const { time } = toolpath;
    expect(time.totalS).toBeCloseTo(time.rasterS + time.travelS, 9);
    expect(area!.timeS).toBeCloseTo(time.rasterS, 9);
    // 60 mm a row at no more than 100 mm/s.
    expect(area!.timeS).toBeGreaterThan((40 * 60) / 100);
    expect(area!.timeS).toBeLessThan((40 * 60) / 100 + 40 * 0.2);
    expect(area!.reachedMmPerS).toBeGreaterThan(90);
    expect(area!.reachedMmPerS).toBeLessThanOrEqual(100);
  });

  it('is recognised along Y and at an angle with rounded coordinates too', () => {
    const turned = [...HEAD, ...serpentine(20, 50, 0.1)].map((line) =>
      line.replace(/[XY]/g, (c) => (c === 'X' ? 'Y' : 'X')),
    );
    expect(read(turned).areas).toMatchObject([{ directionDeg: 90, strokes: 1000 }]);
    const slant: string[] = [];
    const point = (u: number, v: number) =>
      `X${((u - v) * Math.SQRT1_2 + 50).toFixed(3)} Y${((u + v) * Math.SQRT1_2).toFixed(3)}`;
    for (let i = 0; i < 20; i++) {
      slant.push(`G0 ${point(0, i * 0.1)}`);
      for (let k = 1; k <= 100; k++) slant.push(`G1 ${point(k * 0.1, i * 0.1)} S${100 + k}`);
    }
    const { areas, strokes } = read([...HEAD, ...slant]);
    expect(areas).toHaveLength(1);
    expect(strokes.count).toBe(0);
    expect(areas[0]!.directionDeg).toBeCloseTo(45, 1);
    expect(areas[0]!.pitchMm).toBeCloseTo(0.1, 2);
  });

  it('spans blank rows, and what is cut behind it is kept', () => {
    const rows = serpentine(14, 20, 0.1);
    const below = serpentine(14, 20, 0.1).map((line) =>
      line.replace(/Y1/, 'Y1').replace(/Y(\d+\.\d+)/, (_, y) => `Y${(Number(y) + 4).toFixed(3)}`),
    );
    const square = ['M5', 'M3 S800', 'F600', 'G0 X15 Y5', 'G1 X80', 'Y40', 'X15', 'Y5'];
    const toolpath = read([...HEAD, ...rows, ...below, ...square]);
    expect(toolpath.areas).toHaveLength(1);
    expect(toolpath.areas[0]!.pitchMm).toBeCloseTo(0.1, 9);
    expect(toolpath.strokes.count).toBe(4);
    expect(toolpath.cutLengthMm).toBeCloseTo(200, 9);
  });

  it('ends where an arc is cut: what follows is an area of its own, though it lies close by', () => {
    const rows = serpentine(14, 20, 0.1);
    const more = serpentine(14, 20, 0.1).map((line) =>
      line.replace(/Y(\d+\.\d+)/, (_, y) => `Y${(Number(y) + 1.4).toFixed(3)}`),
    );
    const arc = ['G1 X20 Y11.4 S0', 'G2 X22 Y11.4 I1 J0 S50', 'G1 S0'];
    const { areas, strokes } = read([...HEAD, ...rows, ...arc, ...more]);
    expect(strokes.count).toBe(1);
    expect(areas.map((one) => one.strokes)).toEqual([14 * 20, 14 * 20]);
    expect(areas[0]!.maxY).toBeCloseTo(11.3, 9);
    expect(areas[1]!.minY).toBeCloseTo(11.4, 9);
    // Without the arc it is one area.
    expect(read([...HEAD, ...rows, ...more]).areas.map((one) => one.strokes)).toEqual([2 * 14 * 20]);
  });

  it('under constant power has its peak where the head is slow', () => {
    const rows = Array.from({ length: 20 }, (_, i) => [
      `G0 X${i % 2 ? 40 : 20} Y${(10 + i * 0.1).toFixed(1)}`,
      `G1 X${i % 2 ? 20 : 40} S500`,
    ]).flat();
    const constant = read(['M3 S0', 'F6000', ...rows]).areas[0]!;
    const scaled = read(['M4 S0', 'F6000', ...rows]).areas[0]!;
    expect(scaled.peakSettingSPerMm2).toBeCloseTo(0.5 / (100 * 0.1), 9);
    expect(constant.peakSettingSPerMm2).toBeGreaterThan(1.5 * scaled.peakSettingSPerMm2);
  });
});

describe('the hot path', () => {
  it('sums a raster as the general path does', () => {
    // Rows with white pixels, run-outs and rapids; the second program says the same with words that the hot path leaves alone.
    const s = (i: number, k: number) => (k % 7 === 0 ? 0 : ((i * 7 + k * 13) % 90) + 10);
    const hot = [...HEAD, ...serpentine(30, 60, 0.1, s), 'M5', 'M2'];
    const general = hot.map((line) => (line.startsWith('X') ? `${line} (pixel)` : line));
    const [a, b] = [read(hot), read(general)];
    expect(b.areas).toEqual(a.areas.map((area) => ({ ...area, label: b.areas[0]!.label })));
    expect(b.time).toEqual(a.time);
    expect(b.boundsMm).toEqual(a.boundsMm);
    expect(b.moves).toBe(a.moves);
    expect(b.lowestPoweredSetting!.value).toBe(a.lowestPoweredSetting!.value);
    expect(b.highestSetting).toEqual(a.highestSetting);
  });

  it('knows the strongest and the weakest pixel of an area behind cuts that were stronger and weaker', () => {
    const cuts = ['M3 F600', 'G1 X5 S999', 'G1 X6 S1', 'M5'];
    const hot = [...cuts, ...HEAD, ...serpentine(20, 60, 0.1), 'M5', 'M2'];
    const general = hot.map((line) => (line.startsWith('X') ? `${line} (pixel)` : line));
    // The settings of the pixels are 10 to 99 of 1000.
    let strongest = 0;
    for (let i = 0; i < 20; i++) for (let k = 1; k <= 60; k++) strongest = Math.max(strongest, (i * 7 + k * 13) % 90);
    expect(strongest).toBe(89);
    const [a, b] = [read(hot).areas[0]!, read(general).areas[0]!];
    expect(a).toMatchObject({ maxSetting: 0.099, minSetting: 0.01 });
    expect(a.peakSettingSPerMm2).toBeCloseTo(0.099 / (100 * 0.1), 9);
    expect(hot[a.peakPlace.line - 1]).toMatch(/ S99$/);
    expect({ ...a, label: b.label }).toEqual(b);
  });

  it('heeds a feed that changes between pixels, and the end of the area', () => {
    const rows = serpentine(20, 20, 0.1);
    const toolpath = read([...HEAD, ...rows, 'F600', 'X10 S900', 'X0', 'M2']);
    expect(toolpath.areas).toHaveLength(1);
    expect(toolpath.strokes.count).toBe(2);
    expect(toolpath.strokes.speedMmPerS[0]).toBe(10);
    expect(toolpath.highestSetting!.value).toBe(0.9);
  });
});

describe('no raster is', () => {
  it('a hatch of few lines', () => {
    const toolpath = read([...HEAD, ...serpentine(11, 20, 0.1)]);
    expect(toolpath.areas).toEqual([]);
    expect(toolpath.strokes.count).toBe(11 * 20);
  });

  it('a living hinge: rows of slits wider apart than the beam', () => {
    const slits: string[] = [];
    for (let i = 0; i < 60; i++) {
      for (let k = 0; k < 3; k++)
        slits.push(`G0 X${10 + k * 35 + (i % 2) * 17} Y${10 + i * 1.2}`, `G1 X${40 + k * 35 + (i % 2) * 17} S900`);
    }
    const toolpath = read(['M3 S0', 'F600', ...slits]);
    expect(toolpath.areas).toEqual([]);
    expect(toolpath.strokes.count).toBe(180);
  });

  it('a stair of short steps', () => {
    const steps = Array.from({ length: 100 }, (_, i) => [`G1 X${(i + 1) * 0.2} S900`, `G1 Y${(i + 1) * 0.2}`]).flat();
    expect(read(['M3 S0', 'F600', ...steps])).toMatchObject({ areas: [], strokes: { count: 200 } });
  });

  it('one line cut again and again', () => {
    const passes = Array.from({ length: 40 }, (_, i) => `G1 X${i % 2 ? 0 : 80} S900`);
    expect(read(['M3 S0', 'F600', ...passes])).toMatchObject({ areas: [], strokes: { count: 40 } });
  });

  it('a circle of short chords', () => {
    const chords = Array.from({ length: 720 }, (_, i) => {
      const angle = ((i + 1) * Math.PI) / 360;
      return `G1 X${(50 + 20 * Math.cos(angle)).toFixed(3)} Y${(50 + 20 * Math.sin(angle)).toFixed(3)} S900`;
    });
    const toolpath = read(['M3 S0', 'F600', 'G0 X70 Y50', ...chords]);
    expect(toolpath.areas).toEqual([]);
    expect(toolpath.strokes.count).toBe(720);
    expect(toolpath.poweredBoundsMm).toMatchObject({ minX: 30, maxX: 70, minY: 30, maxY: 70 });
  });
});
