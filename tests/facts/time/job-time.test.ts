import { describe, expect, it } from 'vitest';
import { type Files, factsOf, shed } from '../../memory-shop.ts';

const artwork = (task: string): Files => ({
  ...shed(),
  'part.job.yaml': `kerflint: 1
machine: shed-60w
lens: 2in
material: birch-plywood
thickness: 3 mm ± 0.1 mm
zero: sheet-corner
artwork: part.svg
tasks:
  - { name: lines, aim: through, power: 80 %${task} }
`,
  'part.svg':
    '<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 0 200 100"><g fill="none" stroke="#1864ab"><path d="M0 0 H100"/><path d="M100 50 H0"/></g></svg>',
});

/** From rest to rest (textbook kinematics): L/v + v/a, where the speed is reached. */
const restToRest = (lengthMm: number, mmPerS: number) => lengthMm / mmPerS + mmPerS / 3000;

describe('the time of a job', () => {
  it('of artwork alone is the planned cutting and the travel between outlines, pass after pass', () => {
    const time = factsOf(artwork(', speed: 20 mm/s')).time!;
    expect(time.basis).toBe('artwork');
    expect(time.cuttingS).toBeCloseTo(2 * restToRest(100, 20), 6);
    // From the origin to the first line, which begins there, and 50 mm on to the second: 2√(L/a), below the rapid speed.
    expect(time.travelS).toBeCloseTo(2 * Math.sqrt(50 / 3000), 6);
    expect(time.totalS).toBeCloseTo(time.cuttingS + time.travelS + time.dwellS, 9);

    const twice = factsOf(artwork(', speed: 20 mm/s, passes: 2')).time!;
    expect(twice.cuttingS).toBeCloseTo(2 * time.cuttingS, 9);
  });

  it('is not known of artwork for which no speed is planned', () => {
    expect(factsOf(artwork('')).time).toBeNull();
  });

  it('of a toolpath is the toolpath’s', () => {
    const { 'part.svg': _, ...rest } = artwork(', speed: 20 mm/s');
    const files = {
      ...rest,
      'part.job.yaml': String(rest['part.job.yaml']).replace('artwork: part.svg', 'toolpath: part.gcode'),
      'part.gcode': 'G21 G90\nM4 S800 F1200\nG0 X0 Y0\nG1 X100\nM5\nM2\n',
    };
    const time = factsOf(files).time!;
    expect(time.basis).toBe('toolpath');
    expect(time.cuttingS).toBeCloseTo(restToRest(100, 20), 3);
  });
});
