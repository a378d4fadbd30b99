import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { recipeForSheet } from '../../../src/bench/recipe/recipe-for-task.ts';
import { reach } from '../../../src/facts/bench/reach.ts';
import { setUp } from '../../../src/facts/bench/set-up.ts';
import { stepsFocus } from '../../../src/facts/cuts/focus-step.ts';
import { weakestPlace } from '../../../src/facts/cuts/power.ts';
import { bestRecipe, NOTHING_STATED } from '../../../src/facts/recipes/best-recipe.ts';
import { isFound, type RecipeFound } from '../../../src/facts/recipes/recipe-answer-model.ts';
import type { Recipe } from '../../../src/facts/recipes/recipe-fact.ts';
import type { Machine } from '../../../src/job/model.ts';
import { type Files, factsOf, run } from '../../memory-shop.ts';
import { machines, materialOf, SQUARE, sheets } from './random-machines.ts';

/**
 * `reach`, `recipe`, the proposals of a check and its remedies speak of the same machine, so they have to agree: over random machines and
 * sheets, each asked the way a person would ask it. Held against each other and against the whole street, not against cuts.
 */

const nominal = (mm: number) => ({ mm, plusMinusMm: null, nominal: true });

function recipeOf(machine: Machine, { material, mm }: { material: string; mm: number }): RecipeFound {
  const asked = { machine, lens: null, material: materialOf(material), thickness: nominal(mm) };
  const { value, problem } = recipeForSheet(asked);
  if (value === null || !isFound(value)) throw new Error(problem ?? 'not cut');
  return value;
}

function job(machine: string, sheet: { material: string; mm: number }, lens: string | null, task: string): Files {
  return {
    'random.machine.yaml': machine,
    'tray.svg': SQUARE,
    'tray.job.yaml': `kerflint: 1
machine: random
${lens === null ? '' : `lens: ${lens}\n`}material: ${sheet.material}
thickness: nominal ${sheet.mm} mm
artwork: tray.svg
tasks:
  - { name: rim, aim: through${task} }
`,
  };
}

const planned = ({
  setting,
  speedMmPerS,
  passes,
  focusMm,
  focusStepMm,
}: Omit<Recipe, 'lens' | 'powerW' | 'throughProbability'>) =>
  `, power: ${(setting * 100).toFixed(2)} %, speed: ${speedMmPerS} mm/s, passes: ${passes}, focus: ${focusMm} mm, focus-step: ${focusStepMm} mm`;

/** Rounding of chances, and of powers to a hundredth of a watt. */
const ROUNDING = 0.005;

