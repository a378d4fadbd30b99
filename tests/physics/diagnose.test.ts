import { describe, expect, it } from 'vitest';
import { type Cause, type DiagnosisInput, rankCauses } from '../../src/physics/diagnosis/causes.ts';
import type { CauseKind, Observation } from '../../src/physics/diagnosis/observation.ts';
import { rescue } from '../../src/physics/diagnosis/rescue.ts';
import { kerfOf } from '../../src/physics/march/kerf.ts';
import { marchDepth } from '../../src/physics/march/march.ts';
import { pineCut } from './sample-cuts.ts';

const nothing: Observation = { depthMm: null, where: null, kerfMm: null, since: null, edge: null };
/** A cut that should have gone through with a probability of about 0.97. */
const cut = { ...pineCut(5.5), kerfThresholdJPerMm2: 0.2 };

function causesOf(seen: Partial<Observation>, change: Partial<DiagnosisInput> = {}): Cause[] {
  const result = rankCauses({ cut, seen: { ...nothing, ...seen }, hiddenGlue: false, ...change });
  if (result.causes === null) throw new Error(result.problem);
  return result.causes;
}

const find = (causes: Cause[], kind: CauseKind) => causes.find((each) => each.kind === kind)!;

describe('a diagnosis', () => {
  it('gives each cause the number with which the model reaches the depth that was seen', () => {
    const causes = causesOf({ depthMm: 4.5 });
    const reached = (change: Partial<typeof cut>) => {
      const after = { ...cut, ...change };
      return marchDepth(after.beam, after.stock, after.passes).depthMm;
    };
    const { powerFactor } = find(causes, 'power-weak');
    expect(
      reached({ passes: cut.passes.map((pass) => ({ ...pass, powerW: pass.powerW * powerFactor! })) }),
    ).toBeCloseTo(4.5, 3);
    const { removalFactor } = find(causes, 'material-harder');
    expect(reached({ stock: { ...cut.stock, removalJPerMm3: cut.stock.removalJPerMm3 * removalFactor! } })).toBeCloseTo(
      4.5,
      3,
    );
    const offs = causes.filter((each) => each.kind === 'focus-off');
    expect(offs.map((each) => Math.sign(each.focusOffMm!)).sort()).toEqual([-1, 1]);
    for (const { focusOffMm } of offs) {
      const passes = cut.passes.map((pass) => ({ ...pass, focusMm: pass.focusMm + focusOffMm! }));
      expect(reached({ passes })).toBeCloseTo(4.5, 1);
    }
    expect(find(causes, 'sheet-thicker').thicknessMm).toBeCloseTo(reached({}), 9);
  });

  it('shares the belief out', () => {
    const causes = causesOf({ depthMm: 5 });
    expect(causes.reduce((sum, each) => sum + each.weight, 0)).toBeCloseTo(1, 9);
    for (let i = 1; i < causes.length; i++) expect(causes[i]!.weight).toBeLessThanOrEqual(causes[i - 1]!.weight);
  });

  it('blames the settings when they were short to begin with', () => {
    const short = { ...cut, passes: [{ powerW: 50, speedMmPerS: 14, focusMm: 0 }] };
    expect(causesOf({ depthMm: 4.5, where: 'everywhere', since: 'always' }, { cut: short })[0]!.kind).toBe(
      'settings-short',
    );
  });

  it('blames the mirrors when the far corner alone fails', () => {
    expect(causesOf({ depthMm: 5, where: 'far-corner', since: 'gradually' })[0]!.kind).toBe('mirrors-drifting');
  });

  it('blames the material when patches of this sheet fail, the more where glue may hide', () => {
    const seen = { depthMm: 4, where: 'patches', since: 'this-sheet', edge: 'charred' } as const;
    const plain = causesOf(seen);
    expect(plain[0]!.kind).toBe('material-harder');
    const glued = causesOf(seen, { hiddenGlue: true });
    expect(find(glued, 'material-harder').weight).toBeGreaterThan(find(plain, 'material-harder').weight);
  });

  it('blames the focus when the kerf is far too wide, since suddenly', () => {
    const off = causesOf({ depthMm: 4.5 }).find((each) => each.kind === 'focus-off')!;
    const moved = cut.passes.map((pass) => ({ ...pass, focusMm: pass.focusMm + off.focusOffMm! }));
    const kerfMm = marchDepth(cut.beam, cut.stock, moved).topWidthMm * 1.5;
    expect(causesOf({ depthMm: 4.5, where: 'everywhere', since: 'suddenly', kerfMm, edge: 'wide' })[0]!.kind).toBe(
      'focus-off',
    );
  });

  it('takes the smaller of the two shifts of the focus for the bow of the sheet', () => {
    const causes = causesOf({ depthMm: 4.5 });
    const shifts = causes.filter((each) => each.kind === 'focus-off').map((each) => Math.abs(each.focusOffMm!));
    expect(shifts).toHaveLength(2);
    expect(find(causes, 'sheet-bowed').bowMm).toBe(Math.min(...shifts));
  });

  // A kerf read with a calliper is off by 20 % (1σ of its logarithm); how well a cause's own kerf fits is that Gaussian, and no
  // fit counts for less than a thousandth.
  it('weighs each cause by how well its kerf fits the one that was seen', () => {
    const without = causesOf({ depthMm: 4.5 });
    const weak = find(without, 'power-weak').powerFactor!;
    const kerfOfWeak = kerfOf({ ...cut, passes: cut.passes.map((p) => ({ ...p, powerW: p.powerW * weak })) }).kerfTopMm;
    const kerfOfHard = kerfOf(cut).kerfTopMm;
    expect(kerfOfHard).toBeGreaterThan(kerfOfWeak);
    const odds = (causes: Cause[]) => find(causes, 'material-harder').weight / find(causes, 'power-weak').weight;
    const match = (seen: number, own: number) => Math.max(1e-3, Math.exp(-0.5 * (Math.log(seen / own) / 0.2) ** 2));
    for (const kerfMm of [kerfOfWeak, kerfOfHard, kerfOfHard * 1.3, kerfOfHard * 50]) {
      const shift = odds(causesOf({ depthMm: 4.5, kerfMm })) / odds(without);
      expect(shift).toBeCloseTo(match(kerfMm, kerfOfHard) / match(kerfMm, kerfOfWeak), 6);
    }
  });

  it('is not swayed by a kerf where the beam is too weak for any cause to leave one', () => {
    const faint = { ...cut, kerfThresholdJPerMm2: 1e6 };
    const weights = (seen: Partial<Observation>) =>
      causesOf(seen, { cut: faint }).map(({ kind, weight }) => [kind, weight]);
    const seen = weights({ depthMm: 4.5, kerfMm: 0.3 });
    const without = weights({ depthMm: 4.5 });
    expect(seen.map(([kind]) => kind)).toEqual(without.map(([kind]) => kind));
    for (const [i, [, weight]] of seen.entries()) expect(weight).toBeCloseTo(without[i]![1] as number, 9);
  });

  it('refuses a cut that cannot be computed', () => {
    const result = rankCauses({ cut: { ...cut, thicknessMm: 0 }, seen: { ...nothing, depthMm: 4 }, hiddenGlue: false });
    expect(result.causes).toBeNull();
    expect(result.problem).toMatch(/thick/);
  });

  it('needs less of a fault for a shallower miss', () => {
    const near = find(causesOf({ depthMm: 6 }), 'power-weak').powerFactor!;
    const far = find(causesOf({ depthMm: 3 }), 'power-weak').powerFactor!;
    expect(near).toBeGreaterThan(far);
    expect(find(causesOf({}), 'power-weak').powerFactor, 'without a depth, the least that explains it').toBeGreaterThan(
      near,
    );
  });

  it.each<[string, Partial<Observation>, RegExp]>([
    ['a depth of 0', { depthMm: 0 }, /beam at all/],
    ['a depth that is no number', { depthMm: Number.NaN }, /explains nothing/],
    ['a kerf of 0', { kerfMm: 0 }, /kerf/],
  ])('says so of %s', (_, seen, message) => {
    const result = rankCauses({ cut, seen: { ...nothing, ...seen }, hiddenGlue: false });
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
