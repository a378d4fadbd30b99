import { describe, expect, it } from 'vitest';
import { codes, ends, read } from './reading.ts';

describe('the motion mode', () => {
  it('stays in force until another is given', () => {
    const { strokes, moves } = read(['M3 S500 F600', 'G1 X10', 'Y10', 'G0 X0', 'Y0', 'G1 X5']);
    expect(moves).toBe(5);
    expect(Array.from(strokes.line)).toEqual([2, 3, 6]);
  });

  it('holds for words that stand before the code on the line', () => {
    expect(ends(read('M3 S500\nF100 X10 G1 Y5'))).toEqual([[10, 5]]);
  });

  it('stays, though G80 of a preamble stands on its line', () => {
    const toolpath = read('G00G21G17G90G40G49G80\nX5\nM3 S1 F60\nG1 X6');
    expect(codes(toolpath)).toEqual([]);
    expect(ends(toolpath)).toEqual([[6, 0]]);
  });
});

describe('units and distance mode', () => {
  it('inches become millimetres, coordinates, feed and centres alike', () => {
    const { strokes, units } = read('G20 M3 S500 F60\nG1 X1\nG2 X2 I0.5');
    expect(units).toBe('inch');
    expect(strokes.endX[0]).toBeCloseTo(25.4, 12);
    expect(strokes.speedMmPerS[0]).toBeCloseTo(25.4, 12);
    expect(strokes.centreX[1]).toBeCloseTo(38.1, 12);
  });

  it('a change after motion is a problem with its place', () => {
    const toolpath = read('G21 F100\nG1 X1\nG90 G20\nX1');
    expect(toolpath.problems).toEqual([
      {
        code: 'units-changed',
        place: { line: 3, column: 5, endLine: 3, endColumn: 8 },
        args: { from: 'mm', to: 'inch', how: 'after-motion', first: 'G21', second: 'G20' },
      },
    ]);
    expect(toolpath.boundsMm!.maxX).toBeCloseTo(25.4);
  });

  it('the change back is a problem with its own place', () => {
    const { problems } = read('G21 F100\nG1 X1\nG20\nX1\nG21\nX1\nG20');
    expect(problems).toMatchObject([
      { place: { line: 3 }, args: { from: 'mm', to: 'inch' }, more: 1 },
      { place: { line: 5 }, args: { from: 'inch', to: 'mm' } },
    ]);
  });

  it.each([
    ['G20\nG71\nG1 X3.5 F10', 'mixed', 'G20', 'G71'],
    ['G71\nG20\nG1 X3.5 F10', 'mixed', 'G71', 'G20'],
    ['G20\nG1 X1 F10\nG71\nX3.5', 'mixed', 'G20', 'G71'],
    ['G21\nG20\nG1 X3.5 F10', 'ahead', 'G21', 'G20'],
    ['G70\nG71\nG1 X3.5 F10', 'ahead', 'G70', 'G71'],
  ])('two statements that contradict each other are a problem: %j', (program, how, first, second) => {
    expect(read(program).problems).toMatchObject([{ code: 'units-changed', args: { how, first, second } }]);
  });

  it.each(['G20\nG1 X1 F1', 'G21\nG71\nG1 X1 F1', 'G20\nG70\nG1 X1 F1', 'G21\nG21\nG1 X1 F1'])(
    'one unit, however often it is stated, is none: %j',
    (program) => {
      expect(codes(read(program))).toEqual([]);
    },
  );

  it('says when none was stated', () => {
    expect(read('G1 X1 F1').units).toBe('none-stated');
  });

  it('incremental moves add up, and the code holds on its own line', () => {
    expect(ends(read('M3 S500 F100 G1\nG91 X10\nX10 Y5\nG90 X1'))).toEqual([
      [10, 0],
      [20, 5],
      [1, 5],
    ]);
  });
});

