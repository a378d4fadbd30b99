// Cuts of equal settings are one. Which of those that are left a planned cut has become is what the page goes on showing.
import { describe, expect, it } from 'vitest';
import type { CutChange } from '../../../src/facts/what-if/change.ts';
import { WhatIf } from '../../../src/facts/what-if/what-if.ts';
import { type Files, shed } from '../../memory-shop.ts';
import { readWithMotion } from '../../trial/opened.ts';

const sidecar = (more: string) =>
  `kerflint: 1\nmachine: shed-60w\nlens: 2in\nmaterial: birch-plywood\nthickness: 3 mm\ntoolpath: part.gcode\n${more}`;
const job = (gcode: string, more = ''): Files => ({
  ...shed(),
  'part.job.yaml': sidecar(more),
  'part.gcode': `G21 G90\nM8\nM4\n${gcode}M5\nM9\nM2\n`,
});
/** A line of so many mm, run with these settings. */
const line = (y: number, mm: number, words = '') => `G0 X10 Y${y}\nG1 X${10 + mm} ${words}\n`;

function tried(files: Files, changes: readonly CutChange[]) {
  const { read, facts } = readWithMotion(files);
  const { cuts, cutOf } = new WhatIf(read, facts).quick({ cuts: changes });
  return {
    before: facts.cuts.map(({ lengthMm }) => Math.round(lengthMm)),
    after: cuts.map(({ lengthMm }) => Math.round(lengthMm)),
    cutOf,
  };
}

describe('a cut that was turned', () => {
  const strong = 'S800 F600';
  const weak = 'S500 F600';

  it('is itself where the cuts are as many as before', () => {
    const files = job(line(10, 50, strong) + line(20, 30, weak));
    expect(tried(files, [])).toEqual({ before: [50, 30], after: [50, 30], cutOf: [0, 1] });
    expect(tried(files, [{ cut: 1, setting: 0.6 }]).cutOf).toEqual([0, 1]);
    expect(tried(files, [{ cut: 1, speedMmPerS: 5 }]).cutOf).toEqual([0, 1]);
  });

  it('is the one cut with the settings that it was turned to', () => {
    const files = job(line(10, 50, strong) + line(20, 30, weak) + line(30, 20, 'S300 F600'));
    expect(tried(files, [{ cut: 1, setting: 0.8 }])).toEqual({
      before: [50, 30, 20],
      after: [80, 20],
      cutOf: [0, 0, 1],
    });
    expect(tried(files, [{ cut: 2, setting: 0.5 }])).toMatchObject({ after: [50, 50], cutOf: [0, 1, 1] });
  });

  it('is found again where strokes before it are run more often', () => {
    // Two passes of the first make three strokes of two: what came of the second begins one later.
    const files = job(line(10, 50, strong) + line(20, 30, weak) + line(30, 20, weak + '\nG0 X10\nG1 X30'));
    expect(tried(files, [])).toMatchObject({ before: [50, 30, 20], cutOf: [0, 1, 2] });
    expect(tried(files, [{ cut: 0, passes: 2 }])).toMatchObject({ cutOf: [0, 1, 2] });
    const both: CutChange[] = [
      { cut: 0, passes: 2 },
      { cut: 1, passes: 2 },
    ];
    expect(tried(files, both)).toMatchObject({ after: [50, 50], cutOf: [0, 1, 1] });
  });

  it('is the longest of those that its first stroke runs through', () => {
    // The line of 50 mm is run again along its last 30: two cuts, of one pass and of two. The line of 40 mm joins the first.
    const files = job(`G0 X10 Y10\nG1 X60 ${strong}\nG0 X30\nG1 X60\n${line(20, 40, weak)}`);
    expect(tried(files, [])).toMatchObject({ before: [20, 30, 40], cutOf: [0, 1, 2] });
    expect(tried(files, [{ cut: 2, setting: 0.8 }])).toMatchObject({ after: [60, 30], cutOf: [0, 0, 0] });
    // Where the second is the longer one, it is that.
    const short = job(`G0 X10 Y10\nG1 X60 ${strong}\nG0 X20\nG1 X60\n${line(20, 5, weak)}`);
    expect(tried(short, [{ cut: 2, setting: 0.8 }])).toEqual({
      before: [10, 40, 5],
      after: [15, 40],
      cutOf: [1, 1, 0],
    });
  });

  it('stays in its task where another task has its settings', () => {
    const files = job(
      `;rim\n${line(10, 50, strong)};slots\n${line(20, 30, weak)}${line(30, 20, strong)}`,
      'tasks:\n  - { name: rim, aim: through, program: { comment: rim } }\n  - { name: slots, aim: through, program: { comment: slots } }\n',
    );
    expect(tried(files, [{ cut: 2, setting: 0.5 }])).toEqual({
      before: [50, 30, 20],
      after: [50, 50],
      cutOf: [0, 1, 1],
    });
  });
});

describe('a cut that is planned alone', () => {
  /** The rim is in the artwork and in the plan, and nowhere in the program. */
  const ARTWORK =
    '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60"><g fill="none" stroke="#1864ab"><path id="a" d="M10 50H60"/><path id="b" d="M10 40H40"/></g><g fill="none" stroke="#e03131"><path id="rim" d="M5 5H95V55H5Z"/></g></svg>';
  const TASKS = `artwork: part.svg
zero: machine
tasks:
  - { name: slots, aim: through, strokes: { stroke: "#1864ab" }, program: { comment: slots } }
  - { name: rim, aim: through, strokes: { stroke: "#e03131" }, program: { comment: rim }, power: 60 %, speed: 10 mm/s }
`;
  const files: Files = {
    ...job(`;slots\n${line(10, 50, 'S800 F600')}${line(20, 30, 'S500 F600')}`, TASKS),
    'part.svg': ARTWORK,
  };

  it('is found again whatever becomes of the strokes of others', () => {
    expect(tried(files, [])).toEqual({ before: [50, 30, 280], after: [50, 30, 280], cutOf: [0, 1, 2] });
    expect(tried(files, [{ cut: 1, setting: 0.8 }])).toMatchObject({ after: [80, 280], cutOf: [0, 0, 1] });
    const twice: CutChange[] = [
      { cut: 0, passes: 2 },
      { cut: 1, setting: 0.8, passes: 2 },
    ];
    expect(tried(files, twice)).toMatchObject({ after: [80, 280], cutOf: [0, 0, 1] });
  });
});
