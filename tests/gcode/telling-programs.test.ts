// Which files without a telling name hold a program, which lines are for the controller alone, and which words stand in one line with others.
import { describe, expect, it } from 'vitest';
import { gcodeReader } from '../../src/gcode/reader.ts';
import { isRemark, readHostLine } from '../../src/gcode/text/host-lines.ts';
import { codes, read } from './reading.ts';

const bytes = (text: string) => new TextEncoder().encode(text);

describe('a file whose name says nothing', () => {
  const { tells } = gcodeReader.uncertain!;
  it.each([
    'G1 X10',
    'G01X.5',
    'g0 x-3',
    'G1 Y+4.',
    'N10 G2 X5 I2 ; a comment',
    '/G1 X1',
    'G1 X1*57',
    '(a sign)\nG1 Z5',
    'notes on a plot\rG3 X1 Y2',
  ])('holds a program: %j', (text) => {
    expect(tells(bytes(text))).toBe(true);
  });

  it.each([
    'plots: G1, G2',
    'G1',
    'X10',
    'G1 XA',
    'G12 X1',
    'G1 X1 !',
    '(G1 X10)',
    '; G1 X10',
    'G1 X10\0',
    '5G1X1',
    'G1 X1*',
  ])('holds none: %j', (text) => {
    expect(tells(bytes(text))).toBe(false);
  });

  it.each(['G21', 'N12 M3 S5', ' /G0 X1', 'a heading\nN 120 G 1 X2', 'm5'])('begins like a program: %j', (text) => {
    expect(gcodeReader.recognises(bytes(text))).toBe(true);
  });

  it.each(['N M3', 'GX1', '<svg/>', 'G21\0', 'X1 G1'])('does not begin like one: %j', (text) => {
    expect(gcodeReader.recognises(bytes(text))).toBe(false);
  });
});

describe('a line for the controller', () => {
  it.each([
    ['$30=1000', { kind: 'setting', number: 30, value: 1000 }],
    ['$32 = 1', { kind: 'setting', number: 32, value: 1 }],
    ['$110=6000.5', { kind: 'motion-limits' }],
    ['$1=25', { kind: 'passed-over' }],
    ['$31=0', { kind: 'passed-over' }],
    ['$31=1', { kind: 'unknown' }],
    ['$30=0', { kind: 'unknown' }],
    ['$32=2', { kind: 'unknown' }],
    ['$ab=3', { kind: 'unknown' }],
    ['$H', { kind: 'homes' }],
    ['%1000', { kind: 'passed-over' }],
    ['?', { kind: 'passed-over' }],
    ['@pause', { kind: 'unknown' }],
    ['G1 X1', null],
  ])('%s', (line, answer) => {
    expect(readHostLine(line)).toEqual(answer);
  });

  it.each(['# a remark', '#', '# 12 labels', '#12'])('%j is a remark', (line) => {
    expect(isRemark(line)).toBe(true);
  });

  it.each(['#12=5', '#<width>=3', '# 12 = 5', '#[1]=2', '##1=3'])('%j sets a parameter', (line) => {
    expect(isRemark(line)).toBe(false);
  });
});

// [NISTIR-6556], table 4: two codes of one modal group do not stand on one line. Coolant is left out: M7 and M8 may be on at once.
describe('two codes of one modal group on a line', () => {
  it.each([
    ['motion', ['G0', 'G1', 'G2', 'G3', 'G81', 'G82', 'G89']],
    ['plane', ['G17', 'G18', 'G19']],
    ['distance', ['G90', 'G91']],
    ['feed', ['G93', 'G94']],
    ['units', ['G20', 'G21']],
    ['compensation', ['G40', 'G41', 'G42']],
    ['tool length', ['G43', 'G49']],
    ['retract', ['G98', 'G99']],
    ['system', ['G54', 'G55', 'G59', 'G59.1', 'G59.3']],
    ['path', ['G61', 'G61.1', 'G64']],
    ['beam', ['M3', 'M4', 'M5']],
    ['stop', ['M0', 'M1', 'M2', 'M30', 'M60']],
  ])('%s: are a conflict, each with each', (_, group) => {
    for (const one of group)
      for (const other of group)
        if (one !== other)
          expect([one, other, codes(read(`${one} ${other}`))]).toEqual([
            one,
            other,
            expect.arrayContaining(['modal-conflict']),
          ]);
  });

  it('are none where they are of two groups', () => {
    expect(codes(read('G21 G90 G17 G54 G94 G40 G49 M3 S0 M8'))).not.toContain('modal-conflict');
  });
});

describe('what is told of a comment', () => {
  it('a parenthesis that closes none is told', () => {
    expect(read('F60 M3 S500\nG1 X1 ) Y2').problems.map(({ code }) => code)).toEqual(['unreadable-word']);
  });

  it('a remark behind a semicolon is its text without the sign', () => {
    expect(read('M3 S500 F60\nG1 X10 ; rim').strokes.count).toBe(1);
  });
});

describe('a beam switched through outputs', () => {
  it('an M106 without a number is full power, with one what it says, and M107 ends it', () => {
    const power = { word: 'M106' as const, full: 255 };
    const lines = 'F600\nM106\nG1 X1\nM106 S51\nX2\nM107\nX3';
    expect(Array.from(read(lines, { power }).strokes.setting)).toEqual([1, 0.2]);
  });

  it('a helix of two turns is twice as long as one of one', () => {
    const length = (turns: number) => read(`F600 M3 S500\nG2 X0 Y0 I5 P${turns}`).cutLengthMm;
    expect(length(1)).toBeCloseTo(2 * Math.PI * 5, 3);
    expect(length(2)).toBeCloseTo(2 * length(1), 3);
    expect(length(3)).toBeCloseTo(3 * length(1), 3);
  });

  it('M204 sets the acceleration, by P or by S', () => {
    const time = (word: string) => read(`F60000 ${word}\nM3 S500\nG1 X100`).time.totalS;
    expect(time('M204 P100')).toBeGreaterThan(1.5 * time('M204 P1000'));
    expect(time('M204 S100')).toBeCloseTo(time('M204 P100'), 9);
    expect(time('M204 P0')).toBe(time(''));
  });

  it('under G93 a move takes one over F minutes, from where the head stands', () => {
    const inverse = read('M3 S500\nG0 X100\nG93 G1 X110 F2');
    expect(inverse.strokes.speedMmPerS[0]).toBeCloseTo((10 * 2) / 60, 6);
  });

  it('problems of one line stand by their columns', () => {
    const places = read('G1 X1 H5.5.5 X--5 Y1,5').problems.map(({ place }) => [place.line, place.column]);
    expect(places).toEqual([...places].sort((a, b) => a[0]! - b[0]! || a[1]! - b[1]!));
    expect(places.length).toBeGreaterThan(1);
  });
});
