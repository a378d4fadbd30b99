// What the program lacks of the artwork, and the artwork of the program: from how much on it is told, and where.
import { describe, expect, it } from 'vitest';
import { extraStrokes, missingOutlines } from '../../../src/facts/match/differences.ts';
import { lineOptions, outlineOfStrokes } from '../../../src/facts/match/laid-over.ts';
import { runUnpowered } from '../../../src/facts/match/run-unpowered.ts';
import type { CoveringPair, MissingPlace } from '../../../src/geometry/overlap/coverage.ts';
import { everything } from '../../../src/units/found.ts';
import { type Files, shed } from '../../memory-shop.ts';
import { readWithoutMotion } from '../../trial/opened.ts';
import { OUTLINE } from '../outline.ts';

const CUT = 'G0 X10 Y25\nG1 X30\nG1 Y40\nG1 X10\nG1 Y25\n';
const files = (cut = CUT, aim = 'through'): Files => ({
  ...shed(),
  'part.job.yaml': `kerflint: 1\nmachine: shed-60w\nlens: 2in\nmaterial: birch-plywood\nthickness: 3 mm\nzero: machine\ntoolpath: part.gcode\nartwork: part.svg\ntasks:\n  - { name: rim, aim: ${aim}, strokes: { stroke: "#9c36b5" } }\n`,
  'part.svg': OUTLINE,
  'part.gcode': `G21 G90\nM4 S600 F720\n${cut}M5\nM2\n`,
});
const { read } = readWithoutMotion(files());
const { job } = read.input;
const artwork = read.files.artwork!;
const toolpath = read.files.toolpath!;
const laid = read.laid!;

const run = (owner: number, x0: number, x1: number, lengthMm = Math.abs(x1 - x0)): MissingPlace => ({
  owner,
  segment: owner,
  x0,
  y0: 0,
  x1,
  y1: 0,
  lengthMm,
});

describe('outlines that the program lacks', () => {
  /** Of an outline that is so long, where these runs of it are missing. */
  function missing(
    lengths: readonly number[],
    outlineMm = 70,
    { aim = 'through' as const, endedEarly = null as string | null } = {},
  ) {
    const items = lengths.map((lengthMm) => run(0, 0, 1, lengthMm));
    const [outline] = artwork.outlines;
    return missingOutlines(
      job,
      { ...artwork, outlines: [{ ...outline!, lengthMm: outlineMm }] },
      { ...laid, artwork: { ...laid.artwork!, missing: { items, endedEarly } } },
      { ...read.assignment, tasks: [{ ...read.assignment.tasks[0]!, aim }] },
    );
  }

  it('are told from a millimetre on, all runs together', () => {
    expect(missing([0.99]).items).toEqual([]);
    expect(missing([1]).items).toMatchObject([{ outline: 0, lengthMm: 1, outlineLengthMm: 70 }]);
    expect(missing([0.6, 0.6]).items).toMatchObject([{ lengthMm: 1.2 }]);
  });

  it('are told of short outlines once half of them is missing', () => {
    expect(missing([0.49], 1).items).toEqual([]);
    expect(missing([0.5], 1).items).toMatchObject([{ lengthMm: 0.5, outlineLengthMm: 1 }]);
  });

  it('are told where they are drawn, and with how far the search came', () => {
    const found = missing([5], 70, { endedEarly: 'too many lie on each other' });
    expect(found.items[0]!.location).toMatchObject({ file: 'part.svg', line: 1 });
    expect(found.endedEarly).toBe('too many lie on each other');
  });

  it('are those that a task asks for as lines', () => {
    const all = { ...laid, artwork: { ...laid.artwork!, missing: everything([run(0, 0, 70)]) } };
    const assigned = (outline: number, aim: 'through' | 'groove' | 'surface') =>
      missingOutlines(job, artwork, all, {
        ...read.assignment,
        tasks: [{ ...read.assignment.tasks[0]!, aim }],
        ofOutline: Int32Array.of(outline),
      }).items.length;
    expect([assigned(0, 'through'), assigned(0, 'groove'), assigned(0, 'surface'), assigned(-1, 'through')]).toEqual([
      1, 1, 0, 0,
    ]);
  });

  it('are none where the artwork is not found in the program', () => {
    const none = { items: [], endedEarly: null };
    expect(missingOutlines(job, null, laid, read.assignment)).toEqual(none);
    expect(missingOutlines(job, artwork, null, read.assignment)).toEqual(none);
    expect(missingOutlines(job, artwork, { ...laid, artwork: null }, read.assignment)).toEqual(none);
  });
});

