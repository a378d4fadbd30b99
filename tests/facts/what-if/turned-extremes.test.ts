// The highest and lowest settings and the highest speed are what rules hold a program to, so they must follow what is turned.
import { describe, expect, it } from 'vitest';
import { turnedExtremes } from '../../../src/facts/what-if/turned-extremes.ts';
import type { RasterArea, Toolpath } from '../../../src/model/toolpath.ts';
import { factsOf, shed } from '../../memory-shop.ts';

/** Three lines: 40 % at 10 mm/s (line 4), 60 % at 15 mm/s (line 5), 80 % at 20 mm/s (line 6). */
const READ: Toolpath = factsOf({
  ...shed(),
  'part.job.yaml': 'kerflint: 1\nmachine: shed-60w\nmaterial: birch-plywood\nthickness: 3 mm\ntoolpath: part.gcode\n',
  'part.gcode': 'G21 G90\nG0 X10 Y10\nM3\nG1 X60 S400 F600\nG1 Y60 S600 F900\nG1 X10 S800 F1200\nM5\nM2\n',
}).toolpath!;
const at = (line: number) => expect.objectContaining({ line });

/** The extremes once the three lines have these settings and speeds. */
const turned = (setting: readonly number[], speed: readonly number[] = [10, 15, 20], toolpath = READ) =>
  turnedExtremes(toolpath, {
    ...toolpath.strokes,
    setting: Float64Array.from(setting),
    speedMmPerS: Float64Array.from(speed),
  });
const AS_IT_WAS = [0.4, 0.6, 0.8];
const area = (minSetting: number, maxSetting: number, speedMmPerS: number) =>
  ({ minSetting, maxSetting, speedMmPerS }) as RasterArea;

describe('the extremes of a program whose lines were turned', () => {
  it('are those that were read where nothing is turned', () => {
    expect(READ.highestSetting).toMatchObject({ value: 0.8, raw: 800, place: at(6) });
    expect(READ.lowestPoweredSetting).toMatchObject({ value: 0.4, raw: 400, place: at(4) });
    const { highestSetting, lowestPoweredSetting, highestSpeed } = turned(AS_IT_WAS);
    expect(highestSetting).toBe(READ.highestSetting);
    expect(lowestPoweredSetting).toBe(READ.lowestPoweredSetting);
    expect(highestSpeed).toEqual(READ.highestSpeed);
    expect(highestSpeed).toMatchObject({ mmPerS: 20, place: at(6) });
  });

  it('are the next ones where the line that had them is turned back', () => {
    const { highestSetting, lowestPoweredSetting, highestSpeed } = turned([0.7, 0.6, 0.5], [10, 15, 12]);
    expect(highestSetting).toMatchObject({ value: 0.7, raw: 700, place: at(4) });
    expect(lowestPoweredSetting).toMatchObject({ value: 0.5, raw: 500, place: at(6) });
    expect(highestSpeed).toMatchObject({ mmPerS: 15, place: at(5) });
  });

  it('are those of a line that is turned beyond them, at its place and as the program would write it', () => {
    const { highestSetting, lowestPoweredSetting, highestSpeed } = turned([0.4, 0.9, 0.2], [10, 30, 20]);
    expect(highestSetting).toEqual({ value: 0.9, raw: 900, place: { line: 5, column: 1, endLine: 5, endColumn: 1 } });
    expect(lowestPoweredSetting).toMatchObject({ value: 0.2, raw: 200, place: at(6) });
    expect(highestSpeed).toEqual({ mmPerS: 30, place: { line: 5, column: 1, endLine: 5, endColumn: 1 } });
  });

  it('are told at the first of several lines that have them', () => {
    const { highestSetting, lowestPoweredSetting, highestSpeed } = turned([0.5, 0.9, 0.9], [10, 30, 30]);
    expect(highestSetting).toMatchObject({ place: at(5) });
    expect(highestSpeed).toMatchObject({ place: at(5) });
    expect(lowestPoweredSetting).toMatchObject({ value: 0.5, place: at(4) });
    expect(turned([0.5, 0.5, 0.9]).lowestPoweredSetting).toMatchObject({ place: at(4) });
  });

  it('are none where the program states none', () => {
    const silent = { ...READ, highestSetting: null, lowestPoweredSetting: null, highestSpeed: null };
    expect(turned([0.3, 0.9, 0.5], [1, 2, 3], silent)).toEqual({
      highestSetting: null,
      lowestPoweredSetting: null,
      highestSpeed: null,
    });
  });
});

describe('what is commanded beside the lines', () => {
  const place = { line: 2, column: 1, endLine: 2, endColumn: 5 };
  const beyond: Toolpath = {
    ...READ,
    highestSetting: { value: 0.95, raw: 950, place },
    lowestPoweredSetting: { value: 0.1, raw: 100, place },
    highestSpeed: { mmPerS: 90, place },
  };

  it('stays an extreme as long as no line goes beyond it', () => {
    const stays = turned([0.5, 0.6, 0.7], [5, 6, 7], beyond);
    expect(stays.highestSetting).toBe(beyond.highestSetting);
    expect(stays.lowestPoweredSetting).toBe(beyond.lowestPoweredSetting);
    expect(stays.highestSpeed).toEqual(beyond.highestSpeed);
    const goes = turned([0.05, 0.6, 0.99], [5, 99, 7], beyond);
    expect(goes.highestSetting).toMatchObject({ value: 0.99, place: at(6) });
    expect(goes.highestSetting!.raw).toBeCloseTo(990, 9);
    expect(goes.lowestPoweredSetting).toMatchObject({ value: 0.05, place: at(4) });
    expect(goes.lowestPoweredSetting!.raw).toBeCloseTo(50, 9);
    expect(goes.highestSpeed).toMatchObject({ mmPerS: 99, place: at(5) });
  });

  it('is what areas ask for, once lines no longer ask for more', () => {
    const areas = [area(0.55, 0.65, 16), area(0.45, 0.7, 18), area(0.5, 0.6, 17)];
    const { highestSetting, lowestPoweredSetting, highestSpeed } = turned([0.6, 0.6, 0.6], [10, 15, 12], {
      ...READ,
      areas,
    });
    expect(highestSetting).toMatchObject({ value: 0.7, place: READ.highestSetting!.place });
    expect(highestSetting!.raw).toBeCloseTo(700, 9);
    expect(lowestPoweredSetting).toMatchObject({ value: 0.45, place: READ.lowestPoweredSetting!.place });
    expect(lowestPoweredSetting!.raw).toBeCloseTo(450, 9);
    expect(highestSpeed).toEqual({ mmPerS: 18, place: READ.highestSpeed!.place });
  });

  it('is nothing in areas that ask for less than the lines', () => {
    const weak = { ...READ, areas: [area(0.55, 0.6, 11)] };
    const { highestSetting, lowestPoweredSetting, highestSpeed } = turned([0.5, 0.6, 0.7], [10, 15, 12], weak);
    expect(highestSetting).toMatchObject({ value: 0.7, place: at(6) });
    expect(lowestPoweredSetting).toMatchObject({ value: 0.5, place: at(4) });
    expect(highestSpeed).toMatchObject({ mmPerS: 15, place: at(5) });
  });
});
