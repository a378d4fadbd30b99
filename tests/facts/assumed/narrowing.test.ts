import { describe, expect, it } from 'vitest';
import { answerOf, narrowing, passesOfRecipe } from '../../../src/facts/assumed/narrowing.ts';
import { opticsOf } from '../../../src/facts/cuts/optics.ts';
import { powerFact } from '../../../src/facts/cuts/power.ts';
import { predictorOf } from '../../../src/facts/cuts/predictor-of-job.ts';
import type { Recipe } from '../../../src/facts/recipes/recipe-fact.ts';
import type { Machine } from '../../../src/facts/types.ts';
import { cut, machine, material, pass, prediction } from '../../rules/build-facts.ts';
import { proposal, recipe } from '../../rules/build-recipes.ts';

/** A sheet on a machine, under its first lens. */
const predictorOn = (on: Machine, mm = 3) =>
  predictorOf({
    machine: on,
    optics: opticsOf(on, null),
    power: powerFact(on),
    material: material(),
    thickness: { mm, plusMinusMm: 0.1, nominal: false },
    bowMm: 0,
  }).predictor!;

/** What is proposed for a cut, and the surest recipe for it. */
const proposed = (surest: Recipe, one: Recipe | null) => proposal([cut()], { surest, proposed: one });

describe('the passes that a recipe asks for', () => {
  it('are as many as it has, each with the focus a step further on', () => {
    const passes = passesOfRecipe(recipe({ passes: 3, focusMm: -0.5, focusStepMm: -2 }));
    const same = { powerW: 45.9, setting: 0.85, speedMmPerS: 4, programmedMmPerS: 4, air: false, scaled: true };
    expect(passes).toEqual([-0.5, -2.5, -4.5].map((focusMm) => ({ ...same, focusMm })));
  });
});

describe('the prediction that a job hangs on most', () => {
  const predictor = predictorOn(machine());
  const sure = (throughProbability: number, speedMmPerS: number) =>
    cut({ prediction: prediction({ throughProbability }), passes: [pass({ speedMmPerS })] });

  it('is that of its least sure cut, whatever is proposed for others', () => {
    const cuts = [sure(0.9, 10), sure(0.4, 20), sure(0.7, 30)];
    const answer = answerOf(predictor, cuts, [proposed(recipe({ throughProbability: 0.1 }), null)])!;
    expect(answer.setup).toBe(predictor.setup);
    expect(answer.passes).toBe(cuts[1]!.passes);
  });

  it('is the least sure of what is proposed where no cut was predicted: the surest where nothing is', () => {
    const answer = (...proposals: ReturnType<typeof proposed>[]) =>
      answerOf(predictor, [cut({ prediction: null })], proposals)?.passes.map(({ speedMmPerS }) => speedMmPerS) ?? null;
    const fast = proposed(
      recipe({ passes: 1, speedMmPerS: 5 }),
      recipe({ passes: 1, speedMmPerS: 20, throughProbability: 0.92 }),
    );
    const slow = proposed(recipe({ passes: 1, speedMmPerS: 4, throughProbability: 0.5 }), null);
    const mean = proposed(recipe({ passes: 1, speedMmPerS: 6, throughProbability: 0.7 }), null);
    expect(answer(fast)).toEqual([20]);
    expect(answer(fast, slow, mean)).toEqual([4]);
    expect(answer(slow, fast)).toEqual([4]);
    // Of two that are as sure the first counts.
    expect(answer(slow, proposed(recipe({ passes: 1, speedMmPerS: 7, throughProbability: 0.5 }), null))).toEqual([4]);
    expect(answer()).toBeNull();
  });

  it('is under the lens of what is proposed', () => {
    const under = (lens: string) => answerOf(predictor, [], [proposed(recipe({ lens }), null)])?.setup.lens.id ?? null;
    expect([under('2in'), under('4in'), under('9in')]).toEqual(['2in', '4in', null]);
  });

  it('is none where nothing can be predicted, or not under that lens', () => {
    expect(answerOf(null, [sure(0.4, 20)], [])).toBeNull();
    const lenses = machine().lenses.map((lens) => (lens.id === '4in' ? { ...lens, focalMm: -1 } : lens));
    expect(answerOf(predictorOn(machine({ lenses })), [], [proposed(recipe({ lens: '4in' }), null)])).toBeNull();
  });
});

