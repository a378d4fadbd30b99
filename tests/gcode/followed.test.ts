import { describe, expect, it } from 'vitest';
import { codes, OPTIONS, read } from './reading.ts';

/** What a program says beside plain moves: followed, passed over with a note, or the job is incomplete. Codes are from memory of common controllers. */

const what = (program: string, options = {}) =>
  read(program, options)
    .problems.filter(({ code }) => code === 'not-analysed')
    .map(({ args }) => `${args['what']} ${args['text']}`);

describe('codes that change speed and acceleration', () => {
  it('M220 takes a share of every feed from there on, under G93 too', () => {
    const { strokes, analysed } = read(
      'M3 S500 F600\nG1 X10\nM220 S50\nG1 X20\nF1200\nG1 X30\nG93\nG1 X40 F60\nM220 S100',
    );
    expect([...strokes.speedMmPerS]).toEqual([10, 5, 10, 5]);
    expect(analysed).toBe(true);
  });

  it.each([
    ['M220', true],
    ['M220 S100', true],
    ['M221', true],
    ['M221 S100', true],
    ['M220 S0', false],
    ['M220 B', false],
    ['M220 R', false],
    ['M221 S90', false],
  ])('%s leaves the job analysed: %s', (code, analysed) => {
    expect(read(`M3 S500 F600\n${code}\nG1 X10`).analysed).toBe(analysed);
  });

  it('M204 sets the acceleration, P ahead of S, and never above the machine’s', () => {
    const time = (code: string) => read(`M3 S500 F6000\n${code}\nG1 X10`).time.cuttingS;
    const slow = time('M204 S100');
    // From rest to rest over 10 mm: 2 √(L/a) at 100 mm/s², L/v + v/a at 100 in/s² and 100 mm/s, textbook.
    expect(slow).toBeCloseTo(2 * Math.sqrt(10 / 100), 9);
    expect(time('M204 P100 T3000')).toBe(slow);
    expect(time('G20\nM204 S100\nG21')).toBeCloseTo(10 / 100 + 100 / 2540, 9);
    expect(time('M204 S90000')).toBe(time('M400'));
    expect(read('M204 S100\nG1 X1 F1').analysed).toBe(true);
  });

  it.each(['M201 X500', 'M201 X3000 Y3000', 'M203 X50', 'M205 J0.02', '$110=500', '$120=50', '$11=0.01'])(
    '%s is a note on time',
    (line) => {
      const toolpath = read(`M3 S500 F600\n${line}\nG1 X10`);
      expect(toolpath.analysed).toBe(true);
      expect(toolpath.problems).toMatchObject([{ code: 'not-analysed', args: { what: 'motion-limits' } }]);
      expect(toolpath.cutLengthMm).toBe(10);
    },
  );
});

