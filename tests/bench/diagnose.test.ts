import { describe, expect, it } from 'vitest';
import { type Diagnosis, diagnoseJob, type Observation } from '../../src/bench/diagnosis/diagnose-job.ts';
import { causeWords, diagnosisReport } from '../../src/bench/diagnosis/diagnosis-report.ts';
import { cutOf, setUp } from '../../src/facts/bench/set-up.ts';
import { discoverJobs } from '../../src/job/files/discovery.ts';
import { predictCut } from '../../src/physics/doubt/predict.ts';
import { READERS } from '../../src/readers.ts';
import { memoryAccess } from '../memory-access.ts';
import { demoFiles, type Files, libraryOf, readers, shed, TODAY } from '../memory-shop.ts';
import { bench, materialText } from './on-bench.ts';

const NOTHING: Observation = { depthMm: null, where: null, kerfMm: null, since: null, edge: null };
const SIGN = { ...shed(), ...demoFiles('gate-sign.job.yaml', 'gate-sign.gcode', 'gate-sign.svg') };
const HUB = { ...shed(), ...demoFiles('weather-vane-hub.job.yaml', 'weather-vane-hub.gcode', 'weather-vane-hub.svg') };

const known = new Map<string, ReturnType<typeof diagnoseJob>>();

function diagnosed(seen: Partial<Observation>, files: Files = SIGN, task: string | null = null) {
  const key = JSON.stringify([seen, files, task]);
  const before = known.get(key);
  if (before !== undefined) return before;
  const [job] = discoverJobs(memoryAccess(files), READERS, [''], false).jobs;
  const result = diagnoseJob({
    job: job!,
    readers,
    library: libraryOf(files),
    options: { untrusted: false },
    today: TODAY,
    task,
    seen: { ...NOTHING, ...seen },
  });
  known.set(key, result);
  return result;
}

function diagnosis(seen: Partial<Observation>, files: Files = SIGN): Diagnosis {
  const { value, problem } = diagnosed(seen, files);
  if (value === null) throw new Error(problem);
  return value;
}

describe('diagnose', () => {
  it('ranks causes whose shares make a whole, the likeliest first', () => {
    const { causes } = diagnosis({ depthMm: 3 });
    const weights = causes.map((cause) => cause.weight);
    expect(weights).toEqual(weights.toSorted((a, b) => b - a));
    expect(weights.reduce((sum, weight) => sum + weight, 0)).toBeCloseTo(1, 9);
  });

  it.each<[string, Partial<Observation>, string]>([
    [
      'only the far corner failed and it grew worse little by little',
      { where: 'far-corner', since: 'gradually' },
      'mirrors-drifting',
    ],
    [
      'patches failed in this sheet, charred',
      { where: 'patches', since: 'this-sheet', edge: 'charred' },
      'material-harder',
    ],
    [
      'it failed everywhere all at once, with a wide kerf',
      { where: 'everywhere', since: 'suddenly', edge: 'wide' },
      'focus-off',
    ],
  ])('puts first what fits when %s', (_, seen, kind) => {
    expect(diagnosis({ depthMm: 3, ...seen }).causes[0]!.kind).toBe(kind);
  });

  it('blames the settings where the plan itself falls short', () => {
    const { causes } = diagnosis({ depthMm: 7.5, where: 'everywhere', since: 'always', edge: 'clean' }, HUB);
    expect(causes[0]!.kind).toBe('settings-short');
  });

  it('gives each cause the number that makes the model reach what was seen', () => {
    const { causes, passes, thicknessMm } = diagnosis({ depthMm: 3 });
    const setup = setUp(bench('poplar-plywood', thicknessMm)).value!;
    const weak = causes.find((cause) => cause.kind === 'power-weak')!;
    const [pass] = passes;
    const cut = cutOf(setup, { ...pass!, spread: 0, passes: 1, powerW: pass!.powerW * weak.powerFactor! });
    const { prediction } = predictCut({
      ...cut,
      doubt: { removal: 0, divergence: { low: 0.15, high: 0.15 }, power: 0, focusMm: 0, thicknessMm: 0 },
    });
    expect(prediction!.depthMm).toBeCloseTo(3, 1);
    expect(causeWords(weak, diagnosis({ depthMm: 3 }))).toMatch(
      /\d+ % of it, [\d.]+ W at full setting in place of 54 W/,
    );
  });

  it('works out the passes that would still part a sheet that has not moved', () => {
    const { rescue } = diagnosis({ depthMm: 3 });
    expect(rescue!.throughProbability).toBeGreaterThanOrEqual(0.9);
    expect(diagnosisReport(diagnosis({ depthMm: 3 }))).toMatch(/If the sheet has not moved: \d more pass/);
  });

  it('states the focus of those passes as it is set on the gauge, whatever offset a ramp found', () => {
    const text = materialText('poplar-plywood');
    const focus = 'focus: { offset: 0.8 mm, spread: 0.2 mm, source: "measured here: a ramp" }\n';
    const calibrated = { ...SIGN, 'materials/poplar-plywood.material.yaml': text + focus };
    const { rescue, passes } = diagnosis({ depthMm: 3 }, calibrated);
    for (const pass of rescue!.extraPasses) expect([0, -3.8]).toContain(pass.focusMm);
    expect(passes[0]!.focusMm).toBe(0);
  });

  it('proposes no passes where a few would not do, and asks for the depth where none is told', () => {
    expect(diagnosisReport(diagnosis({ depthMm: 0.4 }, HUB))).toMatch(/would hardly part it. Do not go on by guess/);
    expect(diagnosisReport(diagnosis({}))).toMatch(/say how deep it is \(--depth\)/);
  });

  it('gives every cause that it names a test', () => {
    const report = diagnosisReport(diagnosis({ depthMm: 3, where: 'everywhere' }));
    expect(report.match(/^ +\d+ %/gm)!.length).toBeGreaterThan(3);
    expect(report.match(/^ +Test: \S/gm)).toHaveLength(report.match(/^ +\d+ %/gm)!.length);
    expect(report).not.toMatch(/NaN|Infinity|undefined/);
  });

  it('takes the task that was likeliest to fail, or the one that is named', () => {
    expect(['rim', 'holes']).toContain(diagnosis({}, HUB).task);
    expect(diagnosed({}, HUB, 'rim').value!.task).toBe('rim');
    expect(diagnosed({}, HUB, 'rims').problem).toMatch(/no task "rims" must go through: there are/);
  });

  it.each<[string, Partial<Observation>, RegExp]>([
    ['a depth that is no less than the sheet', { depthMm: 4 }, /then it parted/],
    ['a depth of 0', { depthMm: 0 }, /explains nothing: was there a beam at all/],
    ['a kerf of 0', { kerfMm: 0 }, /the kerf cannot be 0 mm/],
  ])('is refused for %s', (_, seen, reason) => {
    expect(diagnosed(seen).problem).toMatch(reason);
  });

  it('says why where nothing can be predicted', () => {
    const vinyl = { ...shed(), ...demoFiles('plant-labels.job.yaml', 'plant-labels.svg') };
    expect(diagnosed({ depthMm: 0.2 }, vinyl).problem).toBe('vinyl must not be cut');
    const unknown = {
      ...SIGN,
      'gate-sign.job.yaml': String(SIGN['gate-sign.job.yaml']).replace('poplar-plywood', 'unknown'),
    };
    expect(diagnosed({}, unknown).problem).toMatch(/material/);
  });
});
