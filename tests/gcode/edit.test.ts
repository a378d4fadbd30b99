// What the editor of programs writes, word for word, and what it refuses. Expected lines are worked out by hand from what is in force.
import { describe, expect, it } from 'vitest';
import { GcodeEditor } from '../../src/gcode/edit/editor.ts';
import type { Edited } from '../../src/model/editing.ts';
import type { ToolpathOptions } from '../../src/model/reader.ts';
import { textSource } from '../../src/source/source.ts';
import { OPTIONS } from './reading.ts';

/** The program as it is after a change, or why it is not made, and for which line. */
function changed(
  program: readonly string[],
  change: (editor: GcodeEditor) => Edited,
  options: Partial<ToolpathOptions> & { ending?: string; open?: boolean } = {},
): readonly string[] | string {
  const { ending = '\n', open = false, ...machine } = options;
  const text = program.join(ending) + (open ? '' : ending);
  const edited = change(new GcodeEditor(textSource('tray.gcode', text), { ...OPTIONS, ...machine }));
  if ('refused' in edited) return `${edited.refused} (line ${edited.line})`;
  const bytes = Buffer.from(text);
  const parts: Buffer[] = [];
  let at = 0;
  for (const { offset, old, new: put } of edited.edits) {
    // What is said to be replaced is what stands there.
    expect(bytes.subarray(offset, offset + old.length).equals(old)).toBe(true);
    parts.push(bytes.subarray(at, offset), Buffer.from(put));
    at = offset + old.length;
  }
  const made = Buffer.concat([...parts, bytes.subarray(at)]).toString();
  return (made.endsWith(ending) ? made.slice(0, -ending.length) : made).split(ending);
}

const HEAD = ['G21 G90', 'M8', 'G0 X10 Y10', 'M4 S800'];
const SQUARE = ['G1 X30 Y10 F540', 'X30 Y30', 'X10 Y30', 'X10 Y10'];
const TAIL = ['M5', 'M9', 'G0 X0 Y0', 'M2'];
const SPAN = { first: 5, last: 8 };
const settings =
  (change: { speedMmPerS?: number; setting?: number; times?: number; span?: typeof SPAN }) => (editor: GcodeEditor) =>
    editor.withSettings([{ span: SPAN, speedMmPerS: null, setting: null, times: 1, ...change }]);

