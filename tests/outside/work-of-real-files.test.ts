import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { describe, expect, it, vi } from 'vitest';
import { run, shed } from '../memory-shop.ts';

/**
 * The outside source: files that nobody on this project wrote (its README names them). A job's work is bounded so that what is made to
 * ask much ends; no real file may come near. Each is checked with its whole work and with half of it, and has to give the same result.
 *
 * A seeded sample; `CORPUS=all` takes every file, `WORK_SHARE=0.1` another share than the half.
 */
const CORPUS = '/work/shared/corpus';
const SAMPLE = 60;
const SHARE = Number(process.env['WORK_SHARE'] ?? 0.5);
const work = vi.hoisted(() => ({ share: 1 }));

vi.mock('../../src/units/work.ts', async (original) => {
  const real = await original<typeof import('../../src/units/work.ts')>();
  const workFor: typeof real.workFor = (bytes) => {
    const whole = Object.entries(real.workFor(bytes));
    return Object.fromEntries(whole.map(([name, looks]) => [name, looks * work.share])) as unknown as ReturnType<
      typeof real.workFor
    >;
  };
  return { ...real, workFor };
});

/** All files, or a sample that is the same every time. */
function chosen(): string[] {
  const paths = readdirSync(CORPUS, { recursive: true, encoding: 'utf8' }).sort();
  const files = paths.filter((path) => /\.(?:svg|gcode|ngc)$/.test(path));
  if (process.env['CORPUS'] === 'all') return files;
  let state = 17;
  const drawn = files.map((path) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return { path, state };
  });
  return drawn
    .sort((a, b) => a.state - b.state)
    .slice(0, SAMPLE)
    .map(({ path }) => path);
}

function checked(path: string, share: number) {
  work.share = share;
  const options = { machine: 'shed-60w', lens: '2in', material: 'birch-plywood', thickness: '3 mm' };
  return run({ ...shed(), [basename(path)]: readFileSync(join(CORPUS, path)) }, options, [basename(path)]).jobs;
}

describe.skipIf(!existsSync(CORPUS))('a real file (runs where the corpus is)', () => {
  it(`gives the same with ${SHARE} of its work`, () => {
    const files = chosen();
    expect(files.length).toBeGreaterThanOrEqual(SAMPLE);
    const short = files.filter((path) => {
      const whole = checked(path, 1);
      expect(whole, path).toHaveLength(1);
      return JSON.stringify(checked(path, SHARE)) !== JSON.stringify(whole);
    });
    expect(short).toEqual([]);
  });

  it('would be noticed: with next to no work most drawings give something else', () => {
    const drawings = chosen().filter((path) => path.endsWith('.svg'));
    const same = drawings.filter((path) => JSON.stringify(checked(path, 0)) === JSON.stringify(checked(path, 1)));
    expect(same.length).toBeLessThan(drawings.length / 2);
  });
});
