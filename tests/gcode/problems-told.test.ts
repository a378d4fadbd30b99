import { describe, expect, it } from 'vitest';
import { read } from './reading.ts';

/** What rules and messages are made of: code, arguments, and line and columns. */
const told = (program: string) =>
  read(program)
    .problems.filter(({ code }) => code !== 'empty')
    .map(({ code, args, place }) => [code, args, `${place.line}:${place.column}-${place.endColumn}`]);

type Told = [program: string, code: string, args: Record<string, string | number>, at: string];

describe('an arc that cannot be made tells', () => {
  it.each<Told>([
    ['F60\nG2 X10 Y0 R3', 'arc-radius-too-small', { radiusMm: 3, chordMm: 10 }, '2:11-13'],
    ['F60\nG2 X10 Y0', 'arc-no-centre', {}, '2:1-10'],
    ['F60\nG2 X10 Y0 I0 J0', 'arc-no-centre', {}, '2:1-16'],
    ['F60\nG2 X10 I20000000', 'number-out-of-range', { text: 'radius 20000000', limit: '10000000 mm' }, '2:1-17'],
    [
      'F60\nG2 X10 Y0 I4 J0',
      'arc-mismatch',
      { startRadiusMm: 4, endRadiusMm: 6, differenceMm: 2, toleranceMm: 0.05 },
      '2:1-16',
    ],
    ['F60\nG2 X10 I5 P0', 'number-out-of-range', { text: 'P0', limit: '100 turns' }, '2:11-13'],
    ['F60\nG2 X10 I5 P1.5', 'number-out-of-range', { text: 'P1.5', limit: '100 turns' }, '2:11-15'],
    ['F60\nG2 X10 I5 P101', 'number-out-of-range', { text: 'P101', limit: '100 turns' }, '2:11-15'],
  ])('%j', (program, ...problem) => {
    expect(told(program)).toEqual([problem]);
  });

  it('nothing where radii differ by no more than the tolerance, or turns by no more than a hundred', () => {
    expect(told('F60\nG2 X10 Y0 I5.02 J0')).toEqual([]);
    expect(told('F60\nG2 X10 I5 P100')).toEqual([]);
  });
});

describe('a number beyond all bounds tells', () => {
  it.each<Told>([
    ['G92 X2000000', 'number-out-of-range', { text: 'X2000000', limit: '1000000 mm' }, '1:5-13'],
    ['G10 L2 P1 Y-1500000', 'number-out-of-range', { text: 'Y-1500000', limit: '1000000 mm' }, '1:11-20'],
    ['G1 F60 X2000000', 'number-out-of-range', { text: 'X2000000 Y0 Z0', limit: '1000000 mm' }, '1:1-16'],
    ['G4 P90000', 'number-out-of-range', { text: 'P90000', limit: '86400 s' }, '1:1-10'],
    [`X${'1'.repeat(70)}`, 'number-out-of-range', { text: `X${'1'.repeat(59)}…`, limit: '64 digits' }, '1:1-72'],
  ])('%j', (program, ...problem) => {
    expect(told(program)).toEqual([problem]);
  });
});

describe('what is not analysed tells what it is', () => {
  const notAnalysed = (what: string, text: string, lines = 1) => ({ what, text, lines });
  it.each<[string, string, string, number, string]>([
    ['F60\nG5 X1 Y1 I1 J1', 'spline', 'G5', 1, '2:1-3'],
    ['G123', 'unknown-code', 'G123', 1, '1:1-5'],
    ['G38.2 Z-1', 'unknown-code', 'G38.2', 1, '1:1-6'],
    ['M123', 'unknown-code', 'M123', 1, '1:1-5'],
    ['G10 L3 P1', 'unknown-code', 'G10', 1, '1:1-10'],
    ['F60\nG1 X1 A90', 'extra-axis', 'A', 1, '2:7-10'],
    ['F60\nG1 X1 C2 B3', 'extra-axis', 'B', 1, '2:10-12'],
    ['M98 P5', 'subprogram', 'M98', 1, '1:1-4'],
    ['M99', 'subprogram', 'M99', 1, '1:1-4'],
    ['M62 P1', 'output', 'M62', 1, '1:1-4'],
    ['G41.1 D1', 'cutter-compensation', 'G41.1', 1, '1:1-6'],
    ['G42', 'cutter-compensation', 'G42', 1, '1:1-4'],
    ['G43 H1', 'tool-length-offset', 'G43', 1, '1:1-4'],
    ['$H', 'passed-over', '$H', 1, '1:1-3'],
    ['$3=1', 'setting', '$3=1', 1, '1:1-5'],
    ['# cut twice', 'passed-over', '# cut twice', 1, '1:1-12'],
    ['  @pause', 'setting', '@pause', 1, '1:3-9'],
    ['O100 sub', 'o-word', 'O100 sub', 1, '1:1-9'],
    ['#1=2', 'parameter', '#1=2', 1, '1:1-5'],
    ['X[#1]', 'expression', 'X[#1]', 1, '1:1-6'],
    ['X#2', 'parameter', 'X#2', 1, '1:1-4'],
  ])('%j', (program, what, text, lines, at) => {
    expect(told(program)).toEqual([['not-analysed', notAnalysed(what, text, lines), at]]);
  });

  it('with the lines of a cycle that goes on counted, and where it leaves the head taken over', () => {
    const program = 'M3 S1 F60\nG81 X1 Y2 Z-1 R1\nX5 Y6\nX7 Y8\nG80\nG1 X9';
    const problems = read(program).problems.filter((one) => one.code === 'not-analysed');
    expect(problems).toMatchObject([{ args: { what: 'canned-cycle', text: 'G81', lines: 3 }, place: { line: 2 } }]);
    const { strokes } = read(program);
    expect([strokes.startX[0], strokes.startY[0], strokes.endX[0]]).toEqual([7, 8, 9]);
  });
});