describe('coordinate systems', () => {
  const beam = 'M3 S500 F100 G1';

  it('G10 L2 sets the origin of one, G54 to G59.3 choose it', () => {
    const toolpath = read(['G10 L2 P2 X100 Y50', beam, 'X1', 'G55 X1 Y1', 'G54 X2 Y0']);
    expect(ends(toolpath)).toEqual([
      [1, 0],
      [101, 51],
      [2, 0],
    ]);
    expect(toolpath.offsets.used).toEqual(['G10', 'G55']);
    expect(toolpath.offsets.place).toMatchObject({ line: 1 });
  });

  it('G10 L20 gives the point where the head is the stated coordinates', () => {
    expect(ends(read([beam, 'X10', 'G10 L20 P1 X0', 'X5']))).toEqual([
      [10, 0],
      [15, 0],
    ]);
  });

  it('G53 holds for its own line alone', () => {
    expect(ends(read(['G10 L2 P1 X100', beam, 'G53 X1', 'X1']))).toEqual([
      [1, 0],
      [101, 0],
    ]);
  });

  it('G92.2 puts the shift aside, G92.3 brings it back, G92.1 ends it', () => {
    expect(ends(read([beam, 'G92 X100', 'X101', 'G92.2 X5', 'G92.3 X105', 'G92.1 X3']))).toEqual([
      [1, 0],
      [5, 0],
      [3, 0],
    ]);
  });

  it('the way home is no part of the extent', () => {
    expect(read('G0 X50 Y50\nX60\nG28').boundsMm).toMatchObject({ minX: 50, maxX: 60, minY: 50, maxY: 50 });
  });

  it('G28 goes home by way of the point, and only with the axes named', () => {
    const toolpath = read(['G0 X50 Y50', 'G91 G28 X10', 'G90 G28 Y Z']);
    expect(toolpath.offsets.used).toEqual(['G28']);
    expect(Array.from(toolpath.travels.xy)).toEqual([0, 0, 50, 50, 50, 50, 60, 50, 60, 50, 0, 50, 0, 50, 0, 0]);
  });
});

describe('feed', () => {
  it('is in force until changed, in mm/min', () => {
    expect(Array.from(read('M3 S1\nG1 F600 X1\nX2\nF1200 X3').strokes.speedMmPerS)).toEqual([10, 10, 20]);
  });

  it('in inverse time belongs to one move: F2 is half a minute', () => {
    const toolpath = read('G93 M3 S1\nG1 X60 F2\nX90\nG94 X91\nF60 X92');
    expect(toolpath.strokes.speedMmPerS[0]).toBeCloseTo(2, 12);
    expect(toolpath.strokes.speedMmPerS[1]).toBeNaN();
    expect(toolpath.strokes.speedMmPerS[2]).toBeNaN();
    expect(toolpath.strokes.speedMmPerS[3]).toBe(1);
    expect(toolpath.problems.map((p) => [p.code, p.place.line])).toEqual([
      ['missing-feed', 3],
      ['missing-feed', 4],
    ]);
  });

  it('that is missing, zero or negative is a problem; the first place stands and the others are counted', () => {
    const missing = read('M3 S1\nG1 X1\nX2\nX3');
    expect(missing.problems).toMatchObject([{ code: 'missing-feed', more: 2, place: { line: 2 } }]);
    expect(read('G1 X1 F0').problems).toMatchObject([{ code: 'zero-feed', args: { feed: 0 }, place: { column: 7 } }]);
    expect(read('G1 X1 F-5').problems).toMatchObject([{ code: 'zero-feed', args: { feed: -5 } }]);
  });
});

describe('dwells', () => {
  it('know their length, place, and what the beam does', () => {
    const toolpath = read('M3 S250 F60\nG1 X10\nG4 P0.5\nM5\nG4 P2');
    expect(toolpath.dwells.items).toEqual([
      {
        place: { line: 3, column: 1, endLine: 3, endColumn: 8 },
        seconds: 0.5,
        pause: false,
        setting: 0.25,
        beam: { mode: 'on', word: 'M3' },
        x: 10,
        y: 0,
      },
      {
        place: { line: 5, column: 1, endLine: 5, endColumn: 6 },
        seconds: 2,
        pause: false,
        setting: 0,
        beam: { mode: 'off', word: 'off' },
        x: 10,
        y: 0,
      },
    ]);
    expect(toolpath.time.dwellS).toBe(2.5);
  });

  it('by S take it for seconds and not for power', () => {
    const toolpath = read('M3 S250\nG4 S2');
    expect(toolpath.dwells.items).toMatchObject([{ seconds: 2, setting: 0.25 }]);
    expect(toolpath.highestSetting!.raw).toBe(250);
  });

  it('M0 waits for a person', () => {
    expect(read('M4 S100\nM0').dwells.items).toMatchObject([
      { pause: true, seconds: 0, beam: { mode: 'on-in-motion', word: 'M4' }, setting: 0.1 },
    ]);
  });
});

