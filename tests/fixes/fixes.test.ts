import { describe, expect, it } from 'vitest';
import { shed } from '../memory-shop.ts';
import { mended, mendInput, sidecar, solo } from './mending.ts';

/** A program of one square, with lines put in by name. */
const SQUARE = ['G1 X60 Y10 F540 S800', 'X60 Y40', 'X10 Y40', 'X10 Y10'];
const program = (...around: string[]) => ['G21 G90', 'M8', ...around, 'M9', 'G0 X0 Y0', 'M2'];
const whyLeft = (outcome: Awaited<ReturnType<typeof mended>>) => outcome.declined.map(({ why }) => why);
const withLines = (outcome: Awaited<ReturnType<typeof mended>>) => outcome.text.trimEnd().split('\n');

describe('beam off in dwells', () => {
  const dwelling = (...dwell: string[]) => program('G0 X10 Y10', ...dwell, ...SQUARE, 'M5');

  it('stands dark, and goes on as it was', async () => {
    const outcome = await mended(dwelling('M3 S800', 'G4 P1.5', '(smoke)', 'M8', 'G4 P2', ''), {
      wanted: ['beam-off'],
    });
    expect(withLines(outcome)).toEqual(dwelling('M3 S800', 'M5', 'G4 P1.5', '(smoke)', 'M8', 'G4 P2', '', 'M3 S800'));
    expect(outcome.done.map(({ location }) => location.line)).toEqual([5, 8]);
    expect(outcome.after.findings.filter(({ rule }) => rule === 'toolpath/dwell-burn')).toEqual([]);
  });

  it('does not touch a pierce, also between two dwells', async () => {
    const outcome = await mended(dwelling('M3 S800', 'G4 P1.5', 'G4 P0.2', 'G4 P1'), { wanted: ['beam-off'] });
    const expected = ['M3 S800', 'M5', 'G4 P1.5', 'M3 S800', 'G4 P0.2', 'M5', 'G4 P1', 'M3 S800'];
    expect(withLines(outcome)).toEqual(dwelling(...expected));
  });

  it('writes no more than is needed where the beam is switched anyway', async () => {
    const off = await mended(dwelling('M3 S800', 'M0', 'M5', 'M3 S800'), { wanted: ['beam-off'] });
    expect(withLines(off)).toEqual(dwelling('M3 S800', 'M5', 'M0', 'M5', 'M3 S800'));
    const on = await mended(dwelling('M3 S800', 'G4 P1', 'M4'), { wanted: ['beam-off'] });
    expect(withLines(on)).toEqual(dwelling('M3 S800', 'M5', 'G4 P1', 'S800', 'M4'));
    const both = await mended(dwelling('M3 S800', 'G4 P1', 'M4 S700'), { wanted: ['beam-off'] });
    expect(withLines(both)).toEqual(dwelling('M3 S800', 'M5', 'G4 P1', 'M4 S700'));
  });

  it.each([
    ['switches the beam itself', ['M3 S800 G4 P1.5'], 'its line does more than wait'],
    ['is optional', ['M3 S800', '/G4 P1.5'], 'its line is not made of plain words that wait'],
    ['bears a checksum', ['M3 S800', 'N3 G4 P1.5*116'], 'its line is not made of plain words that wait'],
  ])('leaves alone a dwell whose line %s', async (_, dwell, why) => {
    const machine = {
      'machines/shed-60w.machine.yaml': profile(
        'arc-tolerance: 0.05 mm',
        'arc-tolerance: 0.05 mm\n  block-delete: runs',
      ),
    };
    const outcome = await mended(dwelling(...dwell), { wanted: ['beam-off'], files: machine });
    expect(whyLeft(outcome)).toEqual([expect.stringContaining(why)]);
    expect(outcome.files).toEqual([]);
  });

  it('leaves alone what is waived, and power that is set by other words', async () => {
    const waived = `${sidecar()}waive:\n  - { rule: toolpath/dwell-burn, reason: "proved", until: 2027-01-01 }\n`;
    const outcome = await mended(dwelling('M3 S800', 'G4 P1.5'), { sidecar: waived, wanted: ['beam-off'] });
    expect(whyLeft(outcome)).toEqual(['toolpath/dwell-burn is waived here']);
    const fan = { 'machines/shed-60w.machine.yaml': profile('word: S, full: 1000', 'word: M106, full: 255') };
    const byFan = program(
      'G0 X10 Y10',
      'M106 S204',
      'G4 P2',
      'G1 X60 Y10 F540',
      'X60 Y40',
      'X10 Y40',
      'X10 Y10',
      'M107',
    );
    expect(whyLeft(await mended(byFan, { wanted: ['beam-off'], files: fan }))).toEqual([
      'the machine’s profile sets the power by M106, and only M3, M4, M5 and S are written (line 5)',
    ]);
  });

  it('keeps CR LF, a mark, an open end, comments and bytes that are no text', async () => {
    const bytes = Buffer.from(`\uFEFF${dwelling('M3 S800', 'G4 P1.5 (\u00fc)').join('\r\n')}`);
    bytes[bytes.indexOf(0xc3)] = 0xff;
    const outcome = await mended(new Uint8Array(bytes), { wanted: ['beam-off'] });
    const input = mendInput(new Uint8Array(bytes));
    const [file] = outcome.files;
    const made = Buffer.concat([...file!.pieces.source(input.job.toolpath!).chunks()].map((chunk) => chunk.slice()));
    const at = bytes.indexOf('G4 P1.5');
    const behind = bytes.indexOf('G1 X60');
    const parts = [
      bytes.subarray(0, at),
      Buffer.from('M5\r\n'),
      bytes.subarray(at, behind),
      Buffer.from('M3 S800\r\n'),
      bytes.subarray(behind),
    ];
    expect(made.equals(Buffer.concat(parts))).toBe(true);
  });
});

