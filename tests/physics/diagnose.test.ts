import { describe, expect, it } from 'vitest';
import { type Cause, rankCauses } from '../../src/physics/diagnosis/causes.ts';
import type { Explanation } from '../../src/physics/diagnosis/explanation.ts';
import { CHECK_MINUTES, FAULTS } from '../../src/physics/diagnosis/fault-table.ts';
import type { CauseKind, FaultKind, Observation } from '../../src/physics/diagnosis/observation.ts';
import { rescue } from '../../src/physics/diagnosis/rescue.ts';
import type { FailedCut } from '../../src/physics/diagnosis/ways.ts';
import { kerfOf } from '../../src/physics/march/kerf.ts';
import { marchDepth } from '../../src/physics/march/march.ts';
import { NO_DOUBT, pineCut } from './sample-cuts.ts';
import { failedCutOf, faulty, KINDS } from './simulated-fault.ts';

const nothing: Observation = { depthMm: null, where: null, kerfMm: null, since: null, edge: null };
/** A cut that should have gone through with a probability of about 0.97. */
const cut = { ...pineCut(5.5), kerfThresholdJPerMm2: 0.2 };

function causesOf(seen: Partial<Observation>, change: Partial<FailedCut> = {}): Cause[] {
  const result = rankCauses(failedCutOf(change.cut ?? cut, change), { ...nothing, ...seen });
  if (result.causes === null) throw new Error(result.problem);
  return result.causes;
}

const find = (causes: Cause[], kind: CauseKind) => causes.find((each) => each.kind === kind)!;
const namedOf = (causes: Cause[]) => causes.filter(({ fit }) => fit !== 'not-alone').map(({ kind }) => kind);
const explanation = (causes: Cause[], fault: FaultKind): Explanation =>
  causes.flatMap(({ explanations }) => explanations).find((each) => each.fault === fault)!;

/** The depth that the stated values reach under an explanation over the one that was seen. */
function missedBy(each: Explanation, depthMm: number): number {
  const chosen = { choice: each.choice, refocused: each.refocused };
  const was = faulty(each.fault, failedCutOf(cut), each.value ?? 0, chosen);
  return marchDepth(was.beam, was.stock, was.passes).depthMm / depthMm;
}

describe('the table of faults', () => {
  it.each(KINDS)('has shares that make a whole, a mild end and a worst, and a source for its size: %s', (fault) => {
    const { cause, before, size, sizeSource, ...signs } = FAULTS[fault];
    for (const shares of [signs.where, signs.since, signs.edge]) {
      expect(Object.values<number>(shares).reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 12);
      for (const share of Object.values<number>(shares)) expect(share).toBeGreaterThan(0);
    }
    expect(before).toBeGreaterThan(0);
    expect(sizeSource).toMatch(/memory|common practice|derived|\.md|catalogue|profile/);
    expect(CHECK_MINUTES[cause]).toBeGreaterThan(0);
    if (size === null) return;
    const toWorse = size.quantity === 'powerFactor' ? size.mild - size.worst : size.worst - size.mild;
    expect(toWorse).toBeGreaterThan(0);
  });
});