describe('codes that exclude each other', () => {
  it.each([
    ['G1 G2 X1 I1', 'G1', 'G2', 'motion'],
    ['G17 G18', 'G17', 'G18', 'plane'],
    ['G90 G91 G1 X1', 'G90', 'G91', 'distance mode'],
    ['G20 G21', 'G20', 'G21', 'units'],
    ['M3 M5', 'M3', 'M5', 'beam'],
    ['G1 G92 X1', 'G92', 'G1', 'codes that use the axis words'],
    ['G54 G55', 'G54', 'G55', 'work coordinate system'],
  ])('%s', (line, first, second, group) => {
    const conflicts = read(`F100\n${line}`).problems.filter((p) => p.code === 'modal-conflict');
    expect(conflicts).toHaveLength(1);
    expect(new Set([conflicts[0]!.args['first'], conflicts[0]!.args['second']])).toEqual(new Set([first, second]));
    expect(conflicts[0]!.args['group']).toBe(group);
    expect(conflicts[0]!.more).toBeUndefined();
  });

  it('do not include codes that have nothing to do with each other', () => {
    expect(codes(read('M104 S0 M140\nG1 X1 F1')).filter((code) => code === 'modal-conflict')).toEqual([]);
    expect(codes(read('M7 M8\nG40 G49 G4 P1'))).toEqual(['empty']);
  });

  it('do not include the same code twice, or G80 beside a motion', () => {
    expect(codes(read('G1 G1 X1 F1'))).toEqual([]);
    expect(codes(read('G0 G80 G40 G49 G90 G17 G21 G64 X1'))).toEqual([]);
  });
});

describe('what is not analysed', () => {
  it('cycles: with their extent, and the verdict is open', () => {
    const toolpath = read('F100\nG81 X1 Y1 Z-1 R1\nX2\nX3\nG80\nG0 X0');
    expect(toolpath.analysed).toBe(false);
    expect(toolpath.problems).toMatchObject([
      { code: 'not-analysed', place: { line: 2, column: 1 }, args: { what: 'canned-cycle', text: 'G81', lines: 3 } },
      { code: 'wrong-kind', args: { kind: 'drill' } },
    ]);
  });

  it('cutter compensation and tool length: reported, not applied, and the path is taken as written', () => {
    const toolpath = read('M3 S1 F100\nG41 G43 H1\nG1 X1');
    expect(toolpath.analysed).toBe(false);
    expect(toolpath.problems.map((p) => p.args['what'])).toEqual(['cutter-compensation', 'tool-length-offset']);
    expect(ends(toolpath)).toEqual([[1, 0]]);
  });

  it.each([
    ['G5 X1 Y1 I1 J1', 'spline'],
    ['G38.2 Z-1', 'unknown-code'],
    ['G123', 'unknown-code'],
    ['G1 X1 A90', 'extra-axis'],
    ['M98 P5', 'subprogram'],
    ['M62 P1', 'output'],
    ['G10 L2 P1 R45', 'unknown-code'],
  ])('%s is a %s', (line, what) => {
    const toolpath = read(`F100\n${line}`);
    expect(toolpath.analysed).toBe(false);
    expect(toolpath.problems.find((p) => p.code === 'not-analysed')!.args['what']).toBe(what);
  });

  it('the second percent sign ends the program', () => {
    expect(read('%\nG1 X1 F1\n%\nthis is prose\nG1 X500').boundsMm!.maxX).toBe(1);
    expect(read('%\nG1 X1 F1\n%\nthis is prose').analysed).toBe(true);
  });
});

