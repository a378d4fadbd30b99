// Fine points of programs that the larger tests pass by: each stands for a change of the code that once went unnoticed (docs/testing.md).
import { describe, expect, it } from 'vitest';
import { readToolpath } from '../../src/gcode/read.ts';
import { gcodeReader } from '../../src/gcode/reader.ts';
import { readHostLine } from '../../src/gcode/text/host-lines.ts';
import type { Toolpath } from '../../src/model/toolpath.ts';
import { byteSource } from './bytes.ts';
import { codes, ends, OPTIONS, read } from './reading.ts';

const bytes = (text: string) => new TextEncoder().encode(text);
const problem = (toolpath: Toolpath, code: string) => toolpath.problems.find((one) => one.code === code);
const LIT = 'G21 G90 M3 S500 F600';

describe('an arc by its radius', () => {
  // From (0,0) to (10,0) with a radius of √50 the centre is (5, ±5): the short arc bulges by √50 − 5, the long one by √50 + 5 (plane geometry).
  const bulge = Math.sqrt(50) - 5;
  const long = Math.sqrt(50) + 5;
  it.each([
    ['G2 X10 Y0 R7.0710678', 0, bulge],
    ['G3 X10 Y0 R7.0710678', -bulge, 0],
    ['G2 X10 Y0 R-7.0710678', 0, long],
    ['G3 X10 Y0 R-7.0710678', -long, 0],
  ])('%s turns on the right side', (line, low, high) => {
    const { boundsMm } = read([LIT, 'G0 X0 Y0', line]);
    expect(boundsMm!.minY).toBeCloseTo(low, 4);
    expect(boundsMm!.maxY).toBeCloseTo(high, 4);
  });

  it.each([
    ['G2 X100 Y60 R7.0710678', -bulge, 0],
    ['G3 X100 Y60 R7.0710678', 0, bulge],
    ['G2 X100 Y60 R-7.0710678', -long, 0],
    ['G3 X100 Y60 R-7.0710678', 0, long],
  ])('%s, upwards and far from the zero, as well', (line, left, right) => {
    const { boundsMm } = read([LIT, 'G0 X100 Y50', line]);
    expect(boundsMm!.minX - 100).toBeCloseTo(left, 4);
    expect(boundsMm!.maxX - 100).toBeCloseTo(right, 4);
  });
});

describe('an arc by its centre', () => {
  it('has the start’s coordinate where an absolute centre leaves one out', () => {
    const whole = read([LIT, 'G90.1', 'G0 X20 Y0', 'G2 X20 Y0 J5']);
    expect(whole.boundsMm).toMatchObject({
      minX: expect.closeTo(15, 4),
      maxX: expect.closeTo(25, 4),
      maxY: expect.closeTo(10, 4),
    });
  });

  it('in the ZX plane goes by K and I, either alone', () => {
    const byK = read([LIT, 'G18', 'G0 X0 Y0 Z0', 'G2 X0 Z10 K5']);
    const byI = read([LIT, 'G18', 'G0 X0 Y0 Z0', 'G2 X10 Z0 I5']);
    expect(codes(byK)).not.toContain('arc-no-centre');
    expect(codes(byI)).not.toContain('arc-no-centre');
    expect(byK.boundsMm!.maxX - byK.boundsMm!.minX).toBeCloseTo(5, 1);
    expect(byI.boundsMm!.maxZ - byI.boundsMm!.minZ).toBeCloseTo(5, 1);
  });

  it('may say that it turns once', () => {
    const once = read([LIT, 'G0 X0 Y0', 'G2 X10 Y0 I5 P1']);
    expect(codes(once)).not.toContain('number-out-of-range');
    expect(once.cutLengthMm).toBeCloseTo(Math.PI * 5, 3);
  });
});

