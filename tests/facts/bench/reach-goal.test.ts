// Where a proposed change lies on the chart of what the machine reaches: a curve of its own only where the chart's is not of its passes.
import { describe, expect, it } from 'vitest';
import { reachGoal } from '../../../src/facts/bench/job-reach.ts';
import { curedJobs } from '../../../src/facts/cure/cured-jobs.ts';
import type { PassFact } from '../../../src/facts/cuts/cut-fact.ts';
import { demoFiles, factsOf, shed } from '../../memory-shop.ts';

const facts = factsOf({
  ...shed(),
  ...demoFiles('weather-vane-hub.gcode', 'weather-vane-hub.svg', 'weather-vane-hub.job.yaml'),
});
const [cured] = [...curedJobs(facts)];
/** The passes that the chart is of: equal ones, with those of the least sure cut. */
const chart = [...facts.cuts].sort((a, b) => a.prediction!.throughProbability - b.prediction!.throughProbability)[0]!
  .passes;
/** Where the change lies whose cuts all have these passes. */
const goalWith = (passes: readonly PassFact[]) =>
  reachGoal(
    facts,
    { ...cured!, facts: { ...cured!.facts, cuts: cured!.facts.cuts.map((cut) => ({ ...cut, passes: [...passes] })) } },
    new Map(),
  )!;
const changed = (change: Partial<PassFact>) => chart.map((pass) => ({ ...pass, ...change }));

describe('the change that is shown on the chart of reach', () => {
  it('needs no curve of its own where it changes nothing but the speed', () => {
    const goal = goalWith(changed({ programmedMmPerS: 1.5, speedMmPerS: 1.5 }));
    expect(goal).toMatchObject({ speedMmPerS: 1.5, passes: chart.length, setting: chart[0]!.setting, points: [] });
  });

  it.each([
    ['of more passes', [...chart, ...chart]],
    ['at another power', changed({ setting: chart[0]!.setting / 2 })],
    ['at another focus', changed({ focusMm: chart[0]!.focusMm - 1 })],
  ])('has one where it is %s', (_, passes) => {
    const goal = goalWith(passes);
    expect(goal).toMatchObject({ passes: passes.length, setting: passes[0]!.setting });
    expect(goal.points.length).toBeGreaterThan(2);
  });

  it('is that of the least sure cut that changes', () => {
    const [cut] = cured!.facts.cuts;
    const speeds = [9, 5, 7];
    const chances = [0.3, 0.6, 0.5];
    const cuts = speeds.map((speed, k) => ({
      ...cut!,
      passes: cut!.passes.map((pass) => ({ ...pass, programmedMmPerS: speed })),
      prediction: { ...cut!.prediction!, throughProbability: chances[k]! },
    }));
    const { remedy } = cured!.cure.cuts.find((one) => one.remedy !== null)!;
    const changes = [null, remedy, remedy].map((change, index) => ({ index, remedy: change, cut: cuts[index]! }));
    const goal = reachGoal(
      facts,
      { ...cured!, cure: { ...cured!.cure, cuts: changes }, facts: { ...cured!.facts, cuts } },
      new Map(),
    );
    expect(goal).toMatchObject({ speedMmPerS: 7, probability: 0.5 });
  });

  it('has none where the focus is moved from pass to pass, since curves are of passes at one focus', () => {
    const stepped = [...chart, ...chart].map((pass, k) => ({ ...pass, focusMm: -k }));
    expect(goalWith(stepped).points).toEqual([]);
  });
});