describe('what is not followed', () => {
  it.each([
    'M10',
    'M11',
    'M42 P3 S255',
    'M50 P0',
    'M51 P0',
    'M52 P1',
    'M53 P1',
    'M66 P0 L3',
    'M92 X100',
    'M106',
    'M106 S80',
    'M112',
    'M452',
    'M502',
    'M62 P1',
    'M65 P1',
    'M67 E0 Q50',
    'M68 E0 Q50',
    'G123',
    'M777',
    '$31=10',
    '$3=1',
    '$C',
    '$J=X10 F100',
    '@run',
    '{"sr":1}',
    '%wait',
  ])('%s leaves the job incomplete', (line) => {
    const toolpath = read(`M3 S500 F600\n${line}\nG1 X10`);
    expect(toolpath.analysed).toBe(false);
    expect(codes(toolpath)).toContain('not-analysed');
    expect(toolpath.problems.find(({ code }) => code === 'not-analysed')!.place.line).toBe(2);
  });

  it.each([
    'M106 S0',
    'M107',
    'M67 E0 Q0',
    'M0',
    'M1',
    'M6 T1',
    'M17',
    'M84',
    'M400',
    'M117 Layer 1',
    'G64',
    'G40',
    'G49',
  ])('%s does not', (line) => {
    const toolpath = read(`M3 S500 F600\n${line}\nG1 X10`);
    expect(toolpath.analysed).toBe(true);
    expect(codes(toolpath)).toEqual([]);
  });

  it('but codes that the profile calls harmless are taken as it says', () => {
    const harmless = new Set(['M42', 'G123', 'G43']);
    const program = 'M3 S500 F600\nM42 P3 S255\nG123\nG43 H1\nG1 X10';
    expect(what(program)).toEqual(['output M42', 'unknown-code G123', 'tool-length-offset G43']);
    const toolpath = read(program, { harmless });
    expect(toolpath).toMatchObject({ analysed: true, problems: [] });
    // The S of M42 is no power.
    expect([...toolpath.strokes.setting]).toEqual([0.5]);
    expect(what('M42 P3\nM10', { harmless })).toEqual(['unknown-code M10']);
  });

  it('and axis words beside such a G code are not guessed at', () => {
    expect(read('M3 S500 F600\nG123 X5\nG1 X10', { harmless: new Set(['G123']) }).analysed).toBe(false);
  });

  it('calls nothing harmless that is followed', () => {
    const harmless = new Set(['M3', 'M5', 'G1', 'G91', 'M98', 'G81']);
    const program = 'M3 S500 F600\nG1 X10\nM5\nG91\nG1 X10\nM98 P1';
    expect(read(program, { harmless })).toEqual(read(program));
  });
});

describe('lines for the controller or the sender', () => {
  it.each([
    '$$',
    '$I',
    '$G',
    '$H',
    '$X',
    '$#',
    '?',
    '$N',
    '$1=255',
    '$31=0',
    '%1000',
    '# cut the labels first',
    '# 2 mm off (not M3 S5)',
    '#',
  ])('%s is passed over', (line) => {
    const toolpath = read(`M3 S500 F600\n${line}\nG1 X10`);
    expect(toolpath.analysed).toBe(true);
    expect(toolpath.problems.every(({ args }) => args['what'] === 'passed-over')).toBe(true);
    expect(toolpath.cutLengthMm).toBe(10);
  });

  it('all of them are one problem with a count', () => {
    expect(read('$$\n$I\n# a\n?\nG1 X1 F1').problems).toMatchObject([
      { args: { what: 'passed-over', lines: 4 }, more: 3 },
    ]);
  });

  it.each(['#1=10', '# 1 = 10', '#<depth>=3', '#[1+1]=2', '##1=2'])('%s is a parameter and no remark', (line) => {
    expect(read(`M3 S500 F600\n${line}\nG1 X10`).analysed).toBe(false);
  });

  it('$30 is the number for full power from there on', () => {
    const toolpath = read('M3 S250 F600\nG1 X10\n$30=500\nG1 X20\nS500\nG1 X30');
    expect([...toolpath.strokes.setting]).toEqual([0.25, 0.5, 1]);
    expect(toolpath.problems).toMatchObject([
      { code: 'other-scale', place: { line: 3 }, args: { what: 'full', set: 500, text: '$30=500' } },
    ]);
    expect(read('$30=1000\nM3 S250 F600\nG1 X10').problems).toEqual([]);
  });

  it('$32 says whether M4 scales the power with the speed', () => {
    const scaled = (program: string, m4: 'constant' | 'scaled-with-speed') =>
      read(`${program}\nM4 S250 F600\nG1 X10`, { m4 });
    expect(scaled('$32=1', 'scaled-with-speed')).toMatchObject({ problems: [], analysed: true });
    expect(scaled('$32=0', 'constant').problems).toEqual([]);
    expect(scaled('$32=0', 'scaled-with-speed').problems).toMatchObject([
      { code: 'other-scale', args: { set: 'constant' } },
    ]);
    expect(scaled('$32=0', 'scaled-with-speed').strokes.flags).toEqual(scaled('', 'constant').strokes.flags);
    expect(scaled('$32=1', 'constant').strokes.flags).toEqual(scaled('', 'scaled-with-speed').strokes.flags);
  });
});

