import { describe, expect, it } from 'vitest';
import { toolpathOnSheet } from '../../../src/facts/match/on-sheet.ts';
import type { RasterArea } from '../../../src/model/toolpath.ts';
import { type Files, factsOf, shed } from '../../memory-shop.ts';

/** Cuts from X20 Y30 to X120 Y90 of the program; `first` runs ahead of it. */
const job = (place: string, first = '', cut = 'G0 X20 Y30\nG1 X120\nG1 Y90'): Files => ({
  ...shed(),
  'part.job.yaml': `kerflint: 1\nmachine: shed-60w\nlens: 2in\nmaterial: birch-plywood\nthickness: 3 mm\ntoolpath: part.gcode\n${place}`,
  'part.gcode': `G21 G90\n${first}M4 S800 F600\n${cut}\nM5\nM2\n`,
});
const sheet = (width: number, height: number, zero: string, at = '') =>
  `${zero}sheet: { width: ${width} mm, height: ${height} mm${at} }\n`;
const CORNER = 'zero: sheet-corner\n';
const MACHINE = 'zero: machine\n';

describe('how a toolpath fits the sheet', () => {
  it.each([
    ['on it', sheet(120, 90, CORNER), [0, 'X', 0, null]],
    ['beyond its right edge', sheet(100, 90, CORNER), [20, 'X', 2, 4]],
    ['beyond its upper edge', sheet(120, 85, CORNER), [5, 'Y', 1, 5]],
    [
      'on it, whose corner is the zero wherever it lies',
      sheet(120, 90, CORNER, ', at: { x: 200 mm, y: 50 mm }'),
      [0, 'X', 0, null],
    ],
    ['left of it', sheet(300, 300, MACHINE, ', at: { x: 50 mm, y: 0 mm }'), [30, 'X', 1, 4]],
    ['on it where it lies', sheet(100, 60, MACHINE, ', at: { x: 20 mm, y: 30 mm }'), [0, 'X', 0, null]],
  ])('by its place: %s', (_, place, [byMm, axis, beyond, line]) => {
    expect(factsOf(job(place as string)).onSheet).toMatchObject({ byMm, axis, beyond, line, sizeOnly: false });
  });

  it.each([
    ['zero: set-by-hand\n', 100, 60, 0],
    ['', 90, 60, 10],
    ['', 300, 45, 15],
  ])('by its size only: %j', (zero, width, height, byMm) => {
    expect(factsOf(job(sheet(width, height, zero))).onSheet).toMatchObject({
      byMm,
      sizeOnly: true,
      beyond: 0,
      line: null,
    });
  });

  it('counts an arc whose ends lie on the sheet', () => {
    const arc = 'G0 X20 Y10\nG3 X20 Y50 I0 J20';
    expect(factsOf(job(sheet(35, 90, CORNER), '', arc)).onSheet).toMatchObject({ byMm: 5, beyond: 1, line: 4 });
    expect(factsOf(job(sheet(45, 90, CORNER), '', arc)).onSheet).toMatchObject({ beyond: 0, line: null });
  });

  it('follows offsets that the program tells', () => {
    // The head stands at X0 Y0, which becomes X-40 Y0: everything lies 40 mm farther.
    const fact = factsOf(job(sheet(150, 90, CORNER), 'G0 X0 Y0\nG92 X-40 Y0\n'));
    expect(fact.onSheet).toMatchObject({ byMm: 10, axis: 'X' });
    expect(fact.unanswered).toEqual([]);
    const moved = factsOf(job(sheet(150, 90, MACHINE), 'G10 L2 P1 X40 Y0\n'));
    expect(moved.onSheet).toMatchObject({ byMm: 10, axis: 'X' });
    expect(moved.unanswered).toEqual([]);
  });

  it.each([
    ['G92 X0 Y0\n', MACHINE, 'G92 on line 2'],
    ['G55\n', CORNER, 'G55 on line 2'],
    ['G10 L2 P1 X40\n', CORNER, 'G10 on line 2'],
  ])('leaves the job incomplete where they are not told: %j', (first, zero, says) => {
    const facts = factsOf(job(sheet(300, 300, zero), first));
    expect([facts.onSheet, facts.onBed]).toEqual([null, null]);
    expect(facts.unanswered.map(({ missing }) => missing)).toEqual([expect.stringContaining(says)]);
    expect(factsOf(job(sheet(300, 300, 'zero: set-by-hand\n'), first)).unanswered).toEqual([]);
    expect(factsOf(job(sheet(300, 300, ''), first)).unanswered).toEqual([]);
  });

  it('has nothing to say without a sheet, and of a program that never fires', () => {
    expect(factsOf(job(CORNER)).onSheet).toBeNull();
    expect(factsOf(job(sheet(10, 10, CORNER), '', 'S0\nG1 X50')).onSheet).toBeNull();
  });

  it('takes what lies along its very edge for on it, at each side', () => {
    const at = (x: number, y: number, width: number, height: number) =>
      factsOf(job(sheet(width, height, MACHINE, `, at: { x: ${x} mm, y: ${y} mm }`))).onSheet!.beyond;
    // The cut goes along X first and then along Y: one stroke reaches beyond its left and its upper edge, both beyond the others.
    expect([at(20.04, 30.04, 100, 100), at(0, 0, 119.96, 89.96)]).toEqual([0, 0]);
    expect([at(20.06, 30, 100, 100), at(20, 30.06, 100, 100)]).toEqual([1, 2]);
    expect([at(0, 0, 119.94, 100), at(0, 0, 200, 89.94)]).toEqual([2, 1]);
  });

  it('counts raster areas that fire beyond it, and tells the first line of all', () => {
    const { input, toolpath } = factsOf(job(sheet(120, 90, CORNER)));
    const area = (line: number, maxX: number, poweredMm = 10) =>
      ({
        minX: 5,
        minY: 5,
        maxX,
        maxY: 9,
        poweredMm,
        place: { line, column: 1, endLine: line, endColumn: 1 },
      }) as RasterArea;
    const reaching = (areas: RasterArea[], width = 120) => {
      const sidecar = input.sidecar!;
      const wide = { ...sidecar, sheet: { ...sidecar.sheet!, widthMm: width } };
      return toolpathOnSheet(wide, { ...toolpath!, areas }, null);
    };
    expect(reaching([area(9, 119)])).toMatchObject({ beyond: 0, line: null });
    expect(reaching([area(12, 121), area(9, 122)])).toMatchObject({ beyond: 2, line: 9 });
    expect(reaching([area(9, 121, 0)])).toMatchObject({ beyond: 0, line: null });
    // The strokes of lines 4 and 5 reach beyond it too.
    expect(reaching([area(9, 121)], 100)).toMatchObject({ beyond: 3, line: 4 });
    expect(reaching([area(2, 121)], 100)).toMatchObject({ beyond: 3, line: 2 });
  });

  it('tells the size of the work along the axis that counts', () => {
    // 100 mm along X and 60 mm along Y.
    expect(factsOf(job(sheet(90, 90, CORNER))).onSheet).toMatchObject({ axis: 'X', byMm: 30, sizeMm: 100 });
    expect(factsOf(job(sheet(120, 80, CORNER))).onSheet).toMatchObject({ axis: 'Y', byMm: 10, sizeMm: 60 });
    expect(factsOf(job(sheet(95, 70, ''))).onSheet).toMatchObject({ axis: 'X', byMm: 5, sizeMm: 100 });
    expect(factsOf(job(sheet(110, 45, ''))).onSheet).toMatchObject({ axis: 'Y', byMm: 15, sizeMm: 60 });
  });
});
