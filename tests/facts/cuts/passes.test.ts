import { describe, expect, it } from 'vitest';
import { type Files, factsOf, shed } from '../../memory-shop.ts';

const sidecar = (tasks = '') => `kerflint: 1
machine: shed-60w
lens: 2in
material: birch-plywood
thickness: 3 mm ± 0.1 mm
zero: machine
toolpath: part.gcode
${tasks}`;

const job = (gcode: string, tasks?: string): Files => ({
  ...shed(),
  'part.job.yaml': sidecar(tasks),
  'part.gcode': `G21 G90\nM8\nM4 S800 F600\n${gcode}\nM5\nM9\nM2\n`,
});

const square = 'G0 X10 Y10\nG1 X60\nG1 Y60\nG1 X10\nG1 Y10\n';
const squareBackwards = 'G0 X10 Y10\nG1 Y60\nG1 X60\nG1 Y10\nG1 X10\n';
const squareInPieces = 'G0 X10 Y10\nG1 X25\nG1 X60\nG1 Y33\nG1 Y60\nG1 X41\nG1 X10\nG1 Y10\n';

describe('passes are found by geometry', () => {
  it('one run is one pass', () => {
    const { cuts } = factsOf(job(square));
    expect(cuts.map((cut) => cut.passes.length)).toEqual([1]);
    expect(cuts[0]!.lengthMm).toBeCloseTo(200, 6);
  });

  it.each([
    ['forwards', square + square],
    ['backwards', square + squareBackwards],
    ['split at other places', square + squareInPieces],
  ])('the same outline run again %s is a second pass', (_, gcode) => {
    const { cuts } = factsOf(job(gcode));
    expect(cuts.map((cut) => cut.passes.length)).toEqual([2]);
    expect(cuts[0]!.lengthMm).toBeCloseTo(200, 2);
  });

  it('a circle as one arc and again as chords is a circle of two passes', () => {
    const chords = Array.from({ length: 181 }, (_, i) => {
      const angle = (i / 180) * 2 * Math.PI;
      return `G1 X${(40 + 20 * Math.cos(angle)).toFixed(4)} Y${(40 + 20 * Math.sin(angle)).toFixed(4)}`;
    });
    const { cuts } = factsOf(job(`G0 X60 Y40\nG3 X60 Y40 I-20 J0\n${chords.join('\n')}`));
    const twice = cuts.filter((cut) => cut.passes.length === 2).reduce((sum, cut) => sum + cut.lengthMm, 0);
    expect(twice).toBeGreaterThan(0.98 * 2 * Math.PI * 20);
  });

  it('lines that cross do not count as a second pass', () => {
    const { cuts } = factsOf(job('G0 X10 Y30\nG1 X50\nG0 X30 Y10\nG1 Y50'));
    expect(cuts.map((cut) => cut.passes.length)).toEqual([1]);
    expect(cuts[0]!.lengthMm).toBeCloseTo(80, 3);
  });

  it('stretches with other settings are cuts of their own, each pointing at its line', () => {
    const { cuts } = factsOf(job('G0 X10 Y10\nG1 X60\nS500\nG1 Y60'));
    expect(cuts.map((cut) => [cut.passes[0]!.setting, cut.location.line])).toEqual([
      [0.8, 5],
      [0.5, 7],
    ]);
  });

  it('an outline that overlaps itself where it closes is not cut unevenly', () => {
    const { cuts } = factsOf(job(`${square}G1 X12\n`));
    expect(cuts.some((cut) => cut.uneven)).toBe(false);
  });

  it('an outline whose second pass leaves out a side is cut unevenly', () => {
    const { cuts } = factsOf(job(`${square}G1 X60\nG1 Y60\nG1 X10\n`));
    const uneven = cuts.flatMap((cut) => (cut.uneven ? [cut.uneven] : []));
    expect(uneven).toHaveLength(1);
    expect(uneven[0]).toMatchObject({ fewest: 1, most: 2 });
    expect(uneven[0]!.shortMm).toBeCloseTo(50, 1);
  });

  it('two thousand settings in one task stay a bounded number of recipes', () => {
    const lines = Array.from({ length: 2000 }, (_, i) => `G1 X${10 + i * 0.2} S${200 + (i % 700)}`);
    const { cuts } = factsOf(job(`G0 X10 Y10\n${lines.join('\n')}`));
    expect(cuts.length).toBeLessThanOrEqual(64);
    expect(cuts.reduce((sum, cut) => sum + cut.lengthMm, 0)).toBeCloseTo(400, 0);
  });
});

