import { describe, expect, it } from 'vitest';
import type { CuredJob } from '../../../src/facts/cure/cure-fact.ts';
import { curedJobs, cutsThatFallShort } from '../../../src/facts/cure/cured-jobs.ts';
import type { CutFact, RemedyFact } from '../../../src/facts/cuts/cut-fact.ts';
import { powerSpreadOf, predictorUnder } from '../../../src/facts/cuts/predictor-under.ts';
import { unchanged } from '../../../src/facts/cuts/remedy-text.ts';
import type { JobFacts } from '../../../src/facts/facts.ts';
import {
  artworkOnly,
  at,
  type Change,
  cut,
  facts,
  machine,
  pass,
  prediction,
  sidecar,
} from '../../rules/build-facts.ts';

const remedy = (change: Partial<RemedyFact>): RemedyFact => ({ ...unchanged('slower', 'Slow', 0.95), ...change });
const slowTo = (speedMmPerS: number, lens: string | null = null) =>
  remedy({ kind: lens === null ? 'slower' : 'other-lens', lens, speedMmPerS });

/** A through cut of this chance, with the remedies given. */
const short = (throughProbability: number, remedies: readonly RemedyFact[], change: Change<CutFact> = {}): CutFact =>
  cut({ prediction: prediction({ throughProbability }), remedies, throughWithFocusStep: 0.4, ...change });

const jobOf = (cuts: readonly CutFact[], change: Change<JobFacts> = {}): JobFacts => facts({ cuts, ...change });
const curesOf = (job: JobFacts): CuredJob[] => [...curedJobs(job)];

/** What the job's machine makes of these passes under one of its lenses. */
function predictedUnder(
  job: JobFacts,
  lensId: string,
  passes: CutFact['passes'],
  wanted: 'through' | 'depth' = 'through',
) {
  const lens = job.machine!.lenses.find(({ id }) => id === lensId)!;
  const answer = predictorUnder(job, lens)!.predict(passes, powerSpreadOf(job, passes), wanted);
  if ('problem' in answer) throw new Error(answer.problem);
  return answer.prediction;
}

describe('cuts fall short', () => {
  it('if they must go through and are less sure than they are held to', () => {
    const [below, on, groove] = [short(0.899, []), short(0.9, []), short(0.1, [], { aim: 'groove' })];
    const unknown = cut({ prediction: null, notPredicted: 'whatever' });
    expect(cutsThatFallShort([on, groove, below, unknown])).toEqual([below]);
  });
});

describe('no change is found', () => {
  it.each<[string, JobFacts]>([
    ['no cut goes through', jobOf([short(0.5, [slowTo(3)], { aim: 'groove' })])],
    ['no lens is fitted', { ...jobOf([short(0.5, [slowTo(3)])]), lens: null }],
    ['the machine is not known', { ...jobOf([short(0.5, [slowTo(3)])]), machine: null }],
    ['no cut falls short', jobOf([short(0.95, [slowTo(3)])])],
    ['nothing would help', jobOf([short(0.5, [remedy({ kind: 'none' })])])],
    ['only other sheets would help', jobOf([short(0.5, [remedy({ kind: 'stack', speedMmPerS: 3 })])])],
    ['the machine has no such lens', jobOf([short(0.5, [slowTo(3, '3in')])])],
    ['the sheet is not known', { ...jobOf([short(0.5, [slowTo(3)])]), thicknessMm: null }],
    ['the remedy cannot be computed', jobOf([short(0.5, [slowTo(0)])])],
    [
      'another task has no remedy under that lens',
      jobOf([short(0.5, [slowTo(3)]), short(0.6, [slowTo(3, '4in')], { taskIndex: 1 })]),
    ],
  ])('where %s', (_, job) => {
    expect(curesOf(job)).toEqual([]);
  });

  it('under a lens that gives no beam, and one under the next', () => {
    const [fitted, long] = machine().lenses;
    const job = jobOf([short(0.5, [slowTo(3, 'broken'), slowTo(3, '4in')])], {
      machine: machine({ lenses: [fitted!, { ...long!, id: 'broken', focalMm: 0 }, long!] }),
    });
    expect(curesOf(job).map(({ cure }) => cure.lens)).toEqual(['4in']);
  });
});