describe('other settings', () => {
  it('change the words that are there, put in those that are not, and put back what was', () => {
    const more = ['G1 X50 Y10', 'X50 Y30'];
    expect(changed([...HEAD, ...SQUARE, ...more, ...TAIL], settings({ speedMmPerS: 4.5, setting: 0.65 }))).toEqual([
      ...HEAD,
      'S650',
      ...['G1 X30 Y10 F270', 'X30 Y30', 'X10 Y30', 'X10 Y10'],
      'F540 S800',
      ...more,
      ...TAIL,
    ]);
  });

  it('put nothing back where the next line states its own, or the program ends', () => {
    const own = ['G1 X50 Y10 F300 S500'];
    expect(changed([...HEAD, ...SQUARE, ...own, ...TAIL], settings({ speedMmPerS: 4.5, setting: 0.65 }))).toEqual([
      ...HEAD,
      'S650',
      ...['G1 X30 Y10 F270', 'X30 Y30', 'X10 Y30', 'X10 Y10'],
      ...own,
      ...TAIL,
    ]);
    for (const end of [['(done)', '', 'M2'], []])
      expect(changed([...HEAD, ...SQUARE, ...end], settings({ speedMmPerS: 4.5 }))).toEqual([
        ...HEAD,
        'G1 X30 Y10 F270',
        ...SQUARE.slice(1),
        ...end,
      ]);
  });

  it('look past comments and empty lines for what comes next', () => {
    const gap = ['(next)', '', 'G1 X50 Y10', 'M2'];
    expect(changed([...HEAD, ...SQUARE, ...gap], settings({ speedMmPerS: 4.5 }))).toEqual([
      ...HEAD,
      'G1 X30 Y10 F270',
      ...SQUARE.slice(1),
      'F540',
      ...gap,
    ]);
  });

  it('round the feed down to a tenth of a mm/min and a thousandth of an inch, and the power to a step', () => {
    // 3.339 mm/s are 200.34 mm/min, and 7.88740… in/min.
    const [first] = changed([...HEAD, ...SQUARE, ...TAIL], settings({ speedMmPerS: 3.339 })).slice(4, 5);
    expect(first).toBe('G1 X30 Y10 F200.3');
    const inches = ['G20 G90', 'M8', 'G0 X1 Y1', 'M4 S800', 'G1 X2 Y1 F20', 'X2 Y2', 'X1 Y2', 'X1 Y1', ...TAIL];
    expect(changed(inches, settings({ speedMmPerS: 3.339 })).slice(4, 5)).toEqual(['G1 X2 Y1 F7.887']);
    const small = ['G21 G90', 'M8', 'G0 X10 Y10', 'M4 S0.8', ...SQUARE, 'M5', 'M2'];
    expect(changed(small, settings({ setting: 0.654321 }), { power: { word: 'S', full: 1 } }).slice(4, 6)).toEqual([
      'S0.654',
      SQUARE[0],
    ]);
    expect(changed([...HEAD, ...SQUARE, ...TAIL], settings({ setting: 0.6549 })).slice(4, 5)).toEqual(['S655']);
    const hundred = ['G21 G90', 'M8', 'G0 X10 Y10', 'M4 S80', ...SQUARE, 'M5', 'M2'];
    expect(changed(hundred, settings({ setting: 0.654 }), { power: { word: 'S', full: 100 } }).slice(4, 5)).toEqual([
      'S65',
    ]);
  });

  it('change only words with the number that was in force, and none of a line that waits', () => {
    const square = ['G1 X30 Y10 F540 S800', 'X30 Y30 S0', 'X10 Y30 S800', 'G4 P0.1', 'X10 Y10 F900', 'X12 F540'];
    expect(
      changed(
        [...HEAD, ...square, ...TAIL],
        settings({ setting: 0.5, speedMmPerS: 6, span: { first: 5, last: 10 } }),
      ).slice(4, 10),
    ).toEqual(['G1 X30 Y10 F360 S500', 'X30 Y30 S0', 'X10 Y30 S500', 'G4 P0.1', 'X10 Y10 F900', 'X12 F360']);
  });

  it('run a closed path again as it is then, with the motion said where it is not, and no number twice', () => {
    const numbered = ['N5 G1 X30 Y10 F540', 'N6 X30 Y30', 'N7 X10 Y30', 'N8 X10 Y10'];
    expect(changed([...HEAD, ...numbered, ...TAIL], settings({ speedMmPerS: 9.5, times: 3 })).slice(4, 16)).toEqual([
      ...['N5 G1 X30 Y10 F570', 'N6 X30 Y30', 'N7 X10 Y30', 'N8 X10 Y10'],
      ...['G1 X30 Y10 F570', 'X30 Y30', 'X10 Y30', 'X10 Y10'],
      ...['G1 X30 Y10 F570', 'X30 Y30', 'X10 Y30', 'X10 Y10'],
    ]);
    const ring = [...HEAD, 'G1 F540', 'X10 Y10', 'G3 X10 Y10 I10 J0', ...TAIL];
    expect(changed(ring, settings({ times: 2, span: { first: 7, last: 7 } })).slice(6, 8)).toEqual([
      'G3 X10 Y10 I10 J0',
      'G3 X10 Y10 I10 J0',
    ]);
    const silent = [...HEAD, 'G3 F540', 'X10 Y10 I10 J0', ...TAIL];
    expect(changed(silent, settings({ times: 2, span: { first: 6, last: 6 } })).slice(5, 7)).toEqual([
      'X10 Y10 I10 J0',
      'X10 Y10 I10 J0',
    ]);
  });

  it.each<[string, string[], string]>([
    ['an optional line', ['/X30 Y30'], 'a line of it is more than plain words (line 6)'],
    ['a change of the zero', ['G92 X0'], 'a line of it does more than cut (line 6)'],
    ['a change of the unit', ['G20 X1'], 'the unit changes amid it (line 5)'],
  ])('are refused where there is %s amid it', (_, amid, why) => {
    const square = [SQUARE[0]!, ...amid, ...SQUARE.slice(2)];
    expect(changed([...HEAD, ...square, ...TAIL], settings({ speedMmPerS: 4.5 }), { blockDelete: 'runs' })).toBe(why);
  });

  it('are refused where the feed is not F alone', () => {
    for (const mode of ['G93', 'M220 S50'])
      expect(changed(['G21 G90', 'M8', mode, 'M4 S800', ...SQUARE, ...TAIL], settings({ speedMmPerS: 4.5 }))).toBe(
        'its feed is not counted by F alone (G93 or M220) (line 5)',
      );
  });

  it.each([
    ['the beam is switched', ['X30 Y30', 'M3'], 'beam or air is switched amid it (line 5)'],
    ['the air is switched', ['X30 Y30', 'M9'], 'beam or air is switched amid it (line 5)'],
    ['the power changes', ['X30 Y30 S700'], 'power or feed changes amid it (line 5)'],
    ['the feed changes', ['X30 Y30 F600'], 'power or feed changes amid it (line 5)'],
  ])('are not run again where %s amid it', (_, amid, why) => {
    const square = [SQUARE[0]!, ...amid, ...SQUARE.slice(2)];
    const span = { first: 5, last: 4 + square.length };
    expect(changed([...HEAD, ...square, ...TAIL], settings({ times: 2, span }))).toBe(why);
  });
});

