import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../src/cli/registered-rules.ts';
import type { JobFacts } from '../../src/facts/facts.ts';
import type { ReportDescriptor } from '../../src/findings/report-descriptor.ts';
import { type Files, factsOf, shed } from '../memory-shop.ts';

/**
 * No rule and no remedy advises what the model predicts to be worse: each piece of advice that changes a setting is followed, by
 * writing the sidecar again, and the whole street is asked what comes of it. Held against the project's own model, not against cuts.
 */

interface Plan {
  lens: string;
  material: string;
  thicknessMm: number;
  setting: number;
  speedMmPerS: number;
  passes: number;
  focusMm: number;
  focusStepMm: number;
}

const SQUARE =
  '<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="300mm" viewBox="0 0 400 300"><path fill="none" stroke="#9c36b5" d="M20 20H380V280H20Z"/></svg>';

const files = (plan: Plan): Files => ({
  ...shed(),
  'tray.svg': SQUARE,
  'tray.job.yaml': `kerflint: 1
machine: shed-60w
lens: ${plan.lens}
material: ${plan.material}
thickness: ${plan.thicknessMm} mm ± 0.2 mm
artwork: tray.svg
tasks:
  - name: rim
    aim: through
    power: ${(plan.setting * 100).toFixed(2)} %
    speed: ${plan.speedMmPerS} mm/s
    passes: ${plan.passes}
    focus: ${plan.focusMm.toFixed(3)} mm
    focus-step: ${plan.focusStepMm.toFixed(3)} mm
`,
});

const chanceIn = (facts: JobFacts): number => facts.cuts[0]!.prediction!.throughProbability;
const chanceOf = (plan: Plan): number => chanceIn(factsOf(files(plan)));

/** What a rule says of the facts, with its own limits. */
function said(facts: JobFacts, id: string): ReportDescriptor[] {
  const rule = RULES.find((one) => one.id === id)!;
  const options = Object.fromEntries(Object.entries(rule.options).map(([key, { default: value }]) => [key, value]));
  const answer = rule.check(facts, options as never);
  return 'notApplicable' in answer ? [] : [...answer];
}

const plans: fc.Arbitrary<Plan> = fc.record({
  lens: fc.constantFrom('1.5in', '2in', '4in'),
  material: fc.constantFrom('birch-plywood', 'cast-acrylic', 'mdf', 'card'),
  thicknessMm: fc.integer({ min: 3, max: 250 }).map((tenths) => tenths / 10),
  setting: fc.integer({ min: 15, max: 100 }).map((percent) => percent / 100),
  speedMmPerS: fc.integer({ min: 2, max: 80 }).map((halves) => halves / 2),
  passes: fc.integer({ min: 1, max: 4 }),
  focusMm: fc.integer({ min: -24, max: 12 }).map((halves) => halves / 2),
  focusStepMm: fc.constantFrom(0, 0, -0.5, -1, -2),
});

/** Rounding of what is typed, and of chances. */
const ROUNDING = 0.005;

/** Holds over random plans, the same each time; `seen` counts how often there was advice to follow. */
function holds(
  runs: number,
  seed: number,
  property: (plan: Plan, facts: JobFacts) => number,
  of: fc.Arbitrary<Plan> = plans,
): void {
  let seen = 0;
  fc.assert(
    fc.property(of, (plan) => {
      const facts = factsOf(files(plan));
      if (facts.cuts[0]?.prediction) seen += property(plan, facts);
    }),
    { numRuns: runs, seed },
  );
  expect(seen).toBeGreaterThan(5);
}