describe('block delete', () => {
  const program = (line: string) => `M3 S500 F600\nG1 X10\n${line}\nG1 X30`;

  it.each(['/G1 X20', '/X20', '/F300', '/S900', '/M5', '/M8', '/M2', '/G92 X0', '/ N5 G0 Y4'])(
    '%s is taken as running, and leaves the job incomplete',
    (line) => {
      const toolpath = read(program(line));
      expect(toolpath.analysed).toBe(false);
      expect(toolpath.problems).toContainEqual(
        expect.objectContaining({ args: expect.objectContaining({ what: 'block-delete' }) }),
      );
    },
  );

  it.each(['/M0', '/M1', '/(a remark)', '/', '/T2', '/M117 halfway'])('%s bears on nothing', (line) => {
    expect(read(program(line))).toMatchObject({ analysed: true, problems: [] });
  });

  it('runs where the profile says so, and is skipped where it says that', () => {
    const runs = read(program('/G1 X20 Y5'), { blockDelete: 'runs' });
    expect(runs).toMatchObject({ analysed: true, problems: [] });
    expect([...runs.strokes.endX]).toEqual([10, 20, 30]);
    const skipped = read(program('/G1 X20 Y5 #1'), { blockDelete: 'skipped' });
    expect(skipped).toMatchObject({ analysed: true, problems: [] });
    expect([...skipped.strokes.endX]).toEqual([10, 30]);
  });
});

describe('behind the end', () => {
  const behind = (program: string, options = {}) =>
    read(program, options)
      .problems.filter(({ code }) => code === 'after-end')
      .map(({ args, place }) => [args['by'], args['powered'], args['lines'], place.line]);

  it.each([
    ['nothing', 'M3 S500\nG1 X1 F60\nM5\nM2', []],
    ['a closing % is nothing', '%\nM3 S500\nG1 X1 F60\nM5\nM30\n%', []],
    ['a trailing % without an opening one is nothing', 'M3 S500\nG1 X1 F60\nM5\nM30\n%\n', []],
    ['words that move nothing are nothing', 'G1 X1 F60\nM2\nM5\nG92 X0\nS0\nG4 X2\nM9', []],
    ['motion', 'G1 X1 F60\nM2\nG0 X0 Y0', [['M2', 0, 1, 3]]],
    ['M2 switches the beam off', 'M3 S500\nG1 X1 F60\nM2\nG1 X5', [['M2', 0, 1, 4]]],
    ['with the beam on', 'M3 S500\nG1 X1 F60\nM30\nM3\nG1 X5\nX9', [['M30', 1, 2, 5]]],
    [
      'with the beam on, and before and after that without',
      'M3 S500\nG1 X1 F60\nM30\nX0\nM4 S9\nX5\nM5\nX9',
      [
        ['M30', 0, 2, 4],
        ['M30', 1, 1, 6],
      ],
    ],
    ['% leaves the beam as it was', '%\nM3 S500\nG1 X1 F60\n%\nG1 X5', [['%', 1, 1, 5]]],
    ['% after M5', '%\nM3 S500\nG1 X1 F60\nM5\n%\nG0 X0', [['%', 0, 1, 6]]],
    ['a % in the middle, with none ahead', 'M3 S500\nG1 X1 F60\n%\nG1 X5', [['%', 1, 1, 4]]],
    ['prose behind % is none', '%\nM3 S500\nG1 X1 F60\nM5\n%\nthis is prose\nO9 sub #1=2', []],
    ['two programs in one file', '%\nM3 S500\nG1 X1 F60\nM5\nM2\n%\n%\nM3 S500\nG1 X9\nM2\n%', [['M2', 1, 1, 9]]],
  ] as const)('%s', (_, program, expected) => {
    expect(behind(program)).toEqual(expected);
  });

  it('goes by the word that the profile says', () => {
    const fan = { power: { word: 'M106' as const, full: 255 } };
    expect(behind('M106 S9\nG1 X1 F60\nM2\nG1 X5', fan)).toEqual([['M2', 1, 1, 4]]);
    expect(behind('M106 S9\nG1 X1 F60\nM107\nM2\nG1 X5\nM3 S5\nX9', fan)).toEqual([['M2', 0, 2, 5]]);
    expect(behind('M2\nM106\nG1 X5 F1', fan)).toEqual([['M2', 1, 1, 3]]);
    const analog = { power: { word: 'analog' as const, full: 100 } };
    expect(behind('M67 E0 Q9\nG1 X1 F60\nM2\nG1 X5\nM68 E0 Q0\nX9', analog)).toEqual([
      ['M2', 1, 1, 4],
      ['M2', 0, 1, 6],
    ]);
  });

  it('is no part of the toolpath', () => {
    const program = '%\nM3 S500\nG1 X10 F60\nM5\n%\n';
    const more = read(`${program}M3 S900\nG1 X500 (far)\n`);
    expect(more).toMatchObject({
      cutLengthMm: 10,
      boundsMm: { maxX: 10 },
      highestSetting: { raw: 500 },
      analysed: true,
    });
  });
});