describe('a beam that is off while the head stands', () => {
  const off =
    (...lines: number[]) =>
    (editor: GcodeEditor) =>
      editor.beamOffWhileStanding(lines);

  it('comes back ahead of the first line that does more than wait, and not at the end', () => {
    expect(changed([...HEAD, 'G4 P1', ...SQUARE, ...TAIL], off(5)).slice(3, 8)).toEqual([
      'M4 S800',
      'M5',
      'G4 P1',
      'M4 S800',
      SQUARE[0],
    ]);
    for (const end of [['M2'], []])
      expect(changed([...HEAD, 'M0', ...end], off(5))).toEqual([...HEAD, 'M5', 'M0', ...end]);
  });

  it('is written once for those that follow each other, over comments and switches of the air', () => {
    const amid = ['(smoke)', '', 'M9'];
    expect(changed([...HEAD, 'G4 P1', ...amid, 'G4 P2', ...SQUARE, ...TAIL], off(5, 9)).slice(4, 12)).toEqual([
      ...['M5', 'G4 P1', ...amid, 'G4 P2', 'M4 S800', SQUARE[0]],
    ]);
    expect(changed([...HEAD, 'G4 P1', 'M7 M8', 'S700', ...SQUARE, ...TAIL], off(5)).slice(4, 9)).toEqual([
      ...['M5', 'G4 P1', 'M7 M8', 'M4 S800', 'S700'],
    ]);
  });

  it('is refused where a line does more, or nothing is on', () => {
    expect(changed([...HEAD, 'G4 P1 F300', ...TAIL], off(5))).toBe('its line does more than wait (line 5)');
    expect(changed([...HEAD, 'G4 G1 P1', ...TAIL], off(5))).toMatch(/^its line .* \(line 5\)$/);
    expect(changed([...HEAD, 'M0 X10', ...TAIL], off(5))).toMatch(/^its line .* \(line 5\)$/);
    expect(changed(['G21 G90', 'M5', 'G4 P1', ...TAIL], off(3))).toBe(
      'the beam is not switched on by M3 or M4 ahead of it (line 3)',
    );
    expect(changed([...HEAD, 'G4 P1', ...TAIL], off(5), { power: { word: 'analog', full: 100 } })).toBe(
      'the machine’s profile sets the power by an analog output, and only M3, M4, M5 and S are written (line 5)',
    );
  });

  it('keeps line ends, and an open end', () => {
    const windows = { ending: '\r\n', open: true };
    expect(changed([...HEAD, 'G4 P1', ...SQUARE], off(5), windows)).toEqual([
      ...HEAD,
      'M5',
      'G4 P1',
      'M4 S800',
      ...SQUARE,
    ]);
  });
});

