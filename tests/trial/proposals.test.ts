// What is proposed to be tried, held against the judgement of the whole job with it.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { demoFiles, type Files, run, shed } from '../memory-shop.ts';
import { opened } from './opened.ts';
import { jobOf, recipes } from './random-job.ts';

const SHEET = { material: 'birch-plywood', thicknessMm: 6, lens: '2in' };
const demoJob = (name: string): Files => ({
  ...shed(),
  ...demoFiles(...['job.yaml', 'gcode', 'svg'].map((end) => `${name}.${end}`)),
});
const checked = (files: Files) => run(files).jobs[0]!;
const proposalsOf = (files: Files) => opened(files).plan.recipes.flatMap(({ proposals }) => proposals);

describe('what is proposed', () => {
  it('is the change of the check, for all cuts, and passes where it is tried', () => {
    const files = demoJob('weather-vane-hub');
    const trial = opened(files);
    const { cure } = checked(files);
    const proposals = trial.plan.recipes.flatMap((recipe) => recipe.proposals);
    expect(proposals.length).toBeGreaterThan(0);
    for (const { text, change } of proposals) {
      expect(text).toBe(cure!.cuts[0]!.text);
      expect(change.cuts.map(({ cut }) => cut)).toEqual(cure!.cuts.map(({ cut }) => cut));
      expect(trial.judged(change).verdict).toBe('pass');
    }
  });

  it('names the task where tasks need different changes', () => {
    const shape = { kind: 'square', yMm: 10, sizeMm: 10 } as const;
    const one = { setting: 0.6, speedMmPerS: 8, passes: 1, focusMm: -1 };
    const files = {
      ...shed(),
      ...jobOf(
        [
          { ...one, shapes: [{ ...shape, xMm: 10 }] },
          { ...one, setting: 0.5, speedMmPerS: 30, shapes: [{ ...shape, xMm: 40 }] },
        ],
        SHEET,
      ),
    };
    const texts = new Set(proposalsOf(files).map(({ text }) => text));
    expect(texts.size).toBe(1);
    const [text] = [...texts];
    for (const { cut, text: own } of checked(files).cure!.cuts) expect(text).toContain(`recipe ${cut + 1}: ${own}`);
  });

  it('is nothing where no change passes, and the reason is told', () => {
    const files = demoJob('weather-vane-hub');
    // The head stands still with the beam on, which no recipe changes.
    const gcode = String(files['weather-vane-hub.gcode']).replace(/^M5/m, 'M3 S800\nG4 P1.5\nM5');
    const spoilt = { ...files, 'weather-vane-hub.gcode': gcode };
    const { noCure, cure } = checked(spoilt);
    expect(cure).toBeUndefined();
    expect(proposalsOf(spoilt)).toEqual([]);
    expect(opened(spoilt).plan.nothingProposed).toBe(noCure);
    expect(noCure).toMatch(/an error stands/);
  });

  it('leaves no cut short of what it is held to, on random jobs whose cuts fall short', () => {
    let proposed = 0;
    fc.assert(
      fc.property(recipes, (all) => {
        const files = { ...shed(), ...jobOf(all, SHEET) };
        const { cure } = checked(files);
        if (!cure) return;
        const trial = opened(files);
        const [proposal] = trial.plan.recipes.flatMap(({ proposals }) => proposals);
        proposed++;
        const { cuts, findings } = trial.result(proposal!.change);
        const errors = findings.filter(({ severity, status }) => severity === 'error' && status === 'open');
        expect(errors.map(({ rule, message }) => `${rule}: ${message}`)).toEqual([]);
        const least = Math.min(...cuts.flatMap(({ throughProbability }) => throughProbability ?? []));
        // The motion is planned anew where it is tried: at corners, the beam is as slow as the head.
        expect(Math.abs(least - cure.throughProbability)).toBeLessThan(0.02);
      }),
      { numRuns: 25 },
    );
    expect(proposed).toBeGreaterThan(5);
  });
});