describe('a change under the lens that is fitted', () => {
  const before = short(0.5, [slowTo(3)], {
    passes: [pass({ scaled: false })],
    published: { parted: null, notParted: null },
    slowestMmPerS: 2,
    cornerOverburn: 6,
  });
  const job = jobOf([before]);
  const [only, ...others] = curesOf(job);
  const after = only!.facts.cuts[0]!;

  it('is one: its cut has the remedy’s passes and is predicted anew, without what was said of the plan', () => {
    expect(others).toEqual([]);
    const passes = [pass({ scaled: false, speedMmPerS: 3, programmedMmPerS: 3 })];
    expect(after).toEqual({
      ...before,
      passes,
      passCount: 1,
      prediction: predictedUnder(job, '2in', passes),
      remedies: [],
      published: null,
      slowestMmPerS: 2,
      cornerOverburn: 1.5,
      throughWithFocusStep: null,
    });
    expect(after.prediction!.throughProbability).toBeGreaterThan(0.9);
  });

  it('says what it changes, how sure the job then is, and what it takes and puts at stake', () => {
    const { cure } = only!;
    expect(cure).toMatchObject({
      lens: '2in',
      otherLens: false,
      cuts: [{ index: 0, remedy: before.remedies[0], cut: after }],
    });
    expect(cure.throughProbability).toBe(after.prediction!.throughProbability);
    // One of four strokes is the cut’s: 80 mm at 3 mm/s for 80 mm at 12.
    expect(cure.time!.cuttingS).toBeCloseTo(25 + 80 / 3 - 80 / 12, 9);
    expect(cure.waste!.expected).toBeCloseTo(cure.waste!.atStake * (1 - cure.throughProbability), 2);
  });

  it('is carried into the facts of the job', () => {
    const { lens, lensAssumed, time, waste, speeds, longerLens } = only!.facts;
    expect([lens!.id, lensAssumed, time, waste]).toEqual(['2in', false, only!.cure.time, only!.cure.waste]);
    expect(speeds).toEqual([
      { belowShare: 0, reachedMmPerS: 3, programmedMmPerS: 3, location: at('coaster.gcode', 7) },
    ]);
    expect(longerLens).toMatchObject({ lens: '4in', focalMm: 101.6 });
  });

  it.each<[string, Change<CutFact>, number, number]>([
    ['in its corners where power is constant', { slowestMmPerS: 2, passes: [pass({ scaled: false })] }, 2, 1.5],
    ['nowhere where no corner is slower', { slowestMmPerS: 9, passes: [pass({ scaled: false })] }, 3, 1],
    ['nowhere where power follows the speed', { slowestMmPerS: 2, passes: [pass()] }, 2, 1],
    ['as one of its passes does', { slowestMmPerS: 2, passes: [pass(), pass({ scaled: false })] }, 2, 1.5],
    ['nowhere where nothing is known of it', { slowestMmPerS: 0, passes: [pass({ scaled: false })] }, 0, 1],
  ])('burns %s', (_, change, slowestMmPerS, cornerOverburn) => {
    const [cured] = curesOf(jobOf([short(0.5, [slowTo(3)], change)]));
    expect(cured!.facts.cuts[0]).toMatchObject({ slowestMmPerS, cornerOverburn });
  });
});

