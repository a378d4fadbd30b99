// Programs that move Z set their focus themselves: what is turned of it must move with them, pass by pass.
import { describe, expect, it } from 'vitest';
import type { CutChange } from '../../../src/facts/what-if/change.ts';
import { WhatIf } from '../../../src/facts/what-if/what-if.ts';
import { type Files, shed } from '../../memory-shop.ts';
import { readWithMotion } from '../../trial/opened.ts';

const job = (gcode: string): Files => ({
  ...shed(),
  'part.job.yaml':
    'kerflint: 1\nmachine: shed-60w\nlens: 2in\nmaterial: birch-plywood\nthickness: 3 mm\ntoolpath: part.gcode\n',
  'part.gcode': `G21 G90\nM8\nM4 S800 F600\n${gcode}\nM5\nM9\nM2\n`,
});
/** A line run at these heights, one after the other, Z up. */
const line = (y: number, ...heights: number[]) => heights.map((z) => `G0 X10 Y${y} Z${z}\nG1 X60\n`).join('');

/** The focus of each pass of each cut once a cut was turned. */
function focusAfter(gcode: string, change: Partial<CutChange>, cut = 0): number[][] {
  const { read, facts } = readWithMotion(job(gcode));
  const { cuts } = new WhatIf(read, facts).quick({ cuts: [{ cut, ...change }] });
  return cuts.map(({ passes }) => passes.map(({ focusMm }) => focusMm));
}

describe('the focus of a program that moves it', () => {
  const twice = line(10, -0.5, -1.5);

  it('stays where other things are turned', () => {
    expect(focusAfter(twice, {})).toEqual([[-0.5, -1.5]]);
    expect(focusAfter(twice, { setting: 0.6 })).toEqual([[-0.5, -1.5]]);
    expect(focusAfter(twice, { speedMmPerS: 6 })).toEqual([[-0.5, -1.5]]);
  });

  it('moves as a whole with the first pass', () => {
    expect(focusAfter(twice, { focusMm: -1 })).toEqual([[-1, -2]]);
    expect(focusAfter(twice, { focusMm: 0.5 })).toEqual([[0.5, -0.5]]);
  });

  it('is stepped from the first pass on', () => {
    expect(focusAfter(twice, { focusStepMm: -0.25 })).toEqual([[-0.5, -0.75]]);
    expect(focusAfter(twice, { focusStepMm: 0 })).toEqual([[-0.5, -0.5]]);
    expect(focusAfter(twice, { focusMm: -1, focusStepMm: -0.25 })).toEqual([[-1, -1.25]]);
  });

  it('goes on with its step in passes that are added', () => {
    expect(focusAfter(twice, { passes: 3 })).toEqual([[-0.5, -1.5, -2.5]]);
    expect(focusAfter(twice, { passes: 1 })).toEqual([[-0.5]]);
  });

  it('is the same in passes that are added to a single one, unless a step is asked for', () => {
    expect(focusAfter(line(10, -0.5), { passes: 2 })).toEqual([[-0.5, -0.5]]);
    expect(focusAfter(line(10, -0.5), { passes: 2, focusStepMm: -1 })).toEqual([[-0.5, -1.5]]);
  });

  it('moves in the cut that is turned alone', () => {
    const [first, second] = focusAfter(`${line(10, -0.5)}S700\n${line(30, -1.2)}`, { focusMm: -2 }, 1);
    expect([first, second]).toEqual([[-0.5], [-2]]);
  });

  it('is in the motion itself, so that all rules see it', () => {
    const { read, facts } = readWithMotion(job(twice));
    const { strokes } = new WhatIf(read, facts).whole({ cuts: [{ cut: 0, focusMm: -1 }] }).toolpath!;
    expect([[...strokes.startZ], [...strokes.endZ]]).toEqual([
      [-1, -2],
      [-1, -2],
    ]);
  });
});

describe('the focus of a program that leaves it alone', () => {
  it('is that of the plan', () => {
    expect(focusAfter(line(10, 0, 0), { focusMm: -1 })).toEqual([[-1, -1]]);
    expect(focusAfter(line(10, 0, 0), { focusMm: -1, focusStepMm: -0.5 })).toEqual([[-1, -1.5]]);
  });

  it('moves nothing', () => {
    const { read, facts } = readWithMotion(job(line(10, 0)));
    expect(new WhatIf(read, facts).whole({ cuts: [{ cut: 0, focusMm: -1 }] }).toolpath).toBe(facts.toolpath);
  });
});
