// What is tried without reading against what the street gives for files that have the same settings.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { CutResult, JobResult } from '../../src/findings/result.ts';
import type { Trial, TrialChange } from '../../src/trial.ts';
import { demoFiles, type Files, run, shed } from '../memory-shop.ts';
import { opened } from './opened.ts';
import { jobOf, recipes } from './random-job.ts';

const SHEET = { material: 'birch-plywood', thicknessMm: 6, lens: '2in' };

const checked = (files: Files): JobResult => run({ ...shed(), ...files }).jobs[0]!;
const tried = (files: Files): Trial => opened({ ...shed(), ...files });

/** The numbers that both must agree on. */
const numbers = ({ remedies: _remedies, reach: _reach, ...cut }: CutResult) => cut;
const seen = ({ cuts, time, waste, thicknessMm, lens }: JobResult) => ({
  cuts: cuts.map(numbers),
  time,
  waste,
  thicknessMm,
  lens,
});

function quickly(trial: Trial, change: TrialChange) {
  const answers = [...trial.plan.recipes.flatMap(({ cuts }) => cuts)]
    .sort((a, b) => a - b)
    .map((cut) => trial.answer(change, cut));
  const [{ time, waste, thicknessMm, lens }] = answers as [ReturnType<Trial['answer']>];
  return { cuts: answers.map(({ cut }) => numbers(cut!)), time, waste, thicknessMm, lens };
}

const turn = fc.record(
  {
    setting: fc.integer({ min: 13, max: 85 }).map((percent) => percent / 100),
    speedMmPerS: fc.integer({ min: 3, max: 80 }),
    passes: fc.integer({ min: 1, max: 4 }),
    focusMm: fc.integer({ min: -30, max: 10 }).map((tenths) => tenths / 10),
  },
  { requiredKeys: [] },
);

/** Lines are those of the file that was read. */
const LINES = { line: expect.any(Number) };

describe('a trial', () => {
  it.each(['gate-sign', 'seed-tray-divider', 'weather-vane-hub', 'plant-labels'])(
    'gives the result of the check for %s where nothing is turned',
    (name) => {
      const own = demoFiles(`${name}.job.yaml`, `${name}.svg`);
      const files = name === 'plant-labels' ? own : { ...own, ...demoFiles(`${name}.gcode`) };
      const trial = tried(files);
      const expected = checked(files);
      expect(quickly(trial, { cuts: [] })).toEqual(seen(expected));
      expect(trial.result({ cuts: [] })).toEqual(expected);
    },
  );

  it('gives what the check gives for a program with these settings', () => {
    fc.assert(
      fc.property(recipes, fc.nat(), turn, (all, which, change) => {
        const index = which % all.length;
        const turned = all.map((one, i) => (i === index ? { ...one, ...change } : one));
        // Two recipes of one power would be one to the reader as well, but in tasks of their own.
        const trial = tried(jobOf(all, SHEET));
        const own = trial.plan.recipes.filter(({ tasks }) => tasks.includes(`recipe ${index + 1}`));
        const expected = checked(jobOf(turned, SHEET));
        const asked = { cuts: own.flatMap(({ cuts }) => cuts.map((cut) => ({ cut, ...change }))) };
        const lines = (result: ReturnType<typeof seen>) => ({
          ...result,
          cuts: result.cuts.map((one) => ({ ...one, ...LINES })),
        });
        expect(quickly(trial, asked)).toEqual(lines(seen(expected)));
        const whole = trial.result(asked);
        expect(seen(whole)).toEqual(lines(seen(expected)));
        expect(whole.verdict).toBe(expected.verdict);
      }),
      { numRuns: 20 },
    );
  });

  it('gives what the check gives for another sheet and lens', () => {
    const sheet = fc.record({
      material: fc.constantFrom('birch-plywood', 'poplar-plywood', 'cast-acrylic', 'vinyl'),
      thicknessMm: fc.integer({ min: 10, max: 90 }).map((tenths) => tenths / 10),
      lens: fc.constantFrom('1.5in', '2in', '4in'),
    });
    fc.assert(
      fc.property(recipes, sheet, (all, other) => {
        const trial = tried(jobOf(all, SHEET));
        const expected = checked(jobOf(all, other));
        const asked = { ...other, cuts: [] };
        expect(quickly(trial, asked).cuts).toEqual(seen(expected).cuts);
        expect(seen(trial.result(asked))).toEqual(seen(expected));
        expect(trial.result(asked).verdict).toBe(expected.verdict);
      }),
      { numRuns: 15 },
    );
  });
});