describe('words for a beam', () => {
  const words = (program: string, options = {}) =>
    read(program, options).beamWords.map(({ word, highest, place }) => [word, highest, place.line]);

  it.each([
    [
      'M3 S0\nG1 X1 F60',
      [
        ['M3', null, 1],
        ['S', 0, 1],
      ],
    ],
    ['M3\nG1 X1 F60', [['M3', null, 1]]],
    [
      'M4\nG1 X1 F60 S0\nX2 S5\nX3 S4',
      [
        ['M4', null, 1],
        ['S', 5, 2],
      ],
    ],
    ['M106 S255\nG1 X1 F60\nM106 S90', [['M106', 255, 1]]],
    [
      'M67 E0 Q70\nM62 P1',
      [
        ['M67', 70, 1],
        ['M62', null, 2],
      ],
    ],
    ['G1 X1 F60\nM5', []],
  ])('%j', (program, expected) => {
    expect(words(program).sort()).toEqual(expected.map((one) => [...one]).sort());
  });

  it('are told whatever the profile goes by', () => {
    const fan = { power: { word: 'M106' as const, full: 255 } };
    expect(words('M3 S900\nG1 X1 F60\nX2 S950', fan)).toEqual([
      ['M3', null, 1],
      ['S', 950, 1],
    ]);
    expect(OPTIONS.power.word).toBe('S');
  });
});

describe('what moves the work', () => {
  const offsets = (program: string) => {
    const { unfollowed, fromMachine } = read(`${program}\nG1 X10 F60`).offsets;
    const said = (one: typeof unfollowed) => (one === null ? null : `${one.word} ${one.place.line}`);
    return [said(unfollowed), said(fromMachine)];
  };

  it.each([
    ['G54', null, null],
    ['G0 X5 Y5\nG54\nG91', null, null],
    ['G55', 'G55 1', null],
    ['G10 L2 P2 X5 Y5\nG55', null, 'G10 1'],
    ['G10 L2 P1 X5', null, 'G10 1'],
    ['G10 L20 P1 X0 Y0', 'G10 1', null],
    ['G0 X5 Y5\nG10 L20 P1 X0 Y0', null, null],
    ['G92 X0 Y0', 'G92 1', null],
    ['G92 Z0', null, null],
    ['G0 X5 Y5\nG92 X0 Y0', null, null],
    ['G0 X5\nG92 X0 Y0', 'G92 2', null],
    ['G28\nG92 X0 Y0', null, 'G92 2'],
    ['$H\nG92 X0 Y0', null, 'G92 2'],
    ['G30\nG92 X0 Y0', 'G92 2', null],
    ['G92.1', null, null],
    ['G92.3', 'G92.3 1', null],
    ['G91\nG0 X5', 'G91 2', null],
    ['G91\nG0 Z5\nG90', null, null],
    ['G53 G0 X0 Y0', null, null],
    ['G53 G0 X0 Y0\nG91\nG0 X5', 'G91 3', null],
  ])('%j', (program, unfollowed, fromMachine) => {
    const [first, second] = offsets(program);
    expect(first).toBe(unfollowed);
    expect(second).toBe(fromMachine);
  });
});