describe('idle passes', () => {
  const plan = (passes: string) =>
    sidecar({
      tasks: `  - name: outline\n    aim: through\n    power: 80 %\n    speed: 9 mm/s\n${passes}    air: 1.4 bar`,
    });
  const twice = program('G0 X10 Y10', 'M4 S800', ...SQUARE, ...SQUARE, 'M5');

  it('are taken out beyond those planned', async () => {
    const outcome = await mended(twice, { sidecar: plan(''), wanted: ['duplicate-passes'] });
    expect(withLines(outcome)).toEqual(program('G0 X10 Y10', 'M4 S800', ...SQUARE, 'M5'));
    expect(outcome.after.findings.map(({ rule }) => rule)).not.toContain('cut/overburn');
  });

  it('stay where they are planned, needed, unlike, or nothing is planned', async () => {
    expect((await mended(twice, { sidecar: plan('    passes: 2\n'), wanted: ['duplicate-passes'] })).files).toEqual([]);
    const thick = sidecar({ thickness: '6.0 mm ± 0.2 mm' });
    const needed = await mended(twice, { sidecar: thick, wanted: ['duplicate-passes'] });
    expect(needed.files).toEqual([]);
    expect(whyLeft(needed)[0]).toMatch(/would be (found where it was not|.* likely to part)/);
    const slower = program('G0 X10 Y10', 'M4 S800', ...SQUARE, 'G1 X60 Y10 F480 S800', ...SQUARE.slice(1), 'M5');
    expect((await mended(slower, { sidecar: plan(''), wanted: ['duplicate-passes'] })).files).toEqual([]);
    const unplanned = `${plan('').split('tasks:')[0]}`;
    expect(whyLeft(await mended(twice, { sidecar: unplanned, wanted: ['duplicate-passes'] }))).toEqual([
      'no sidecar says how many passes are planned',
    ]);
  });

  it('stay where lines are relative', async () => {
    const relative = ['G91', 'G1 X50 F540 S800', 'Y30', 'X-50', 'Y-30', 'G90'];
    const outcome = await mended(program('G0 X10 Y10', 'M4 S800', ...relative, ...relative, 'M5'), {
      sidecar: plan(''),
      wanted: ['duplicate-passes'],
    });
    expect(whyLeft(outcome)).toEqual([expect.stringContaining('relative coordinates (G91)')]);
  });
});