describe('feeds by inverse time', () => {
  it('hold for arcs by their length', () => {
    const arc = read([LIT, 'G93', 'G0 X0 Y0', 'G2 X10 Y0 I5 F2']);
    expect(arc.highestSpeed!.mmPerS).toBeCloseTo((Math.PI * 5 * 2) / 60, 4);
  });

  it('of 0 are told as such, one that is left out as missing', () => {
    expect(codes(read([LIT, 'G93', 'G1 X10 F0']))).toContain('zero-feed');
    expect(codes(read([LIT, 'G93', 'G1 X10']))).toContain('missing-feed');
  });
});

describe('what is beyond all bounds', () => {
  it.each(['X-2e6', 'Y2e6', 'Y-2e6', 'Z2e6', 'Z-2e6', 'X-2e6 S400'].map((word) => word.replace('2e6', '2000000')))(
    '%s is told and not followed',
    (word) => {
      const far = read([LIT, `G1 ${word}`]);
      expect(codes(far)).toContain('number-out-of-range');
      expect(far.analysed).toBe(false);
    },
  );
});

describe('the words for a beam', () => {
  const words = (toolpath: Toolpath) => toolpath.beamWords.map(({ word, highest }) => [word, highest]);

  it('are listed with the highest number that they give', () => {
    const fan = read(['G21 G90 F600', 'M106 S100', 'M106 S200', 'M106 S50', 'M106', 'G1 X5']);
    expect(words(fan)).toEqual([['M106', 200]]);
  });

  it('have a number from the first line that gives one', () => {
    expect(words(read(['M106', 'M106 S80', 'G1 X5 F600']))).toEqual([['M106', 80]]);
  });

  it('are pins and analog outputs too', () => {
    expect(words(read(['M62 P0', 'M64 P1', 'M67 E0 Q5', 'M68 E0 Q7', 'G1 X5 F600']))).toEqual([
      ['M62', null],
      ['M64', null],
      ['M67', 5],
      ['M68', 7],
    ]);
  });

  it('are no seconds of a dwell, where the beam goes by another word', () => {
    const byFan = { power: { word: 'M106' as const, full: 255 } };
    expect(words(read(['G4 S2', 'G1 X5 F600'], byFan))).toEqual([]);
    expect(words(read(['S200', 'G1 X5 F600'], byFan))).toEqual([['S', 200]]);
  });
});

describe('the highest setting', () => {
  it('is that of the whole program, not the last one', () => {
    const falling = read(['G21 G90 M3 S800 F600', 'G1 X5', 'G1 X10 S300', 'G1 X20 S100']);
    expect(falling.highestSetting).toMatchObject({ raw: 800 });
  });

  it('is none where the beam is never given power', () => {
    expect(read(['M3 S0', 'G1 X10 F600']).highestSetting).toBeNull();
  });

  it('of a fan’s word stands at the number, and at the word where it has none', () => {
    const byFan = { power: { word: 'M106' as const, full: 255 } };
    expect(read(['G21', '  M106 S200', 'G1 X5 F600'], byFan).highestSetting!.place).toMatchObject({
      line: 2,
      column: 8,
      endColumn: 12,
    });
    expect(read(['G21', '  M106', 'G1 X5 F600'], byFan).highestSetting!.place).toMatchObject({
      line: 2,
      column: 3,
      endColumn: 7,
    });
  });
});

describe('air', () => {
  const dwellS = (...lines: string[]) => read([LIT, 'G1 X10', ...lines, 'G1 X20']).time.dwellS;

  it('costs its delay once, whichever way it is switched on', () => {
    expect(dwellS('M8')).toBeCloseTo(OPTIONS.airDelayS, 6);
    expect(dwellS('M7')).toBeCloseTo(OPTIONS.airDelayS, 6);
    expect(dwellS('M7', 'M8')).toBeCloseTo(OPTIONS.airDelayS, 6);
    expect(dwellS('M8', 'M9', 'M8')).toBeCloseTo(2 * OPTIONS.airDelayS, 6);
  });

  it('is switched off by a word that is known', () => {
    expect(codes(read([LIT, 'M8', 'G1 X10', 'M9', 'G1 X20', 'M5', 'M2']))).toEqual([]);
  });
});

