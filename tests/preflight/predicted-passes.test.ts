import { describe, expect, it, vi } from 'vitest';
import { type Files, run, shed } from '../memory-shop.ts';

/** A tenth of what a job has, so that nobody waits for the predictions of thousands of passes. */
const MOST = 600;

vi.mock('../../src/units/work.ts', async (original) => {
  const real = await original<typeof import('../../src/units/work.ts')>();
  const workFor: typeof real.workFor = (bytes) => ({ ...real.workFor(bytes), predictedPasses: MOST });
  return { ...real, workFor };
});

const SIDECAR = `kerflint: 1
machine: shed-60w
lens: 2in
material: birch-plywood
thickness: 3 mm ± 0.1 mm
zero: machine
toolpath: part.gcode
tasks:
  - { name: dividers, aim: through, power: 80 %, speed: 10 mm/s, air: 1 bar }
`;

/** So many lines, each at a power of its own and run along so often. */
function job(lines: number, times: number): Files {
  const moves = Array.from({ length: lines }, (_, k) => {
    const runs = Array.from({ length: times }, (_, i) => `X${i % 2 === 0 ? 60 : 10}`);
    return `G0 X10 Y${5 + 2 * k}\nG1 S${500 + k}\n${runs.join('\n')}`;
  });
  return {
    ...shed(),
    'part.job.yaml': SIDECAR,
    'part.gcode': `G21 G90\nM8\nM4 F600\n${moves.join('\n')}\nM5\nM9\nM2\n`,
  };
}

describe('passes at so many settings that not all are predicted', () => {
  const times = 50;
  const lines = 18;

  it('leave the first cuts as they are, the job incomplete, and say of how many nothing is known', () => {
    const { jobs } = run(job(lines, times));
    const { cuts, verdict, unanswered, notChecked } = jobs[0]!;
    const known = cuts.filter(({ depthMm }) => depthMm !== null);
    // The others are one entry, with each setting once: in a few kilobytes there may be tens of thousands with hundreds of passes each.
    expect(cuts).toHaveLength(known.length + 1);
    const others = cuts[known.length]!;
    expect(others.lengthMm).toBeCloseTo(50 * (lines - known.length), 6);
    const powers = others.passes.map(({ powerW }) => powerW);
    expect(powers).toHaveLength(lines - known.length);
    expect([known.at(-1)!.passes[0]!.powerW, ...powers]).toEqual(
      [...new Set([known.at(-1)!.passes[0]!.powerW, ...powers])].sort((a, b) => a - b),
    );
    const why = `so many lines are run along again at so many settings that ${Math.floor((100 * known.length) / lines)} % of the cuts were predicted, and the others of each task are listed as one`;
    expect(verdict).toBe('incomplete');
    expect(unanswered!.map(({ missing }) => missing)).toEqual([why]);
    expect(notChecked).toContainEqual({ rule: 'cut/short-of-through', kind: 'ended-early', reason: why });

    const few = run(job(3, times)).jobs[0]!;
    expect(few.cuts).toHaveLength(3);
    for (const [i, cut] of few.cuts.entries()) {
      expect(cut.depthMm).toBeGreaterThan(0);
      expect(cuts[i]).toMatchObject({ depthMm: cut.depthMm, throughProbability: cut.throughProbability });
    }
  });

  it('are all predicted as long as they are fewer', () => {
    const { jobs } = run(job(lines - 8, times));
    expect(jobs[0]!.cuts.every(({ depthMm }) => depthMm !== null)).toBe(true);
    expect(jobs[0]!.unanswered).toEqual([]);
  });
});