describe('settings', () => {
  const fast = ['G1 X60 Y10 F1500 S800', 'X60 Y40', 'X10 Y40', 'X10 Y10'];
  const plan = (material = 'birch-plywood') =>
    sidecar({
      material,
      thickness: '6.0 mm ± 0.2 mm',
      tasks: '  - name: outline\n    aim: through\n    power: 80 %\n    speed: "25 mm/s" # as ever\n    air: 1 bar',
    });

  it('take the speed of the remedy first, put the old one back, and are mirrored in the sidecar', async () => {
    const outcome = await mended(program('G0 X10 Y10', 'M4 S800', ...fast, 'S0', 'G1 X5 Y5', 'M5'), {
      sidecar: plan(),
      wanted: ['settings'],
    });
    const speed = /slow to ([\d.]+) mm\/s/.exec(outcome.done[0]?.what ?? '')?.[1];
    expect(speed).toBeDefined();
    expect(withLines(outcome)).toContain(`G1 X60 Y10 F${Number(speed) * 60} S800`);
    expect(withLines(outcome)).toContain('F1500');
    expect(outcome.sidecar).toBe(plan().replace('"25 mm/s" # as ever', `"${speed} mm/s" # as ever`));
    expect(outcome.after.cuts.every(({ throughProbability }) => (throughProbability ?? 0) >= 0.9)).toBe(true);
  });

  it('are not changed unless it was asked for, nor for a material to reconsider', async () => {
    const lines = program('G0 X10 Y10', 'M4 S800', ...fast, 'M5');
    expect(whyLeft(await mended(lines, { sidecar: plan(), wanted: ['beam-off'] }))).toEqual([
      'it is made with --settings',
    ]);
    const outcome = await mended(lines, { sidecar: plan('abs'), wanted: ['settings'] });
    expect(outcome.files).toEqual([]);
    expect(whyLeft(outcome).join()).toMatch(/hazard class is “reconsider”/);
  });

  it('are not changed where the task finds its strokes by them', async () => {
    const selecting = plan().replace('    air: 1 bar', '    program: { feed: 25 mm/s }\n    air: 1 bar');
    const outcome = await mended(program('G0 X10 Y10', 'M4 S800', ...fast, 'M5'), {
      sidecar: selecting,
      wanted: ['settings'],
    });
    expect(whyLeft(outcome)).toEqual(['the task finds its strokes by their feed, and would lose them']);
  });
});

describe('order', () => {
  const hole = ['G0 X20 Y25', 'M3 S800', 'G3 X20 Y25 I2 J0 F540', 'M5'];
  const plan = sidecar({
    tasks: ['outline', 'hole']
      .map((name) => `  - name: ${name}\n    aim: through\n    program: { comment: ${name} }`)
      .join('\n'),
  });
  const lines = program('(outline)', 'G0 X10 Y10', 'M3 S800', ...SQUARE, 'M5', '(hole)', ...hole);

  it('runs a hole ahead of its outline, with all that is in force for it and a dark way there', async () => {
    const outcome = await mended(lines, { sidecar: plan, wanted: ['order'] });
    const [first, second] = ['G3 X20', 'G1 X60'].map((start) =>
      withLines(outcome).findIndex((line) => line.startsWith(start)),
    );
    expect(first).toBeLessThan(second!);
    expect(withLines(outcome).slice(first! - 6, first! + 2)).toEqual([
      'M5',
      '(hole)',
      'G0 X20 Y25',
      'G21 G90 G17 G94 F540',
      'M8',
      'M3 S800',
      'G3 X20 Y25 I2 J0 F540',
      'M5',
    ]);
    expect(outcome.after.findings.map(({ rule }) => rule)).not.toContain('toolpath/inner-after-outer');
  });

  it('moves further passes of a hole along with it', async () => {
    const twice = [...hole.slice(0, 3), hole[2]!, 'M5'];
    const both = program('(outline)', 'G0 X10 Y10', 'M3 S800', ...SQUARE, 'M5', '(hole)', ...twice);
    const passes = `${plan.trimEnd()}\n    passes: 2\n`;
    const outcome = await mended(both, { sidecar: passes, wanted: ['order'] });
    expect(outcome.done).toHaveLength(1);
    const at = (start: string) => withLines(outcome).flatMap((line, k) => (line.startsWith(start) ? [k] : []));
    expect(at('G3 X20')).toHaveLength(2);
    expect(Math.max(...at('G3 X20'))).toBeLessThan(at('G1 X60')[0]!);
  });

  it.each([
    ['moves Z', ['G0 Z1', 'G0 Z0'], 'the program moves Z'],
    ['moves its zero', ['G92 X0 Y0'], 'the program moves or leaves its zero (G92)'],
  ])('leaves alone a program that %s', async (_, more, why) => {
    const outcome = await mended([...more, ...lines], {
      sidecar: plan.replace('zero: sheet-corner', 'zero: set-by-hand'),
      wanted: ['order'],
    });
    expect(whyLeft(outcome)).toEqual([why]);
  });

  it('leaves alone a hole in relative lines', async () => {
    const relative = program(
      '(outline)',
      'G0 X10 Y10',
      'M3 S800',
      ...SQUARE,
      'M5',
      '(hole)',
      'G0 X20 Y25',
      'M3 S800',
      'G91',
      'G3 X0 Y0 I2 J0 F540',
      'G90',
      'M5',
    );
    expect(whyLeft(await mended(relative, { sidecar: plan, wanted: ['order'] }))).toEqual([
      expect.stringContaining('(G91)'),
    ]);
  });

  it('runs nested contours from the inside out', async () => {
    const nested = program(
      '(outline)',
      'G0 X10 Y10',
      'M3 S800',
      ...SQUARE,
      'M5',
      'G0 X15 Y15',
      'M3 S800',
      'G1 X45 Y15',
      'X45 Y35',
      'X15 Y35',
      'X15 Y15',
      'M5',
      '(hole)',
      ...hole,
    );
    const outcome = await mended(nested, { sidecar: plan, wanted: ['order'] });
    const at = ['G3 X20', 'G1 X45', 'G1 X60'].map((start) =>
      withLines(outcome).findIndex((line) => line.startsWith(start)),
    );
    expect(at).toEqual([...at].sort((a, b) => a - b));
  });
});

