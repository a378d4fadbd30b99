import { describe, expect, it } from 'vitest';
import { farCorner, placeNotFollowed, placeOnBed } from '../../src/facts/match/on-bed.ts';
import { type Files, factsOf, shed } from '../memory-shop.ts';
import { OUTLINE } from './outline.ts';

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

describe('a code that moves the work by an amount that the program does not tell', () => {
  const { input, toolpath, artwork } = factsOf(job('zero: sheet-corner\n'));
  const word = (name: string, line: number) => ({
    word: name,
    place: { line, column: 1, endLine: line, endColumn: 4 },
  });
  const placed = (zero: 'machine' | 'sheet-corner', unfollowed: number | null, fromMachine: number | null) =>
    placeOnBed(
      { ...input.sidecar!, zero },
      {
        ...toolpath!,
        offsets: {
          ...toolpath!.offsets,
          unfollowed: unfollowed === null ? null : word('G92', unfollowed),
          fromMachine: fromMachine === null ? null : word('G53', fromMachine),
        },
      },
      artwork,
    );

  it('is told where it stands first', () => {
    const first = (...where: Parameters<typeof placed>) => placed(...where).unfollowed?.word ?? null;
    expect([first('sheet-corner', null, null), first('machine', null, null)]).toEqual([null, null]);
    expect([first('sheet-corner', 3, 5), first('sheet-corner', 5, 3)]).toEqual(['G92', 'G53']);
    expect([first('sheet-corner', 4, null), first('sheet-corner', null, 4)]).toEqual(['G92', 'G53']);
    // On one line the one that counts from the machine's zero is told.
    expect(first('sheet-corner', 4, 4)).toBe('G53');
    // Where X0 Y0 is the machine's zero, what counts from there can be followed.
    expect([first('machine', 5, 3), first('machine', null, 3)]).toEqual(['G92', null]);
  });

  it('leaves the place open, and says what to do', () => {
    const open = placed('machine', 4, null);
    const unknown = 'G92 on line 4 moves the work by an amount that the program does not tell';
    expect(open).toMatchObject({ box: null, shift: null, unknown });
    expect(placeNotFollowed(open)).toEqual([
      {
        fact: 'toolpath',
        what: 'whether the job stays on the sheet and on the bed',
        missing: `where the job lies is not known: ${unknown}`,
        remedy: 'Take it out, or state `zero: set-by-hand` in the sidecar: then only sizes are compared.',
      },
    ]);
    expect(placeNotFollowed(placed('machine', null, null))).toEqual([]);
  });
});

describe('artwork alone', () => {
  const drawn = (place: string): Files => ({
    ...shed(),
    'part.job.yaml': `kerflint: 1\nmachine: shed-60w\nlens: 2in\nmaterial: birch-plywood\nthickness: 3 mm\nartwork: part.svg\n${place}`,
    'part.svg': OUTLINE,
  });

  it('lies where its sheet does, whatever zero will be', () => {
    // The outline goes from 10 to 30 mm across and 20 to 35 mm down.
    const { minX, minY, maxX, maxY } = factsOf(drawn('zero: sheet-corner\n')).onBed!;
    expect(maxX - minX).toBeCloseTo(20, 9);
    expect(maxY - minY).toBeCloseTo(15, 9);
    for (const zero of ['machine', 'sheet-corner']) {
      expect(factsOf(drawn(`zero: ${zero}\n${SHEET}`)).onBed).toEqual({
        minX: minX + 15,
        minY: minY + 40,
        maxX: maxX + 15,
        maxY: maxY + 40,
      });
    }
  });

  it('lies nowhere where nothing is drawn', () => {
    const empty = { ...drawn('zero: machine\n'), 'part.svg': OUTLINE.replace(/<path.*\/>/, '') };
    expect(factsOf(empty)).toMatchObject({ onBed: null, onBedUnknown: 'nothing moves' });
  });
});