describe('a program for another kind of machine tells by what', () => {
  it.each<[string, string, string, string]>([
    ['G1 X5 F60 E3\nG1 X6 E5', 'extruder', '2 E words (filament)', '1:11-13'],
    ['M104 S200', 'extruder', 'M104 (heaters or filament)', '1:1-5'],
    ['M83', 'extruder', 'M83 (heaters or filament)', '1:1-4'],
    ['S12000 M3\nG1 Z-1 F60\nX1', 'mill', 'a spindle at S12000 and a depth of 1 mm', '1:8-10'],
    ['S12000 M3\nM5\nG1 Z1 F60\nZ0\nZ1', 'mill', 'a spindle at S12000 and a Z that goes up and down', '1:8-10'],
    [
      'M3 S900\nG0 Z5\nG1 Z-2 F60\nX9\nG0 Z5\nX20\nG1 Z-3\nX29\nG0 Z5',
      'mill',
      'S above 0 in 2 plunges down to Z-3',
      '1:1-3',
    ],
    [
      'T1 M6\nG43 H1\nM3 S900\nG0 Z5\nG1 Z-2 F60\nX9',
      'mill',
      'S above 0 in 1 plunges down to Z-2, with tool changes and tool lengths',
      '3:1-3',
    ],
    ['M52 P1\nM3 S1\nG1 X1 F60', 'plasma', 'M52 (adaptive feed of a torch height control)', '1:1-4'],
    ['M280 P0 S30\nG1 X1 F60', 'plotter', 'M280 (a pen lift) and no beam', '1:1-5'],
    ['M300 S30\nG1 X1 F60', 'plotter', 'M300 (a pen lift) and no beam', '1:1-5'],
    [
      'F60\nG1 Z-1\nX1\nZ1\nX2\nZ-1',
      'plotter',
      'a Z that goes up and down and nothing that switches a beam on',
      '2:1-3',
    ],
  ])('%j', (program, kind, evidence, at) => {
    expect(told(program).filter(([code]) => code === 'wrong-kind')).toEqual([['wrong-kind', { kind, evidence }, at]]);
  });

  it.each([73, 76, 81, 82, 83, 84, 85, 86, 87, 88, 89])('by the canned cycle G%i', (cycle) => {
    const evidence = `G${cycle} (a canned cycle)`;
    expect(told(`F60\nG${cycle} X1 Z-1 R1\nG80`)).toContainEqual(['wrong-kind', { kind: 'drill', evidence }, '2:1-4']);
  });

  it.each([
    ['one E word is no filament', 'G1 X5 F60 E3'],
    ['E of an analog output is none either', 'M67 E0 Q1\nM67 E0 Q2\nM68 E1 Q3'],
    ['twice full power is no spindle yet', 'T1 M6\nS2000 M3\nG1 X1 F60'],
    ['a tool change, and air by M8', 'T1 M6\nM8\nM4 S800\nG1 X5 F600\nM9\nM5'],
    ['a tool change and an S above full without a depth', 'T1 M6\nS12000 M3\nG1 X1 F60'],
    [
      'a focus lowered along a line, again and again',
      'M4 S190\nG0 Z4\nG1 X100 Z-4 F3300\nG0 Z4\nG1 X0 Z-4\nG0 Z4\nG1 X100 Z-4',
    ],
    ['one plunge by itself', 'M3 S900\nG0 Z5\nG1 Z-2 F60\nX9\nG0 Z5'],
    ['a focus lowered from pass to pass', 'M4 S800 F600\nG0 Z0\nG1 X9\nG1 Z-1\nX0\nG0 X20 Z0\nG1 X29\nG1 Z-1\nX20'],
    ['a spindle without a tool that goes up and down', 'S12000 M3\nG1 X1 F60'],
    ['M52 alone', 'M52 P1\nM4 S1\nG1 X1 F60'],
    ['two turns of Z', 'F60\nG1 Z-1\nX1\nZ1\nX2'],
    ['Z that goes up and down under the beam', 'M3 S10 F60\nG1 Z-1\nX1\nZ1\nX2\nZ-1\nX3\nZ1'],
    ['a pen lift in a program with a beam', 'M300 S30\nM4 S10\nG1 X1 F60'],
  ])('nothing: %s', (_, program) => {
    expect(told(program).filter(([code]) => code === 'wrong-kind')).toEqual([]);
  });
});