describe('the cuts of a job with a change', () => {
  const changedOf = (job: JobFacts) =>
    curesOf(job)[0]!.cure.cuts.map(({ index, cut: { passes } }) => [index, passes[0]!.programmedMmPerS]);

  it('take the remedy of the least sure cut of their task, the first of those that are as sure', () => {
    expect(changedOf(jobOf([short(0.6, [slowTo(4)]), short(0.5, [slowTo(3)]), short(0.7, [slowTo(5)])]))).toEqual([
      [0, 3],
      [1, 3],
      [2, 3],
    ]);
    expect(changedOf(jobOf([short(0.5, [slowTo(3)]), short(0.5, [slowTo(2)])]))).toEqual([
      [0, 3],
      [1, 3],
    ]);
  });

  it('take that of their own task', () => {
    const other = short(0.6, [slowTo(2)], { taskIndex: 1 });
    expect(changedOf(jobOf([short(0.5, [slowTo(3)]), other]))).toEqual([
      [0, 3],
      [1, 2],
    ]);
  });

  it('stay as they are where they are sure, need not go through or are not predicted', () => {
    const sure = short(0.95, []);
    const groove = short(0.1, [], { aim: 'groove' });
    const unknown = cut({ prediction: null, notPredicted: 'whatever' });
    const cuts = [sure, groove, unknown, short(0.5, [slowTo(3)])];
    const [cured] = curesOf(jobOf(cuts));
    expect(cured!.cure.cuts.map(({ index }) => index)).toEqual([3]);
    for (const i of [0, 1, 2]) expect(cured!.facts.cuts[i]).toBe(cuts[i]);
    const after = cured!.facts.cuts[3]!.prediction!.throughProbability;
    expect(cured!.cure.throughProbability).toBe(Math.min(0.95, after));
  });

  it('have their share of length below speed as before, and the speed that they would be programmed with', () => {
    const speeds = [12, 40].map((mmPerS, i) => ({
      belowShare: 0.25 * i,
      reachedMmPerS: mmPerS - 10,
      programmedMmPerS: mmPerS,
      location: at('coaster.gcode', 7 + i),
    }));
    const [cured] = curesOf(jobOf([short(0.5, [slowTo(3)]), cut({ passes: [], prediction: null })], { speeds }));
    expect(cured!.facts.speeds.map((one) => [one.belowShare, one.reachedMmPerS, one.programmedMmPerS])).toEqual([
      [0, 2, 3],
      [0.25, 30, 40],
    ]);
  });
});

describe('a change to another lens', () => {
  const groove = cut({ aim: 'groove', taskIndex: 1, prediction: prediction({ throughProbability: 0.01 }) });
  const sure = short(0.95, [], { taskIndex: 2 });
  const job = jobOf([short(0.5, [slowTo(4), slowTo(3, '4in'), slowTo(5)]), groove, sure], { lensAssumed: true });
  const [own, other, ...more] = curesOf(job);

  it('stands where its remedy does, each lens once', () => {
    expect([own, other].map((one) => [one!.cure.lens, one!.cure.otherLens])).toEqual([
      ['2in', false],
      ['4in', true],
    ]);
    expect(more).toEqual([]);
    expect(own!.cure.cuts[0]!.remedy).toBe(job.cuts[0]!.remedies[0]);
  });

  it('has every cut of the job predicted under it, those that keep their recipe without a remedy', () => {
    const { cuts } = other!.cure;
    expect(cuts.map(({ index, remedy: one }) => [index, one])).toEqual([
      [0, job.cuts[0]!.remedies[1]],
      [1, null],
      [2, null],
    ]);
    expect(cuts[1]!.cut.prediction).toEqual(predictedUnder(job, '4in', groove.passes, 'depth'));
    expect(cuts[2]!.cut.prediction).toEqual(predictedUnder(job, '4in', sure.passes));
    expect(cuts[1]!.cut.passes).toBe(groove.passes);
  });

  it('is fitted, with its beam, and leaves no longer one to ask for', () => {
    const { lens, lensAssumed, beam, longerLens } = other!.facts;
    expect([lens!.id, lensAssumed, longerLens]).toEqual(['4in', false, null]);
    expect(beam!.spotMm).toBeGreaterThan(own!.facts.beam!.spotMm);
    expect(beam!.spotBasis).toBe('computed');
  });

  it('takes longer only where the recipe changes', () => {
    expect(other!.cure.time!.cuttingS).toBeCloseTo(25 + 80 / 3 - 80 / 12, 9);
  });
});

describe('what a change puts at stake', () => {
  const priced = (job: JobFacts): JobFacts => ({
    ...job,
    input: { ...job.input, sidecar: sidecar({ sheet: { price: { amount: 10, currency: 'EUR' } } }) },
  });
  const sheetOf = (job: JobFacts) => curesOf(priced(job))[0]!.cure.waste!.sheet;

  it('is the sheet’s share under the toolpath, else under the artwork: of 300 × 200 mm at 10 EUR', () => {
    const cuts = [short(0.5, [slowTo(3)])];
    expect(sheetOf(jobOf(cuts))).toBeCloseTo((10 * 90 * 80) / 60000, 9);
    expect(sheetOf(artworkOnly({ cuts }))).toBeCloseTo(0.93, 9);
    expect(sheetOf({ ...artworkOnly({ cuts }), artwork: null })).toBe(0);
  });

  it('is not known where no time is', () => {
    const [cured] = curesOf({ ...jobOf([short(0.5, [slowTo(3)])]), time: null });
    expect(cured!.cure).toMatchObject({ time: null, waste: null });
  });
});