describe('behind the end of the program', () => {
  it('what sets a frame moves nothing', () => {
    expect(codes(read([LIT, 'G1 X5', 'M5', 'M2', 'G92 X0', 'G10 L2 P1 X0']))).not.toContain('after-end');
    expect(codes(read([LIT, 'G1 X5', 'M5', 'M2', 'G1 X0']))).toContain('after-end');
    expect(codes(read([LIT, 'G1 X5', 'M5', 'M2', 'S100']))).not.toContain('after-end');
  });
});

describe('programs for other machines', () => {
  const kind = (...lines: string[]) => problem(read(['G21 G90 F600', ...lines]), 'wrong-kind')?.args['kind'];
  const plunge = ['G0 Z5', 'G1 Z-2', 'G1 X5'];

  it('a mill plunges again and again, with its spindle on', () => {
    expect(kind('M3 S900', ...plunge, ...plunge)).toBe('mill');
    expect(kind('M3 S900', ...plunge)).toBeUndefined();
    expect(kind('M3 S0', ...plunge, ...plunge)).toBeUndefined();
    expect(kind('M4 S900', ...plunge, ...plunge)).toBe('mill');
  });

  it('one plunge is enough beside tool changes and tool lengths, and not beside either alone', () => {
    expect(kind('M6 T1', 'G43 H1', 'M3 S900', ...plunge)).toBe('mill');
    expect(kind('M6 T1', 'M3 S900', ...plunge)).toBeUndefined();
    expect(kind('G43 H1', 'M3 S900', ...plunge)).toBeUndefined();
  });

  it('the depth that is told is the deepest', () => {
    const deep = read(['G21 G90 F600', 'M3 S900', 'G0 Z5', 'G1 Z-3', 'G0 Z5', 'G1 Z-1']);
    expect(problem(deep, 'wrong-kind')!.args['evidence']).toContain('Z-3');
  });

  it('a height of 0 is the face, and no depth', () => {
    expect(kind('M3 S900', 'G0 Z5', 'G1 Z0', 'G1 X5', 'G0 Z5', 'G1 Z0', 'G1 X9')).toBeUndefined();
  });

  it('a slope is no plunge: a focus may be lowered along a line', () => {
    const slope = ['G0 Z5', 'G1 X40 Z-2', 'G1 X0'];
    expect(kind('M3 S900', ...slope, ...slope)).toBeUndefined();
  });

  it.each(['G73', 'G81', 'G83', 'G89'])('%s is a drill’s', (cycle) => {
    expect(kind('M3 S900', `${cycle} X5 Z-2 R1`)).toBe('drill');
  });

  it.each(['M104 S200', 'M109 S200', 'M140 S60', 'M190 S60', 'M82', 'M83'])('%s is an extruder’s', (line) => {
    expect(kind(line, 'G1 X5')).toBe('extruder');
  });

  it('E words are filament, but for those of analog outputs', () => {
    expect(kind('G1 X5 E1', 'G1 X9 E2')).toBe('extruder');
    expect(kind('M67 E0 Q5', 'G1 X5', 'M67 E0 Q0', 'M68 E0 Q1')).toBeUndefined();
  });

  it('a pen has no beam', () => {
    const up = ['G0 Z5', 'G1 Z0', 'G1 X5'];
    expect(kind(...up, ...up, ...up)).toBe('plotter');
    expect(kind('M106 S100', ...up, ...up, ...up)).toBeUndefined();
    expect(kind('M300 S30', 'G1 X5')).toBe('plotter');
    expect(kind('M3 S500', 'M300 S30', 'G1 X5')).toBeUndefined();
  });
});