describe('a diagnosis', () => {
  it.each<[FaultKind, number]>([
    ['panel-changed', 0.4],
    ['air-low', 1.6],
    ['focus-off', 2.5],
    ['source-weak', 0.7],
    ['lens-upside-down', 2],
    ['bed-out-of-level', 3],
    ['sheet-bowed', 4],
    ['glue', 2],
    ['sheet-denser', 1.3],
    ['mirrors-drifting', 0.5],
  ])('finds the size with which the model reaches the depth that was seen: %s of %d', (fault, size) => {
    const chosen = { choice: 'high', refocused: false };
    const was = faulty(fault, failedCutOf(cut), size, chosen);
    const depthMm = marchDepth(was.beam, was.stock, was.passes).depthMm;
    const found = explanation(causesOf({ depthMm }), fault);
    expect(found.fit).toBe('reproduces');
    expect(found.value).toBeCloseTo(size, 3);
    expect(found.spotMm).toBe(was.beam.spotMm);
    expect(found.removalJPerMm3).toBeCloseTo(was.stock.removalJPerMm3, 3);
  });

  it('tells a focus too high and one too low', () => {
    const { explanations } = find(causesOf({ depthMm: 4.5 }), 'focus-off');
    expect(explanations.map(({ choice }) => choice).sort()).toEqual(['high', 'low']);
    expect(explanations[0]!.value).toBeLessThan(explanations[1]!.value!);
  });

  it('names no cause that would need a size outside its range', () => {
    const causes = causesOf({ depthMm: 1 });
    for (const kind of ['sheet-thicker', 'source-weak', 'sheet-other', 'settings-short', 'air-low', 'glue'] as const) {
      expect(find(causes, kind)).toMatchObject({ fit: 'not-alone', share: 0 });
    }
    expect(namedOf(causes)).toEqual(expect.arrayContaining(['lens-wrong', 'mirrors-drifting']));
  });

  it('puts what does not explain it alone last, the nearest first', () => {
    const rest = causesOf({ depthMm: 1 }, { cut: { ...cut, doubt: NO_DOUBT } }).filter(
      ({ fit }) => fit === 'not-alone',
    );
    const misses = rest
      .filter(({ kind }) => kind !== 'sheet-thicker')
      .map(({ explanations }) => Math.abs(Math.log(explanations[0]!.depthMm)));
    expect(misses.length).toBeGreaterThan(3);
    expect(misses).toEqual(misses.toSorted((a, b) => a - b));
  });

  it('names each cause once, those that fit by how soon checking them finds the fault, shared out to a whole', () => {
    for (const depthMm of [null, 1, 4.5, 6]) {
      const causes = causesOf({ depthMm });
      expect(new Set(causes.map(({ kind }) => kind)).size).toBe(causes.length);
      const named = causes.filter(({ fit }) => fit !== 'not-alone');
      expect(causes.slice(0, named.length)).toEqual(named);
      expect(named.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
      const soonest = named.map(({ share, checkMinutes }) => share / checkMinutes);
      expect(soonest).toEqual(soonest.toSorted((a, b) => b - a));
    }
  });

  it('shows of several ways in which a fault may show those that reproduce it first, and the rest the nearest first', () => {
    let both = 0;
    for (let depthMm = 1; depthMm < 6.3; depthMm += 0.4) {
      for (const { explanations } of causesOf({ depthMm })) {
        for (const fault of new Set(explanations.map((each) => each.fault))) {
          const its = explanations.filter((each) => each.fault === fault);
          const reproducing = its.filter(({ fit }) => fit === 'reproduces');
          expect(its.slice(0, reproducing.length)).toEqual(reproducing);
          const rest = its.slice(reproducing.length);
          if (reproducing.length > 0 && rest.length > 0) both++;
          const misses = rest.map((each) => Math.abs(Math.log(missedBy(each, depthMm))));
          expect(misses).toEqual(misses.toSorted((a, b) => a - b));
        }
      }
    }
    expect(both).toBeGreaterThan(2);
  });

  it('shows of several ways in which a fault reproduces it the smaller before the larger', () => {
    const reproducing = causesOf({ depthMm: 4.5 }).flatMap(({ explanations }) =>
      explanations.filter(({ fit, fault }) => fit === 'reproduces' && fault === 'focus-off'),
    );
    expect(reproducing.length).toBeGreaterThan(1);
    expect(reproducing.map(({ value }) => value)).toEqual(reproducing.map(({ value }) => value).toSorted());
  });

  it('names none where nothing explains it', () => {
    const causes = causesOf({ depthMm: 0.05 });
    expect(namedOf(causes)).toEqual([]);
    for (const { share } of causes) expect(share).toBe(0);
  });

  it('takes a thicker sheet for the cause only where the declared one would have parted', () => {
    const barely = { ...cut, thicknessMm: marchDepth(cut.beam, cut.stock, cut.passes).depthMm - 0.3 };
    const thicker = explanation(causesOf({}, { cut: barely }), 'sheet-thicker');
    expect(thicker.fit).toBe('reproduces');
    expect(thicker.thicknessMm - barely.thicknessMm).toBeCloseTo(0.3, 3);
    expect(namedOf(causesOf({ depthMm: barely.thicknessMm * 0.97 }, { cut: barely }))).toContain('sheet-thicker');
    expect(namedOf(causesOf({ depthMm: barely.thicknessMm * 0.7 }, { cut: barely }))).not.toContain('sheet-thicker');
    expect(namedOf(causesOf({}, { cut: pineCut(3) }))).not.toContain('sheet-thicker');
  });

  it('blames the settings when they were short to begin with', () => {
    const short = { ...cut, passes: [{ powerW: 50, speedMmPerS: 14, focusMm: 0 }] };
    const depthMm = marchDepth(short.beam, short.stock, short.passes).depthMm;
    const causes = causesOf({ depthMm, where: 'everywhere', since: 'always', edge: 'clean' }, { cut: short });
    expect(causes[0]!.kind).toBe('settings-short');
    expect(namedOf(causesOf({ depthMm: 3 }))).not.toContain('settings-short');
  });

  it.each<[CauseKind, string, Partial<Observation>]>([
    [
      'mirrors-drifting',
      'the far corner alone failed, little by little',
      { where: 'far-corner', since: 'gradually', edge: 'clean' },
    ],
    [
      'bed-out-of-level',
      'the far corner alone always failed, wide',
      { where: 'far-corner', since: 'always', edge: 'wide' },
    ],
    ['air-low', 'it failed all at once, charred', { where: 'everywhere', since: 'suddenly', edge: 'charred' }],
    ['panel-changed', 'it failed all at once, clean', { where: 'everywhere', since: 'suddenly', edge: 'clean' }],
    ['focus-off', 'it failed all at once, wide', { where: 'everywhere', since: 'suddenly', edge: 'wide' }],
    [
      'lens-at-fault',
      'it grew worse little by little, charred',
      { where: 'everywhere', since: 'gradually', edge: 'charred' },
    ],
    ['sheet-bowed', 'patches of this sheet failed, wide', { where: 'patches', since: 'this-sheet', edge: 'wide' }],
  ])('puts %s first when %s', (kind, _, signs) => {
    expect(causesOf({ depthMm: 4.8, ...signs })[0]!.kind).toBe(kind);
  });

  it('believes glue the more where it is known to hide', () => {
    const seen = { depthMm: 4, where: 'patches', since: 'this-sheet', edge: 'charred' } as const;
    const odds = (glue: FailedCut['glue']) => {
      const causes = causesOf(seen, { glue });
      return find(causes, 'glue').share / find(causes, 'air-low').share;
    };
    expect(odds('hidden') / odds('usual')).toBeCloseTo(2, 9);
    expect(find(causesOf(seen, { glue: 'none' }), 'glue')).toBeUndefined();
  });

  it.each<[string, Partial<FailedCut>, CauseKind[]]>([
    ['mirrors where the source has none', { source: 'diode' }, ['mirrors-drifting']],
    ['another lens where there is none', { otherLenses: [] }, ['lens-wrong']],
  ])('does not blame %s', (_, change, kinds) => {
    const causes = causesOf({ depthMm: 4 }, change);
    for (const kind of kinds) expect(find(causes, kind)).toBeUndefined();
  });

  it('does not turn over a lens that a diode has built in, or whose upside is not known', () => {
    for (const change of [{ source: 'diode' }, { upsideDown: null }] as const) {
      expect(explanation(causesOf({ depthMm: 5 }, change), 'lens-upside-down')).toBeUndefined();
    }
  });

  it('believes another lens the more, the more lenses the machine has', () => {
    const far = failedCutOf(cut).otherLenses;
    const odds = (otherLenses: FailedCut['otherLenses']) => {
      const causes = causesOf({ depthMm: 1.5 }, { otherLenses });
      return find(causes, 'lens-wrong').share / find(causes, 'mirrors-drifting').share;
    };
    const twice = [far[0]!, { ...far[0]!, id: 'the same again' }];
    expect(odds(twice) / odds([far[0]!])).toBeCloseTo(2, 9);
  });

  // A kerf read with a calliper is off by 20 % (1σ of its logarithm); how well a cause's own kerf fits is that Gaussian, and no
  // fit counts for less than a thousandth.
  it('weighs each fault by how well its kerf fits the one that was seen', () => {
    const otherLenses = failedCutOf(cut)
      .otherLenses.slice(0, 1)
      .map((each) => ({ ...each, longerMm: 0 }));
    const odds = (causes: Cause[]) => find(causes, 'lens-wrong').share / find(causes, 'settings-short').share;
    const seen = { depthMm: 6 };
    const without = causesOf(seen, { otherLenses });
    const kerfOfOther = kerfOf({ ...cut, beam: otherLenses[0]!.beam }).kerfTopMm;
    const kerfOfRight = kerfOf(cut).kerfTopMm;
    expect(kerfOfOther).toBeLessThan(kerfOfRight);
    const match = (kerfMm: number, own: number) => Math.max(1e-3, Math.exp(-0.5 * (Math.log(kerfMm / own) / 0.2) ** 2));
    for (const kerfMm of [kerfOfOther, kerfOfRight, kerfOfRight * 1.3, kerfOfRight * 50]) {
      const shift = odds(causesOf({ ...seen, kerfMm }, { otherLenses })) / odds(without);
      expect(shift).toBeCloseTo(match(kerfMm, kerfOfOther) / match(kerfMm, kerfOfRight), 6);
    }
  });

  it('is not swayed by a kerf where the beam is too weak for any cause to leave one', () => {
    const faint = { ...cut, kerfThresholdJPerMm2: 1e6 };
    const otherMaterials: FailedCut['otherMaterials'] = [];
    const shares = (seen: Partial<Observation>) =>
      causesOf(seen, { cut: faint, otherMaterials }).map(({ kind, share }) => [kind, share] as const);
    const seen = shares({ depthMm: 4.5, kerfMm: 0.3 });
    const without = shares({ depthMm: 4.5 });
    expect(seen.map(([kind]) => kind)).toEqual(without.map(([kind]) => kind));
    for (const [i, [, share]] of seen.entries()) expect(share).toBeCloseTo(without[i]![1], 9);
  });

  it('can do without any doubt', () => {
    const sure = { ...cut, doubt: NO_DOUBT };
    expect(namedOf(causesOf({ depthMm: 4.5 }, { cut: sure }))).toContain('focus-off');
    expect(namedOf(causesOf({}, { cut: sure }))).toContain('air-low');
  });

  it('refuses a cut that cannot be computed', () => {
    const result = rankCauses(failedCutOf({ ...cut, thicknessMm: 0 }), { ...nothing, depthMm: 4 });
    expect(result.causes).toBeNull();
    expect(result.problem).toMatch(/thick/);
  });

  it('needs less of a fault for a shallower miss', () => {
    const factor = (seen: Partial<Observation>) => explanation(causesOf(seen), 'panel-changed').value!;
    expect(factor({ depthMm: 6 })).toBeGreaterThan(factor({ depthMm: 3 }));
    expect(factor({}), 'without a depth, the least that explains it').toBeGreaterThan(factor({ depthMm: 6 }));
  });

  it.each<[string, Partial<Observation>, RegExp]>([
    ['a depth of 0', { depthMm: 0 }, /beam at all/],
    ['a depth that is no number', { depthMm: Number.NaN }, /explains nothing/],
    ['a kerf of 0', { kerfMm: 0 }, /kerf/],
  ])('says so of %s', (_, seen, message) => {
    const result = rankCauses(failedCutOf(cut), { ...nothing, ...seen });
    expect(result.causes).toBeNull();
    expect(result.problem).toMatch(message);
  });
});

describe('rescuing a sheet that has not moved', () => {
  it('takes the fewest passes that do it, and those do at the hardness that was seen', () => {
    const found = rescue(cut, 4.5, 0.9, 5)!;
    expect(found.throughProbability).toBeGreaterThanOrEqual(0.9);
    const fewer = rescue(cut, 4.5, 0.9, found.extraPasses.length - 1);
    expect(fewer).toBeNull();
    expect(rescue(cut, 2.5, 0.9, 8)!.extraPasses.length).toBeGreaterThan(found.extraPasses.length);
  });

  it('takes a recipe that just reaches the limit, and none that just misses it', () => {
    const found = rescue(cut, 4.5, 0.9, 5)!;
    expect(rescue(cut, 4.5, found.throughProbability, 5)).toEqual(found);
    const more = rescue(cut, 4.5, found.throughProbability + 1e-9, 5);
    expect(more?.throughProbability ?? 1).toBeGreaterThan(found.throughProbability);
  });

  it('refuses a cut that cannot be computed', () => {
    expect(rescue({ ...cut, passes: [] }, 4.5, 0.9, 3)).toBeNull();
    expect(rescue({ ...cut, stock: { ...cut.stock, removalJPerMm3: -1 } }, 4.5, 0.9, 3)).toBeNull();
  });

  it('gives up where no such number of passes does, and where nothing was cut or it went through', () => {
    expect(rescue(cut, 0.3, 0.9, 3)).toBeNull();
    expect(rescue(cut, 0, 0.9, 3)).toBeNull();
    expect(rescue(cut, 6.35, 0.9, 3)).toBeNull();
    expect(rescue(cut, Number.NaN, 0.9, 3)).toBeNull();
  });
});