describe('a word that cannot be read tells why', () => {
  it.each<[string, string, string, string]>([
    ['(open', '(open', 'the comment is not closed', '1:1-6'],
    ['M5 )', ')', 'a closing parenthesis without a comment', '1:4-5'],
    ['(a (b) c)', '(a (b) c)', 'a comment inside a comment', '1:1-10'],
    ['5 X1', '5', 'no letter before it', '1:1-2'],
    ['G1 X', 'X', 'no number after the letter', '1:4-5'],
    ['X1e5', 'e5', 'an exponent, which G-code does not have', '1:3-5'],
    ['X1 X2', 'X2', 'the letter stands twice', '1:4-6'],
    ['X1.2.3', 'X1.2.3', 'not a decimal number', '1:1-7'],
    ['G1 N5', 'N5', 'a line number that is not the first word', '1:4-6'],
    ['N10 N20 X1', 'N20', 'a line number that is not the first word', '1:5-8'],
    ['M5 S 1 0', 'S 1 0', 'blanks inside the number, read as 10', '1:4-9'],
    ['M5 S 1  0 0', 'S 1  0 0', 'blanks inside the number, read as 100', '1:4-12'],
    [Array.from({ length: 17 }, (_, i) => `G${i + 1}`).join(''), 'G17', 'too many codes on one line', '1:40-43'],
  ])('%j', (program, text, reason, at) => {
    expect(told(program)).toEqual([['unreadable-word', { text, reason }, at]]);
  });

  it.each<Told>([
    ['M5\u0001', 'binary', { byte: 1 }, '1:3-4'],
    ['N1 G1*99', 'checksum', { text: 'N1 G1*99' }, '1:6-9'],
  ])('%j', (program, ...problem) => {
    expect(told(program)).toEqual([problem]);
  });

  // The exclusive-or of the bytes "N1 G21": 0x4e ^ 0x31 ^ 0x20 ^ 0x47 ^ 0x32 ^ 0x31 = 0x1b = 27.
  it('nothing where a checksum is right', () => {
    expect(told('N1 G21*27')).toEqual([]);
    expect(read('N1 G21*27').units).toBe('mm');
  });
});

describe('the frame', () => {
  it('names every code that moved it or left it', () => {
    expect(read('G53 G0 X5').offsets).toMatchObject({ used: ['G53'], place: { line: 1, column: 1 } });
    expect(read('G92 X1\nG92.1\nG28').offsets.used).toEqual(['G92', 'G92.1', 'G28']);
  });

  it('of an axis goes home alone where that one is named', () => {
    const { travels } = read('G0 X50 Y40 Z7\nG28 Z\nG0 X1\nG28 X');
    expect(Array.from(travels.xy)).toEqual([0, 0, 50, 40, 50, 40, 50, 40, 50, 40, 1, 40, 1, 40, 0, 40]);
    const { strokes } = read('G0 X50 Y40 Z7\nG28 Y\nM3 S1 F60\nG1 X1');
    expect([strokes.startX[0], strokes.startY[0], strokes.startZ[0]]).toEqual([50, 0, 7]);
  });
});

describe('an arc outside the XY plane', () => {
  // A quarter turn of radius 10 in the ZX plane that rises by 6 along Y: the rise goes with the angle.
  it('rises along its axis in step with its turn', () => {
    const { strokes } = read('M3 S1 F60\nG18 G3 X10 Y6 Z-10 I0 K-10');
    expect(strokes.count).toBeGreaterThan(10);
    for (let i = 0; i < strokes.count; i++) {
      const [x, y, z] = [strokes.endX[i]!, strokes.endY[i]!, strokes.endZ[i]!];
      expect(Math.hypot(x, z + 10)).toBeCloseTo(10, 6);
      expect(y).toBeCloseTo((6 * Math.atan2(x, z + 10)) / (Math.PI / 2), 6);
    }
  });
});