describe('air', () => {
  const lines = ['G21 G90', 'G0 X10 Y10', 'M3 S800', ...SQUARE, 'M5', 'G0 X0 Y0', 'M2'];

  it('is switched where the profile says how, while the beam is off', async () => {
    const outcome = await mended(lines, { wanted: ['air'], switchesAir: true });
    expect(withLines(outcome)).toEqual([
      'G21 G90',
      'G0 X10 Y10',
      'M8',
      'M3 S800',
      ...SQUARE,
      'M5',
      'M9',
      'G0 X0 Y0',
      'M2',
    ]);
    expect(outcome.after.findings.map(({ rule }) => rule)).not.toContain('toolpath/air-off');
  });

  it('is left alone where it does not', async () => {
    expect(whyLeft(await mended(lines, { wanted: ['air'] }))).toEqual([
      expect.stringContaining('does not say how the air is switched'),
    ]);
  });
});

describe('what is never done', () => {
  it('adds no end to a program that has none', async () => {
    const outcome = await mended(['G21 G90', 'M8', 'G0 X10 Y10', 'M3 S800', ...SQUARE]);
    expect(outcome.files).toEqual([]);
    expect(whyLeft(outcome)).toContain('it is never added, since the file may have been cut off on its way');
  });

  it('touches no incomplete job', async () => {
    const lines = program('G0 X10 Y10', 'M3 S800', 'G4 P2', 'M98 P100', ...SQUARE, 'M5');
    const outcome = await mended(lines);
    expect(outcome.before.verdict).toBe('incomplete');
    expect([outcome.files, outcome.done, outcome.declined]).toEqual([[], [], []]);
  });
});

describe('a fix by itself', () => {
  it('names the finding that it mends, and changes the file as it is', async () => {
    const [only, ...others] = await solo(program('G0 X10 Y10', 'M3 S800', 'G4 P1.5', ...SQUARE, 'M5'));
    expect(others).toEqual([]);
    expect(only?.findings.map(({ rule }) => rule)).toEqual(['toolpath/dwell-burn']);
    expect(only?.changes.map(({ edits }) => edits.map(({ place }) => [place.line, place.column]))).toEqual([
      [
        [5, 1],
        [6, 1],
      ],
    ]);
  });
});

/** The shed's profile with one text for another. */
function profile(from: string, to: string): string {
  const [text] = Object.values(shed()).map(String);
  expect(text).toContain(from);
  return text!.replace(from, to);
}