describe('air', () => {
  const air =
    (...spans: (typeof SPAN)[]) =>
    (editor: GcodeEditor) =>
      editor.withAir(spans, { on: 'M8', off: 'M9' });
  const dry = ['G21 G90', '', 'G0 X10 Y10', 'M4 S800'];

  it('comes on while the beam is off, and goes off ahead of the first move behind', () => {
    expect(changed([...dry, ...SQUARE, 'M5', '', 'G0 X0 Y0', 'M2'], air(SPAN))).toEqual([
      ...['G21 G90', '', 'G0 X10 Y10', 'M8', 'M4 S800', ...SQUARE, 'M5', '', 'M9', 'G0 X0 Y0', 'M2'],
    ]);
  });

  it('is not put at the end of a file, which may have been cut off there', () => {
    expect(changed([...dry, ...SQUARE, 'M5'], air(SPAN))).toEqual([
      ...['G21 G90', '', 'G0 X10 Y10', 'M8', 'M4 S800', ...SQUARE, 'M5'],
    ]);
  });

  it('is refused where it is switched amid or right behind, or where the beam burns ahead', () => {
    const amid = [SQUARE[0]!, 'M8', ...SQUARE.slice(1)];
    expect(changed([...dry, ...amid, ...TAIL], air({ first: 5, last: 9 }))).toBe(
      'the air is switched amid it (line 7)',
    );
    expect(changed([...dry, ...SQUARE, 'M8', 'X20', ...TAIL], air(SPAN))).toBe(
      'the air is switched right behind it (line 10)',
    );
    const ahead = ['G21 G90', 'G0 X10 Y10', 'M4 S800', 'G1 X20 F900'];
    expect(changed([...ahead, ...SQUARE, ...TAIL], air(SPAN))).toMatch(/^the beam is on .* \(line 5\)$/);
  });
});

describe('paths that are taken out', () => {
  const without =
    (...spans: (typeof SPAN)[]) =>
    (editor: GcodeEditor) =>
      editor.withoutPaths(spans);
  const again = ['M3 S700', ...SQUARE.map((line) => line.replace('F540', 'F480'))];

  it('take what is switched for them along, and leave behind what is in force there', () => {
    expect(changed([...HEAD, ...SQUARE, ...again, 'X40 Y10', ...TAIL], without({ first: 10, last: 13 }))).toEqual([
      ...HEAD,
      ...SQUARE,
      ...['F480', 'M3 S700', 'X40 Y10'],
      ...TAIL,
    ]);
    expect(
      changed([...HEAD, ...SQUARE, 'M9', ...again, 'M8', 'G0 X40', ...TAIL], without({ first: 11, last: 14 })),
    ).toEqual([...HEAD, ...SQUARE, ...['M8', 'F480', 'M3 S700', 'G0 X40'], ...TAIL]);
  });

  it('leave nothing at the end of a file', () => {
    expect(changed([...HEAD, ...SQUARE, ...again], without({ first: 10, last: 13 }))).toEqual([...HEAD, ...SQUARE]);
  });

  it('are refused where they do not end where they begin, or an arc goes on behind them', () => {
    const short = ['G1 X30 Y10 F540', 'X30 Y30', 'X10 Y30', 'X10 Y10.001'];
    expect(changed([...HEAD, ...SQUARE, ...short, ...TAIL], without({ first: 9, last: 12 }))).toMatch(
      /\(line (9|12)\)$/,
    );
    const arcs = [...HEAD, ...SQUARE, 'G3 X10 Y10 I10 J0', 'X10 Y10 I5 J0', ...TAIL];
    expect(changed(arcs, without({ first: 9, last: 9 }))).toBe(
      'the line behind it goes on with an arc that it does not name (line 9)',
    );
  });
});