describe('strokes that the artwork lacks', () => {
  const extra = (items: readonly MissingPlace[], endedEarly: string | null = null) =>
    extraStrokes(job, toolpath, { ...laid, toolpath: { ...laid.toolpath!, missing: { items, endedEarly } } });

  it('are told from a millimetre on, at the line of the first', () => {
    expect(extra([run(0, 0, 0.99)]).items).toEqual([]);
    // The first powered stroke is on line 4 of the program.
    expect(extra([run(1, 0, 1)]).items).toMatchObject([
      { lengthMm: 1, strokes: 1, location: { file: 'part.gcode', line: 5 } },
    ]);
  });

  it('are one where they follow each other end to end', () => {
    expect(extra([run(0, 0, 0.6), run(1, 0.69, 1.29)]).items).toMatchObject([
      { lengthMm: expect.closeTo(1.2, 9), strokes: 2, location: { line: 4 } },
    ]);
    expect(extra([run(0, 0, 2), run(1, 2.11, 4), run(1, 4, 6), run(2, 6, 7)]).items).toMatchObject([
      { lengthMm: 2, strokes: 1, location: { line: 4 } },
      { lengthMm: expect.closeTo(4.89, 9), strokes: 2, location: { line: 5 } },
    ]);
  });

  it('are none where the program is not found in the artwork, and told with how far the search came', () => {
    expect(extraStrokes(job, toolpath, null)).toEqual({ items: [], endedEarly: null });
    expect(extraStrokes(job, toolpath, { ...laid, toolpath: null })).toEqual({ items: [], endedEarly: null });
    expect(extra([], 'too many').endedEarly).toBe('too many');
  });
});

describe('the outline that a stroke runs along', () => {
  const of = (pairs: readonly CoveringPair[]) => [
    ...outlineOfStrokes({ ...laid, toolpath: { ...laid.toolpath!, pairs: everything(pairs) } }, 4).of,
  ];
  const pair = (ownerA: number, ownerB: number, lengthMm: number): CoveringPair => ({ ownerA, ownerB, lengthMm });

  it('is the one along which most of it runs, and at least half', () => {
    // The strokes are 20, 15, 20 and 15 mm long.
    expect(of([pair(0, 7, 10), pair(1, 8, 7.4), pair(2, 5, 11), pair(2, 6, 9), pair(3, 4, 8), pair(3, 3, 15)])).toEqual(
      [7, -1, 5, 3],
    );
    // Of two that are as long it is the first.
    expect(of([pair(0, 2, 10), pair(0, 1, 10)])[0]).toBe(2);
  });

  it('is none where the artwork is not found, for the reason that the search gave', () => {
    const nowhere = { ...laid, toolpath: null, endedEarly: 'too many outlines' };
    expect(outlineOfStrokes(nowhere, 2)).toEqual({ of: Int32Array.of(-1, -1), endedEarly: 'too many outlines' });
  });

  it('lies beside it by what the kerf moves it, unless that is rounding', () => {
    const offset = (offsetMm: number) => lineOptions({ ...laid.placement!, offsetMm });
    expect(offset(0.02)).toEqual({ toleranceMm: 0.1, offsetMm: 0 });
    expect(offset(-0.02)).toEqual({ toleranceMm: 0.1, offsetMm: 0 });
    expect(offset(0.021).offsetMm).toBe(0.021);
    expect(offset(-0.1).offsetMm).toBe(-0.1);
  });
});

describe('outlines that are run without power', () => {
  /** A second outline, 40 mm square, beside the one that is cut; `moves` go along it without power. */
  const beside = (moves: string, cut = ''): Files => ({
    ...files(`${CUT}${cut}M5\n${moves}`),
    'part.svg': OUTLINE.replace('</svg>', '<path d="M50 10H90V50H50Z" fill="none" stroke="#9c36b5"/></svg>'),
  });
  const unpowered = (job: Files) => readWithoutMotion(job).facts.tasks[0]!.unpoweredOutlines.items;

  it('are those that the head follows nearly all the way round', () => {
    expect(unpowered(beside('G0 X50 Y10\nG0 X90\nG0 Y50\nG0 X50\nG0 Y10\n'))).toMatchObject([
      { outline: 1, location: { file: 'part.svg' } },
    ]);
    // 145 of 160 mm are more than nine tenths, 143 are less.
    expect(unpowered(beside('G0 X50 Y10\nG0 X90\nG0 Y50\nG0 X50\nG0 Y25\n'))).toHaveLength(1);
    expect(unpowered(beside('G0 X50 Y10\nG0 X90\nG0 Y50\nG0 X50\nG0 Y27\n'))).toEqual([]);
    expect(unpowered(beside(''))).toEqual([]);
  });

  it('are not such as get power on some of their length', () => {
    expect(unpowered(beside('G0 X90 Y10\nG0 Y50\nG0 X50\nG0 Y10\nG0 X90\n', 'G0 X50 Y10\nG1 X60\n'))).toEqual([]);
  });

  it('are told as not in the program at all where the search ended early', () => {
    const { read: whole } = readWithoutMotion(beside('G0 X50 Y10\nG0 X90\nG0 Y50\nG0 X50\nG0 Y10\n'));
    const missing = missingOutlines(whole.input.job, whole.files.artwork, whole.laid, whole.assignment);
    const asked = { toolpath: whole.files.toolpath, artwork: whole.files.artwork, laid: whole.laid, missing };
    expect(runUnpowered({ ...asked, work: whole.work }).items).toHaveLength(1);
    expect(runUnpowered({ ...asked, work: { ...whole.work, coverage: 1 } })).toEqual({ items: [], endedEarly: null });
    const early = { ...asked, missing: { ...missing, endedEarly: 'too many' } };
    expect(runUnpowered({ ...early, work: whole.work })).toMatchObject({ endedEarly: 'too many' });
    expect(runUnpowered({ ...early, laid: null, work: whole.work })).toEqual({ items: [], endedEarly: 'too many' });
  });
});