describe('what a pass is worth', () => {
  it.each([
    ['last', 'G0 X0 Y0\nG1 X20\nG0 X600 Y400\nG1 X580'],
    ['first', 'G0 X600 Y400\nG1 X580\nG0 X0 Y0\nG1 X20'],
    ['in the middle', 'G0 X0 Y0\nG1 X20\nG0 X600 Y400\nG1 X580\nG0 X0 Y10\nG1 X20'],
  ])('watts follow the profile: measured power, setting, and the loss towards the far corner, met %s', (_, gcode) => {
    const { cuts } = factsOf(job(gcode));
    const watts = cuts.map((cut) => cut.passes[0]!.powerW);
    // 54 W measured × 80 %, and × 0.95 at the far corner, as the demo's profile states; the cut that spans both counts as the far one.
    expect(watts).toEqual([expect.closeTo(54 * 0.8 * 0.95, 1)]);
  });

  it.each([
    [255, null],
    [256, 'one line is run along 256 times, and only 255 passes are followed'],
  ])('%d passes over one line: %s', (times, reason) => {
    const runs = Array.from({ length: times }, (_, k) => `G1 X${k % 2 === 0 ? 110 : 10} Y10`);
    const facts = factsOf(job(['G0 X10 Y10', ...runs].join('\n')));
    expect(facts.cuts.map((cut) => cut.passes.length)).toEqual([255]);
    expect(facts.cutsEndedEarly).toBe(reason);
  });

  it('the focus is the planned one unless the program moves Z', () => {
    const tasks = 'tasks:\n  - { name: rim, aim: through, focus: -1 mm }\n';
    expect(factsOf(job(square, tasks)).cuts[0]!.passes[0]!.focusMm).toBe(-1);
    expect(factsOf(job(`G0 Z-2\n${square}`, tasks)).cuts[0]!.passes[0]!.focusMm).toBe(-2);
  });

  it('the focus goes down by the planned step with each pass, unless the program moves Z', () => {
    const tasks = 'tasks:\n  - { name: rim, aim: through, focus: -0.5 mm, focus-step: -1.5 mm, passes: 3 }\n';
    const focus = (gcode: string) => factsOf(job(gcode, tasks)).cuts[0]!.passes.map((pass) => pass.focusMm);
    expect(focus(square + square + square)).toEqual([-0.5, -2, -3.5]);
    expect(focus(`G0 Z-2\n${square}G0 Z-3\n${square}`)).toEqual([-2, -3]);
  });

  // M4 on this machine scales the power with the speed, so that each millimetre gets the same energy (the profile: `m4`).
  it('power under M4 falls with the speed that is reached, and under M3 it does not', () => {
    const short = 'G0 X10 Y10\nG0 X10.5\nG1 X10 F30000\nG0 X10.5\n';
    const passUnder = (mode: string) => factsOf(job(short.replace('G0', `${mode}\nG0`))).cuts[0]!.passes[0]!;
    const scaled = passUnder('M4');
    // From rest to rest over 0.5 mm at 3000 mm/s²: on average √(a L)/2 = 19.36 mm/s of the 500 mm/s asked for; 43.2 W set.
    expect(scaled.speedMmPerS).toBeCloseTo(19.36, 2);
    expect(scaled.powerW).toBeCloseTo((43.2 * 19.36) / 500, 2);
    expect(passUnder('M3').powerW).toBeCloseTo(43.2, 0);
  });

  it('a speed that the head never reaches is not counted on', () => {
    const { cuts } = factsOf(job('G0 X10 Y10\nG0 X10.5\nG1 X10 F30000\nG0 X10.5\n'));
    // Rest to rest over 0.5 mm at 3000 mm/s²: mean speed √(a L)/2.
    expect(cuts[0]!.passes[0]!.speedMmPerS).toBeCloseTo(Math.sqrt(3000 * 0.5) / 2, 0);
  });
});