describe('the measurement that would narrow the depth most', () => {
  const doubt = (key: string, spread: number) => ({ key, value: 1, unit: 'mm', spread, basis: 'usual' });
  const OPEN = machine({
    source: { measuredW: null },
    assumed: [doubt('beam.m2', 0.1), doubt('beam.diameter', 0.6)],
  });
  const key = (name: string, inDoubt = true) => ({ key: name, value: 1, unit: null, basis: 'usual', inDoubt });
  const passes = [pass({ powerW: 43, speedMmPerS: 20 })];
  const on = (of: Machine) => ({ setup: predictorOn(of).setup, passes });

  it('is the one that leaves the narrowest band, in thousandths', () => {
    const answer = on(OPEN);
    const alone = (name: string) => narrowing(answer, [key(name)]);
    const power = alone('source.measured')!;
    expect(power.key).toBe('source.measured');
    expect(power.toShare).toBeLessThan(power.fromShare);
    for (const share of [power.fromShare, power.toShare]) expect(share).toBe(Number(share.toFixed(3)));
    // The spot that follows from the diameter can be measured as well, and says no less than that.
    const both = narrowing(answer, [key('beam.diameter'), key('source.measured')])!;
    const least = Math.min(power.toShare, alone('beam.diameter')?.toShare ?? 1);
    expect(both.toShare).toBeLessThanOrEqual(least);
    expect(both.fromShare).toBe(power.fromShare);
  });

  it('may be the spot where it is computed from what is in doubt: either of what makes it', () => {
    const vague = machine({ assumed: [doubt('beam.m2', 0.5), doubt('beam.diameter', 0.1)] });
    const best = (...names: string[]) =>
      narrowing(
        on(vague),
        names.map((name) => key(name)),
      )?.key ?? null;
    expect([best('beam.m2'), best('beam.diameter'), best('beam.m2', 'beam.diameter')]).toEqual(
      Array.from({ length: 3 }, () => 'lenses.2in.spot'),
    );
    expect(best('motion.speed')).toBeNull();
    // Stated already, there is nothing to measure of it.
    const [first] = vague.lenses as [Machine['lenses'][0]];
    const stated = { ...vague, lenses: [{ ...first, spotMm: { xMm: 0.2, yMm: 0.2 } }] };
    expect(narrowing(on(stated), [key('beam.m2')])).toBeNull();
  });

  it('is the best of several, wherever it stands among them', () => {
    // Slowly through 12 mm the diameter brings more than M², and more than the spot of both.
    const thick = machine({ assumed: [doubt('beam.m2', 0.3), doubt('beam.diameter', 0.3)] });
    const answer = { setup: predictorOn(thick, 12).setup, passes: [pass({ powerW: 43, speedMmPerS: 3 })] };
    const best = (...names: string[]) =>
      narrowing(
        answer,
        names.map((name) => key(name)),
      )!.key;
    expect(best('beam.m2')).toBe('beam.m2');
    expect(best('beam.m2', 'beam.diameter')).toBe('beam.diameter');
    expect(best('beam.diameter', 'beam.m2')).toBe('beam.diameter');
  });

  it('brings what the prediction would have with it in the profile', () => {
    const named = ['source.measured', 'beam.diameter', 'beam.m2'];
    /** Half the band on a machine, which every narrowing starts from. */
    const half = (of: Machine) => {
      const found = named.flatMap((name) => narrowing(on(of), [key(name)]) ?? []);
      return found[0]!.fromShare;
    };
    const doubts = [doubt('beam.m2', 0.5), doubt('beam.diameter', 0.3)];
    const open = machine({ source: { measuredW: null }, assumed: doubts });
    const [lens] = open.lenses as [Machine['lenses'][0]];
    const { spotMm } = predictorOn(open).setup.beam;
    const spotStated = { ...open, lenses: [{ ...lens, spotMm: { xMm: spotMm, yMm: spotMm } }] };
    expect(narrowing(on(open), [key('beam.m2')])).toEqual({
      key: 'lenses.2in.spot',
      fromShare: half(open),
      toShare: half(spotStated),
    });
    const measured = machine({ source: { measuredW: 60 }, assumed: doubts });
    expect(narrowing(on(open), [key('source.measured')])!.toShare).toBe(half(measured));
  });

  it('is none where nothing is in doubt, or it is the power and that was measured', () => {
    expect(narrowing(on(OPEN), [])).toBeNull();
    expect(narrowing(on(OPEN), [key('source.measured', false), key('beam.diameter', false)])).toBeNull();
    expect(narrowing(on(machine({ assumed: OPEN.assumed })), [key('source.measured')])).toBeNull();
  });

  it('is none where the passes or the profile give no depth', () => {
    const of = (speedMmPerS: number) => ({ ...on(OPEN), passes: [pass({ speedMmPerS })] });
    expect(narrowing(of(20), [key('source.measured')])).not.toBeNull();
    expect(narrowing(of(Number.NaN), [key('source.measured')])).toBeNull();
    expect(narrowing({ ...on(OPEN), passes: [pass({ powerW: 0 })] }, [key('source.measured')])).toBeNull();
    const { setup } = on(OPEN);
    const noBeam = { ...setup, lens: { ...setup.lens, focalMm: -1 } };
    expect(narrowing({ setup: noBeam, passes }, [key('source.measured')])).toBeNull();
  });
});