describe('frames', () => {
  it('G30 goes to a place that is not known, G28 to the machine’s zero', () => {
    const moved = (word: string) => read([LIT, `${word}`, 'G91', 'G1 X5 Y5']).offsets.unfollowed?.word;
    expect(moved('G30')).toBe('G91');
    expect(moved('G28')).toBeUndefined();
  });

  it('G92.3 without a G92 before it takes up what another program left', () => {
    expect(read([LIT, 'G92.3', 'G1 X5']).offsets.unfollowed?.word).toBe('G92.3');
    expect(read([LIT, 'G1 X1 Y1', 'G92 X0 Y0', 'G92.1', 'G92.3', 'G1 X5']).offsets.unfollowed).toBeNull();
  });

  it('G10 L2 counts from the machine’s zero where it sets X or Y, and not for Z alone', () => {
    expect(read([LIT, 'G10 L2 P1 X5', 'G1 X5']).offsets.fromMachine?.word).toBe('G10');
    expect(read([LIT, 'G10 L2 P1 Y5', 'G1 X5']).offsets.fromMachine?.word).toBe('G10');
    expect(read([LIT, 'G10 L2 P1 Z5', 'G1 X5']).offsets.fromMachine).toBeNull();
    expect(read([LIT, 'G1 X1 Y1', 'G10 L20 P1 X0 Y0', 'G1 X5']).offsets.fromMachine).toBeNull();
  });

  it('Z in inches is 25.4 times as high', () => {
    expect(read(['G20 G90 M3 S500 F30', 'G1 X1 Z1']).boundsMm!.maxZ).toBeCloseTo(25.4, 6);
    expect(read(['G20 G91 M3 S500 F30', 'G1 X1 Z1', 'G1 Z1']).boundsMm!.maxZ).toBeCloseTo(50.8, 6);
  });

  it('one line along X is found in a shifted frame as well as a line along Y', () => {
    const shifted = read([LIT, 'G1 X10 Y10', 'G92 X0 Y0', 'G1 X5', 'G1 Y5']);
    expect(ends(shifted).slice(-2)).toEqual([
      [15, 10],
      [15, 15],
    ]);
  });
});

describe('how lines are told apart', () => {
  const source = (...chunks: string[]) => byteSource('test.gcode', chunks.map(bytes));
  const lines = (...chunks: string[]) => readToolpath(source(...chunks), OPTIONS).lines;

  it.each([
    [['G1 X1\r\nG1 X2\r\n'], 2],
    [['G1 X1\r', '\nG1 X2\r\n'], 2],
    [['G1 X1\rG1 X2\r'], 2],
    [['G1 X1\n', '\nG1 X2'], 3],
    [['G1 ', 'X1\r', '\n', 'G1 X2'], 2],
    [['', 'G1 X1', '', '\nG1 X2\n'], 2],
    [['\uFEFFG1 X1\nG1 X2'], 2],
  ])('%j: %d lines', (chunks, count) => {
    expect(lines(...chunks)).toBe(count);
  });

  it('drops the mark of UTF-8 at the start of a file, and nowhere else', () => {
    expect(codes(readToolpath(source('\uFEFFG21\nG1 X5 F60\n'), OPTIONS))).not.toContain('unreadable-word');
    expect(codes(readToolpath(byteSource('t', [bytes('G21\n'), bytes('\uFEFFG1 X5 F60\n')]), OPTIONS))).toEqual([]);
    expect(codes(readToolpath(byteSource('t', [Uint8Array.from([0xef, 0xbb, 0x47, 0x31])]), OPTIONS))).not.toEqual([]);
  });
});

describe('settings of the controller', () => {
  it.each([
    ['$30=255.', { kind: 'setting', number: 30, value: 255 }],
    ['$30  =  255', { kind: 'setting', number: 30, value: 255 }],
    ['$30=\t255', { kind: 'setting', number: 30, value: 255 }],
    ['$$X', { kind: 'unknown' }],
    ['$#1', { kind: 'unknown' }],
    ['$G', { kind: 'passed-over' }],
    ['$x', { kind: 'passed-over' }],
    ['$Ho', { kind: 'unknown' }],
    ['$1000=1', { kind: 'unknown' }],
  ])('%s', (line, answer) => {
    expect(readHostLine(line)).toEqual(answer);
  });
});