describe('paths that follow each other', () => {
  const again = ['M3 S700', ...SQUARE.map((line) => line.replace('F540', 'F480'))];
  const third = ['M4 S650', ...SQUARE];
  const both = (editor: GcodeEditor) =>
    editor.withoutPaths([
      { first: 10, last: 13 },
      { first: 15, last: 18 },
    ]);

  it('are taken out as one', () => {
    expect(changed([...HEAD, ...SQUARE, ...again, ...third, 'X40 Y10', ...TAIL], both)).toEqual([
      ...HEAD,
      ...SQUARE,
      ...['M4 S650', 'X40 Y10'],
      ...TAIL,
    ]);
  });

  it('leave what is switched behind them where it is, and write only what is not', () => {
    const behind = ['S600', 'M3', 'F300', 'G0', 'X40 Y10'];
    expect(changed([...HEAD, ...SQUARE, ...again, ...third, ...behind, ...TAIL], both)).toEqual([
      ...HEAD,
      ...SQUARE,
      ...behind,
      ...TAIL,
    ]);
    const mist = ['M9', 'M7', 'X40 Y10'];
    expect(
      changed([...HEAD, ...SQUARE, 'M9', 'M7', ...again, 'X40 Y10', ...TAIL], (editor) =>
        editor.withoutPaths([{ first: 12, last: 15 }]),
      ),
    ).toEqual([...HEAD, ...SQUARE, ...['F480 M9', 'M7', 'M3 S700', mist[2]], ...TAIL]);
  });

  it('are left alone where the power has another word', () => {
    const word = { power: { word: 'M106' as const, full: 255 } };
    const program = [...HEAD, ...SQUARE, ...again, ...third, ...TAIL];
    const why = 'the machine’s profile sets the power by M106, and only M3, M4, M5 and S are written';
    expect(changed(program, both, word)).toBe(`${why} (line 10)`);
    expect(changed(program, (editor) => editor.pathsAhead([{ paths: [{ first: 15, last: 18 }], of: 5 }]), word)).toBe(
      `${why} (line 15)`,
    );
    expect(changed(program, (editor) => editor.withAir([{ first: 10, last: 13 }], { on: 'M8', off: 'M9' }), word)).toBe(
      `${why} (line 10)`,
    );
    // A speed is F everywhere.
    expect(changed(program, settings({ speedMmPerS: 4.5 }), word)).toContain('G1 X30 Y10 F270');
  });
});

describe('the place of an edit', () => {
  it('is that of the word, or of the line ahead of which something is written', () => {
    const text = [...HEAD, ...SQUARE, 'X50 Y10', ...TAIL].join('\n');
    const edited = settings({ speedMmPerS: 4.5, setting: 0.65 })(
      new GcodeEditor(textSource('tray.gcode', text), OPTIONS),
    );
    expect('edits' in edited && edited.edits.map(({ place }) => place)).toEqual([
      { line: 5, column: 1, endLine: 5, endColumn: 1 },
      { line: 5, column: 12, endLine: 5, endColumn: 16 },
      { line: 9, column: 1, endLine: 9, endColumn: 1 },
    ]);
  });

  it('of what is written at an open end is behind the last line, and of lines taken out the whole of them', () => {
    const ring = ['G1 F540', 'G3 X10 Y10 I10 J0'];
    const text = [...HEAD, ...ring].join('\n');
    const edited = settings({ times: 2, span: { first: 6, last: 6 } })(
      new GcodeEditor(textSource('tray.gcode', text), OPTIONS),
    );
    expect('edits' in edited && edited.edits.map(({ place }) => place)).toEqual([
      { line: 6, column: 18, endLine: 6, endColumn: 18 },
    ]);
    const whole = [...HEAD, ...SQUARE, ...SQUARE, 'X40 Y10', ...TAIL].join('\n');
    const out = new GcodeEditor(textSource('tray.gcode', whole), OPTIONS).withoutPaths([{ first: 9, last: 12 }]);
    expect('edits' in out && out.edits.map(({ place }) => place)).toEqual(
      [9, 10, 11, 12].map((line) => ({ line, column: 1, endLine: line + 1, endColumn: 1 })),
    );
  });
});

describe('paths that are run ahead of another', () => {
  const ahead =
    (of: number, ...paths: (typeof SPAN)[]) =>
    (editor: GcodeEditor) =>
      editor.pathsAhead([{ paths, of }]);
  const hole = ['G1 X18 Y15 F300', 'X18 Y18', 'X15 Y18', 'X15 Y15'];
  const there = ['M5', 'G0 X15 Y15', 'M3 S600'];

  it('bear all that is in force for them, and the way there and back is dark', () => {
    const program = [...HEAD, ...SQUARE, ...there, ...hole, 'M5', ...TAIL];
    expect(changed(program, ahead(5, { first: 12, last: 15 }))).toEqual([
      ...HEAD.slice(0, 3),
      ...['M5', 'G0 X15 Y15', 'G21 G90 G17 G94 F540', 'M8', 'M3 S600', ...hole],
      ...['M5', 'G0 X10 Y10', 'G21 G90 G17 G94', 'M8', 'M5'],
      'M4 S800',
      ...SQUARE,
      // What was in force behind it, ahead of the next move.
      ...['M5', 'G0 X15 Y15', 'M5', 'M5', 'M9', 'F300', 'M5 S600'],
      ...TAIL.slice(2),
    ]);
  });
});