describe('advice is never predicted to be worse', () => {
  it('remedies bring the cut to the limit it is judged by', () => {
    holds(60, 11, (plan, facts) => {
      const [cut] = facts.cuts;
      const useful = cut!.remedies.filter(({ kind }) => kind !== 'none' && kind !== 'stack');
      for (const remedy of useful) {
        const after = chanceOf({
          ...plan,
          lens: remedy.lens ?? plan.lens,
          setting: remedy.setting ?? plan.setting,
          speedMmPerS: remedy.speedMmPerS ?? plan.speedMmPerS,
          passes: remedy.passes ?? plan.passes,
          focusMm: remedy.focusMm ?? plan.focusMm,
          focusStepMm: remedy.focusStepMm ?? (remedy.kind === 'more-passes' ? 0 : plan.focusStepMm),
        });
        expect(after, remedy.text).toBeGreaterThanOrEqual(cut!.prediction!.limit - 2 * ROUNDING);
      }
      return useful.length;
    });
  });

  it('another lens (focus/lens-too-short)', () => {
    holds(120, 12, (plan, facts) => {
      const advised = said(facts, 'focus/lens-too-short').filter(({ messageId }) => messageId === 'tooShort');
      for (const { args } of advised) {
        const focuses = [plan.focusMm, 0, -Math.round(plan.thicknessMm / 3)];
        const after = focuses.map((focusMm) => chanceOf({ ...plan, focusMm, lens: String(args['longer']) }));
        expect(Math.max(...after)).toBeGreaterThanOrEqual(chanceIn(facts) - ROUNDING);
      }
      return advised.length;
    });
  });

  it('another focus (focus/outside-sheet)', () => {
    holds(60, 13, (plan, facts) => {
      const advised = said(facts, 'focus/outside-sheet');
      for (const { messageId } of advised) {
        const moved = messageId === 'above' ? { focusMm: 0 } : { focusMm: -plan.thicknessMm / 2, focusStepMm: 0 };
        expect(chanceOf({ ...plan, ...moved }), messageId).toBeGreaterThanOrEqual(chanceIn(facts) - ROUNDING);
      }
      return advised.length;
    });
  });

  it('a focus that follows the cut (focus/unchanged-over-passes)', () => {
    // Seldom by chance: several passes that all but part a sheet.
    const nearly = fc.tuple(plans, fc.integer({ min: 2, max: 4 }), fc.integer({ min: 0, max: 4 })).map(
      ([plan, passes, halves]): Plan => ({
        ...plan,
        passes,
        focusMm: halves / 2,
        focusStepMm: 0,
        thicknessMm: 3 + plan.thicknessMm / 4,
        setting: 0.85,
        speedMmPerS: 8 + plan.speedMmPerS / 4,
      }),
    );
    holds(
      120,
      14,
      (plan, facts) => {
        const advised = said(facts, 'focus/unchanged-over-passes');
        if (advised.length > 0) {
          const after = chanceOf({ ...plan, focusStepMm: -plan.thicknessMm / plan.passes });
          expect(after).toBeGreaterThan(chanceIn(facts));
        }
        return advised.length;
      },
      nearly,
    );
  });

  it('going faster or with less power (cut/overburn)', () => {
    holds(80, 15, (plan, facts) => {
      const advised = said(facts, 'cut/overburn').filter(({ messageId }) => messageId === 'surplus');
      if (advised.length > 0) {
        const { energyRatio, limit } = facts.cuts[0]!.prediction!;
        const share = 4 / energyRatio;
        expect(chanceOf({ ...plan, setting: plan.setting * share })).toBeGreaterThanOrEqual(limit);
        expect(chanceOf({ ...plan, speedMmPerS: plan.speedMmPerS / share })).toBeGreaterThanOrEqual(limit);
      }
      return advised.length;
    });
  });

  it('the recommended power at a lower speed (power/above-recommended)', () => {
    holds(80, 16, (plan, facts) => {
      const advised = said(facts, 'power/above-recommended');
      if (advised.length > 0) {
        const ceiling = facts.machine!.source.ceiling!;
        const after = chanceOf({ ...plan, setting: ceiling, speedMmPerS: (plan.speedMmPerS * ceiling) / plan.setting });
        expect(after).toBeGreaterThanOrEqual(chanceIn(facts) - 0.01);
      }
      return advised.length;
    });
  });
});