describe('one solver', () => {
  it('says the same in reach as in recipe: none where there is none, else the same settings', () => {
    const seen = new Set<string>();
    fc.assert(
      fc.property(machines, sheets, ({ machine }, sheet) => {
        // Of the sheets on sale only this one, so that the chart is quickly made.
        const material = { ...materialOf(sheet.material), stockMm: [sheet.mm] };
        const free = { lenses: [], passes: null, setting: null, focusMm: null, citedCuts: [] };
        const model = reach({ machine, material, ...free, at: weakestPlace(machine) }).value!;
        const answer = recipeOf(machine, sheet);
        const [choice] = model.choices;
        expect(choice!.standing).toBe(answer.standing);
        const { lens, speedMmPerS, passes, focusMm, focusStepMm, setting } = answer.recipe;
        expect(choice!.recipe).toMatchObject({ lens, speedMmPerS, passes, focusMm, focusStepMm, setting });
        expect(choice!.byLens.some((one) => one !== null)).toBe(answer.standing === 'sure');
        seen.add(answer.standing);
      }),
      { numRuns: 30, seed: 151 },
    );
    expect([...seen].sort()).toEqual(['out-of-reach', 'prove', 'sure']);
  });

  it('proposes what passes a check without an error, and a sheet out of its reach is an error of a check', () => {
    const seen = new Set<string>();
    fc.assert(
      fc.property(machines, sheets, ({ text, machine }, sheet) => {
        const answer = recipeOf(machine, sheet);
        seen.add(answer.standing);
        const errors = (task: string, lens: string | null) =>
          run(job(text, sheet, lens, task))
            .jobs[0]!.findings.filter(({ severity }) => severity === 'error')
            .map(({ rule }) => rule);
        if (answer.standing === 'out-of-reach') {
          expect(errors('', null)).toContain('cut/out-of-reach');
          return;
        }
        expect(errors('', null)).toEqual([]);
        const ways = [answer.recipe, answer.fastest, answer.surest, answer.onePass, answer.slower];
        for (const way of ways) {
          if (way === null || way.standing === 'out-of-reach') continue;
          expect(way.setting).toBeLessThanOrEqual((machine.source.ceiling ?? 1) + 1e-9);
          if (!stepsFocus(machine)) expect(way.focusStepMm).toBe(0);
          expect(errors(planned(way), way.lens), JSON.stringify(way)).toEqual([]);
        }
      }),
      { numRuns: 30, seed: 152 },
    );
    expect([...seen].sort()).toEqual(['out-of-reach', 'prove', 'sure']);
  });

  it('has remedies that reach their limit when they are followed, and none only where it has no recipe', () => {
    const plans = fc.record({
      setting: fc.integer({ min: 20, max: 100 }).map((percent) => percent / 100),
      speedMmPerS: fc.integer({ min: 2, max: 100 }).map((halves) => halves / 2),
      passes: fc.integer({ min: 1, max: 3 }),
      focusMm: fc.integer({ min: -6, max: 2 }).map((halves) => halves / 2),
    });
    const seen = new Set<string>();
    fc.assert(
      fc.property(machines, sheets, plans, ({ text, machine }, sheet, plan) => {
        const lens = machine.lenses[0]!.id;
        const facts = (mm: number, settings: typeof plan & { focusStepMm: number }, under: string) =>
          factsOf(job(text, { ...sheet, mm }, under, planned(settings))).cuts[0]!;
        const { prediction, remedies } = facts(sheet.mm, { ...plan, focusStepMm: 0 }, lens);
        if (!prediction || prediction.throughProbability >= prediction.limit) return;
        expect(remedies.length).toBeGreaterThan(0);
        for (const remedy of remedies) {
          seen.add(remedy.kind);
          if (remedy.kind === 'none') continue;
          const after = facts(
            remedy.layerThicknessMm ?? sheet.mm,
            {
              setting: remedy.setting ?? plan.setting,
              speedMmPerS: remedy.speedMmPerS ?? plan.speedMmPerS,
              passes: remedy.passes ?? plan.passes,
              focusMm: remedy.focusMm ?? plan.focusMm,
              focusStepMm: remedy.focusStepMm ?? 0,
            },
            remedy.lens ?? lens,
          );
          expect(after.prediction!.throughProbability, remedy.text).toBeGreaterThanOrEqual(prediction.limit - ROUNDING);
          expect(remedy.setting ?? 0).toBeLessThanOrEqual((machine.source.ceiling ?? 1) + 1e-9);
        }
        const setup = setUp({
          machine,
          lens: machine.lenses[0]!,
          material: materialOf(sheet.material),
          thickness: nominal(sheet.mm),
        }).value!;
        const best = bestRecipe({
          setup,
          otherLenses: machine.lenses.slice(1),
          at: null,
          fastestMmPerS: machine.motion.speedMmPerS,
          focusMoves: stepsFocus(machine),
          stated: NOTHING_STATED,
        })!;
        const without = remedies.every(({ kind }) => kind === 'none' || kind === 'stack');
        expect(best.proposed === null, remedies[0]!.text).toBe(without);
      }),
      { numRuns: 50, seed: 153 },
    );
    for (const kind of ['slower', 'more-passes', 'other-recipe', 'stack', 'none']) expect(seen).toContain(kind);
  });
});