describe('a file that may be a program', () => {
  const { tells } = gcodeReader.uncertain!;
  it.each(['G1 X+5', 'G1X5Y-3', 'G1 X5.', 'G1 X.5', 'G0X0Y0S0'])('%s is one', (line) => {
    expect(tells(bytes(line))).toBe(true);
  });
  it.each(['G1 X=5', 'G1 Xa', 'äG1 X5', '1G1 X5', 'G1 X5 Ö3'])('%s is none', (line) => {
    expect(tells(bytes(line))).toBe(false);
  });
  it.each(['N\t20\tG1', 'N100G0', 'N5 M 3', '\t/ G21'])('%j begins one', (text) => {
    expect(gcodeReader.recognises(bytes(text))).toBe(true);
  });
  it.each(['see G21', 'x N5 G1', 'word M3'])('%j does not', (text) => {
    expect(gcodeReader.recognises(bytes(text))).toBe(false);
  });
  it('is text as it stands, and may hold both kinds of comments', () => {
    expect(gcodeReader.asUtf8(bytes('a') as never)).toEqual(bytes('a'));
    expect(gcodeReader.comments.map(({ opens }) => opens)).toEqual(['(', ';']);
    expect(gcodeReader.extensions).toContain('.g');
  });
});

describe('odd lines', () => {
  it.each(['N 10 O 100', 'O100', 'N10O5', 'o7'])('%s names the program and does nothing', (line) => {
    expect(codes(read([line, LIT, 'G1 X5']))).toEqual([]);
  });

  it.each(['N10 O100 call', 'O100 sub', 'O<mark> if [1]'])('%s is flow, and is not followed', (line) => {
    const { problems, analysed } = read([line, LIT, 'G1 X5']);
    expect(problems[0]).toMatchObject({ code: 'not-analysed', args: { what: 'o-word' } });
    expect(analysed).toBe(false);
  });

  it.each(['N 5 M117 S100 F1', 'M 117 S100', 'm117 X5 [#3]'])('%s shows a text, and sets nothing', (line) => {
    const said = read(['G21 G90 M3 S500 F600', line, 'G1 X5']);
    expect(codes(said)).toEqual([]);
    expect(said.highestSetting).toMatchObject({ raw: 500 });
  });

  it('a checksum may have a blank ahead and behind, and is held against the line', () => {
    const sum = [...'G1 X5 '].reduce((all, letter) => all ^ letter.charCodeAt(0), 0);
    expect(codes(read([LIT, `G1 X5 * ${sum} `]))).toEqual([]);
    expect(codes(read([LIT, 'G1 X9', `G1 X5 *${sum + 1}`]))).toEqual(['checksum']);
  });

  it('block delete is carried out and told, or skipped where the machine is known to', () => {
    const text = [LIT, 'G1 X5', '/G1 X50', 'G1 X10'];
    expect(problem(read(text), 'not-analysed')?.args['what']).toBe('block-delete');
    expect(codes(read(text, { blockDelete: 'runs' }))).toEqual([]);
    expect(read(text, { blockDelete: 'runs' }).boundsMm!.maxX).toBe(50);
    expect(codes(read(text, { blockDelete: 'skipped' }))).toEqual([]);
    expect(read(text, { blockDelete: 'skipped' }).boundsMm!.maxX).toBe(10);
  });

  it('lines of one kind are counted, each line once', () => {
    const twice = read([LIT, '#1=5', '#2=[#1+1]', 'G1 X5']);
    expect(problem(twice, 'not-analysed')?.args['lines']).toBe(2);
  });
});

describe('words of one group', () => {
  it.each([
    ['G49 G43', 'tool length'],
    ['G98 G99', 'retract'],
    ['G61 G64', 'path'],
    ['G93 G94', 'feed mode'],
    ['G90.1 G91.1', 'centres'],
    ['M0 M1', 'stop'],
    ['M2 M30', 'stop'],
  ])('%s contradict each other (%s)', (line) => {
    expect(codes(read([LIT, 'G1 X5', line]))).toContain('modal-conflict');
  });
});
