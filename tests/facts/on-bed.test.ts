import { describe, expect, it } from 'vitest';
import { farCorner } from '../../src/facts/match/on-bed.ts';
import { type Files, factsOf, shed } from '../memory-shop.ts';

/** Cuts from X20 Y30 to X120 Y90 of the program. */
const job = (place: string): Files => ({
  ...shed(),
  'part.job.yaml': `kerflint: 1\nmachine: shed-60w\nlens: 2in\nmaterial: birch-plywood\nthickness: 3 mm\ntoolpath: part.gcode\n${place}`,
  'part.gcode': 'G21 G90\nM4 S800 F600\nG0 X20 Y30\nG1 X120\nG1 Y90\nM5\nM2\n',
});

const SHEET = 'sheet: { width: 200 mm, height: 100 mm, at: { x: 15 mm, y: 40 mm } }\n';

describe('where a job lies on the bed', () => {
  it.each([
    ['at the program’s own coordinates from the machine’s zero', `zero: machine\n${SHEET}`, [20, 30, 120, 90]],
    ['moved by where the sheet’s corner lies', `zero: sheet-corner\n${SHEET}`, [35, 70, 135, 130]],
    ['from a sheet in the machine’s corner where its place is not stated', 'zero: sheet-corner\n', [20, 30, 120, 90]],
  ])('is %s', (_, place, [minX, minY, maxX, maxY]) => {
    expect(factsOf(job(place)).onBed).toEqual({ minX, minY, maxX, maxY });
  });

  it.each([
    ['zero: set-by-hand\n', /set by hand/],
    ['', /`zero`/],
  ])('is not known, and why is said: %j', (place, why) => {
    const { onBed, onBedUnknown } = factsOf(job(place));
    expect(onBed).toBeNull();
    expect(onBedUnknown).toMatch(why);
  });

  it('has its far corner where mirrors that drift cost most: the farthest from the machine’s zero', () => {
    const box = { minX: 10, minY: 20, maxX: 60, maxY: 90 };
    expect(farCorner(box, { xMm: 5, yMm: 7 })).toEqual({ xMm: 65, yMm: 97 });
    expect(farCorner(box, { xMm: -100, yMm: 0 })).toEqual({ xMm: 90, yMm: 90 });
  });
});