describe('the end of the program', () => {
  it('is M2 or M30; motion behind it is counted and not carried out', () => {
    const toolpath = read('M3 S1 F1\nG1 X1\nM2\nX5\nX6');
    expect(toolpath.end).toMatchObject({ stated: true, beam: { word: 'M3' }, setting: 0.001, place: { line: 3 } });
    expect(toolpath.boundsMm!.maxX).toBe(1);
    expect(toolpath.problems).toMatchObject([
      { code: 'after-end', more: 1, args: { by: 'M2', powered: 0, lines: 2 }, place: { line: 4 } },
    ]);
  });

  it('without either, tells what is left on', () => {
    expect(read('M4 S300\nG1 X1 F1').end).toMatchObject({ stated: false, beam: { word: 'M4' }, setting: 0.3 });
  });
});

describe('labels', () => {
  const comments = (program: string[]) => {
    const { strokes, labels } = read(program);
    return Array.from(strokes.label, (i) => labels[i]!.comment);
  };

  it('come from comments on lines of their own, and from the line of the stroke itself', () => {
    const program = [
      'G21 G90',
      'M4 S500 F600',
      '(rim)',
      'G1 X10',
      'G4 P1 (let the smoke clear)',
      'G1 X20',
      'G1 X30 ; last side',
      'G1 X40',
    ];
    expect(comments(program)).toEqual(['rim', 'rim', 'last side', 'rim']);
  });

  it('do not come from comments that are addressed to this program', () => {
    const program = ['M4 S500 F600', '(rim)', '; kerflint-waive cut/marginal: proved on coupon 12', 'G1 X10'];
    expect(comments(program)).toEqual(['rim']);
  });

  it('are the comment above and the tool', () => {
    const toolpath = read('M3 S1 F100\n(outline)\nG1 X1\nX2\n; sign\nT2\nX3 (this line alone)\nX4');
    const labels = Array.from(toolpath.strokes.label, (i) => toolpath.labels[i]!);
    expect(labels.map((l) => [l.comment, l.tool])).toEqual([
      ['outline', null],
      ['outline', null],
      ['this line alone', 2],
      ['sign', 2],
    ]);
    expect(toolpath.timeByLabelS).toHaveLength(toolpath.labels.length);
  });
});

describe('the kind of program', () => {
  it.each([
    ['extruder', 'M104 S200\nG1 X1 E1 F100'],
    ['drill', 'G83 Z-1 Q1 R1 F10'],
    ['mill', 'T1 M6\nS12000 M3\nG1 Z-2 F100\nG1 X1'],
    ['plasma', 'M52 P1\nM3 S1\nG1 X1 F100'],
    ['plotter', 'M300 S30\nG1 X1 F100\nM300 S50'],
    ['plotter', 'F100\nG1 Z-1\nX1\nZ1\nX2\nZ-1\nX3'],
  ])('%s', (kind, program) => {
    expect(
      read(program)
        .problems.filter((p) => p.code === 'wrong-kind')
        .map((p) => p.args['kind']),
    ).toEqual([kind]);
  });

  it('is no question for an ordinary laser program', () => {
    expect(codes(read('G21 G90\nM4 S0\nG0 X1 Y1 Z0\nM8\nG1 X5 S800 F600\nG0 Z-2\nG1 X1\nM9\nM5\nM2'))).toEqual([]);
  });

  it('is judged from the codes seen, each with its count and first place', () => {
    const kinds = (program: string) => read(program).problems.filter((p) => p.code === 'wrong-kind');
    expect(kinds('G1 X1 F1\nM104 S1\nG1 X2 E1')).toMatchObject([
      { place: { line: 2, column: 1, endLine: 2, endColumn: 5 }, args: { evidence: 'M104 (heaters or filament)' } },
    ]);
    expect(kinds('G1 X1 F1\nG1 X2 E1\nG1 X3 E2')).toMatchObject([
      { place: { line: 2, column: 7 }, args: { evidence: '2 E words (filament)' } },
    ]);
    expect(kinds('G1 X1 F1\nG1 X2 E1')).toEqual([]);
  });

  it('air counts as switched once M7 or M8 is in the program', () => {
    expect(['M7', 'M8', 'M9'].map((code) => read(`${code}\nG1 X1 F1`).switchesAir)).toEqual([true, true, false]);
  });
});
