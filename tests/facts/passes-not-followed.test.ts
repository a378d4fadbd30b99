import { expect, it, vi } from 'vitest';
import { run, shed } from '../memory-shop.ts';

// The search for overlaps stops at a number of comparisons that no ordinary job reaches; here it says that it did.
vi.mock('../../src/geometry/overlap/overlap.ts', async (original) => {
  const real = await original<typeof import('../../src/geometry/overlap/overlap.ts')>();
  return {
    ...real,
    findOverlaps: (...args: Parameters<typeof real.findOverlaps>) =>
      Object.assign(real.findOverlaps(...args), { complete: false }),
  };
});

it('a job whose passes could not all be followed is incomplete and says so', () => {
  const [job] = run({
    ...shed(),
    'part.job.yaml':
      'kerflint: 1\nmachine: shed-60w\nlens: 2in\nmaterial: birch-plywood\nthickness: 3 mm ± 0.1 mm\nzero: machine\ntoolpath: part.gcode\n',
    'part.gcode': 'G21 G90\nM8\nM4 S800 F540\nG0 X10 Y10\nG1 X60\nG1 Y60\nG1 X10\nG1 Y10\nM5\nM9\nM2\n',
  }).jobs;
  expect(job!.verdict).toBe('incomplete');
  expect(job!.incomplete.join()).toContain('passes');
});
