import { describe, expect, it } from 'vitest';
import { CHECKS, causeWords, checkWords } from '../../src/bench/diagnosis/cause-texts.ts';
import {
  type Diagnosis,
  diagnoseJob,
  EDGE,
  type Observation,
  SINCE,
  WHERE,
} from '../../src/bench/diagnosis/diagnose-job.ts';
import { diagnosisReport } from '../../src/bench/diagnosis/diagnosis-report.ts';
import { cutOf, setUp } from '../../src/facts/bench/set-up.ts';
import { discoverJobs } from '../../src/job/files/discovery.ts';
import type { Library } from '../../src/job/files/library.ts';
import { predictCut } from '../../src/physics/doubt/predict.ts';
import { READERS } from '../../src/readers.ts';
import { memoryAccess } from '../memory-access.ts';
import { demoFiles, type Files, libraryOf, readers, shed, TODAY } from '../memory-shop.ts';
import { bench, materialText, shedText } from './on-bench.ts';

const NOTHING: Observation = { depthMm: null, where: null, kerfMm: null, since: null, edge: null };
const SIGN = { ...shed(), ...demoFiles('gate-sign.job.yaml', 'gate-sign.gcode', 'gate-sign.svg') };
const HUB = { ...shed(), ...demoFiles('weather-vane-hub.job.yaml', 'weather-vane-hub.gcode', 'weather-vane-hub.svg') };

/** One library for all diagnoses with the same files: it reads every material. */
const libraries = new Map<Files, Library>();
function libraryWith(files: Files): Library {
  const library = libraries.get(files) ?? libraryOf(files);
  libraries.set(files, library);
  return library;
}

const known = new Map<string, ReturnType<typeof diagnoseJob>>();

function diagnosed(seen: Partial<Observation>, files: Files = SIGN, task: string | null = null) {
  const key = JSON.stringify([seen, files, task]);
  const before = known.get(key);
  if (before !== undefined) return before;
  const [job] = discoverJobs(memoryAccess(files), READERS, [''], false).jobs;
  const result = diagnoseJob({
    job: job!,
    readers,
    library: libraryWith(files),
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

/** The usual terminal. */
const SCREEN = { columns: 80, rows: 24 };
const report = (seen: Partial<Observation>, files: Files = SIGN) => diagnosisReport(diagnosis(seen, files), SCREEN);
const rowsOf = (text: string, columns = SCREEN.columns) =>
  text
    .trimEnd()
    .split('\n')
    .reduce((sum, line) => sum + Math.max(1, Math.ceil(line.length / columns)), 0);
const fitting = ({ causes }: Diagnosis) => causes.filter(({ fit }) => fit !== 'not-alone');

/** What may be seen, drawn so that each word and each depth comes up with others. */
const OBSERVED: Partial<Observation>[] = [null, 0.2, 0.8, 2, 3, 3.9].flatMap((depthMm, i) =>
  WHERE.map((where, j) => ({
    depthMm,
    where,
    since: SINCE[(i + j) % SINCE.length]!,
    edge: EDGE[(i + 2 * j) % EDGE.length]!,
    kerfMm: i % 2 === 0 ? null : 0.3,
  })),
);

describe('diagnose', () => {
  it('shares the belief out among the causes that fit, cheap and likely before others', () => {
    const named = fitting(diagnosis({ depthMm: 3 }));
    expect(named.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
    const order = named.map(({ share, checkMinutes }) => share / checkMinutes);
    expect(order).toEqual(order.toSorted((a, b) => b - a));
  });

  it.each<[string, Partial<Observation>, string]>([
    [
      'only the far corner failed and it grew worse little by little',
      { where: 'far-corner', since: 'gradually' },
      'mirrors-drifting',
    ],
    ['patches failed in this sheet, wide', { where: 'patches', since: 'this-sheet', edge: 'wide' }, 'sheet-bowed'],
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

  // The two sentences that the old report said of such a cut: a sheet 8.7 mm thick, and wood harder by 1215 %.
  it('does not explain a cut of 1 mm by a sheet that is thicker, denser or full of glue', () => {
    const found = diagnosis({ depthMm: 1 });
    const kinds = fitting(found).map(({ kind }) => kind);
    expect(kinds.length).toBeGreaterThan(0);
    for (const kind of ['sheet-thicker', 'sheet-other', 'glue', 'settings-short'] as const) {
      expect(kinds).not.toContain(kind);
    }
    const text = diagnosisReport(found, SCREEN);
    const percents = [...text.matchAll(/(\d+) %/g)].map(([, each]) => Number(each));
    expect(Math.max(...percents)).toBeLessThanOrEqual(100);
  });

  it('gives each cause the size that makes the model reach what was seen', () => {
    const { causes, passes, thicknessMm } = diagnosis({ depthMm: 3 });
    const setup = setUp(bench('poplar-plywood', thicknessMm)).value!;
    const panel = causes.find((cause) => cause.kind === 'panel-changed')!;
    const [pass] = passes;
    const powerW = pass!.powerW * panel.explanations[0]!.value!;
    const { prediction } = predictCut({
      ...cutOf(setup, { ...pass!, spread: 0, passes: 1, powerW }),
      doubt: { removal: 0, divergence: { low: 0.15, high: 0.15 }, power: 0, focusMm: 0, thicknessMm: 0 },
    });
    expect(prediction!.depthMm).toBeCloseTo(3, 1);
    expect(causeWords(panel, diagnosis({ depthMm: 3 }))).toMatch(
      /^Power turned down at the panel: \d+ % of the power, [\d.]+ W of 54 W\.$/,
    );
  });

  it('says of every cause what it comes to, with a unit, and one check', () => {
    const kinds = new Set<string>();
    for (const files of [SIGN, HUB]) {
      for (const seen of OBSERVED) {
        const found = diagnosis(seen, files);
        for (const cause of found.causes) {
          kinds.add(cause.kind);
          expect(causeWords(cause, found)).toMatch(/: .*\d (?:mm|W|%|J\/mm³)/);
          expect(`${causeWords(cause, found)} ${checkWords(cause, found)}`).not.toMatch(/NaN|Infinity|undefined|null/);
          expect(checkWords(cause, found)).toMatch(/^[a-z].{20,}[^.]$/);
        }
      }
    }
    expect([...kinds].sort()).toEqual(Object.keys(CHECKS).sort());
  });

  it.each(['gate sign', 'hub'])('fits on one screen, the first line being what to do first: %s', (which) => {
    for (const seen of OBSERVED) {
      const found = diagnosis(seen, which === 'hub' ? HUB : SIGN);
      const text = diagnosisReport(found, SCREEN);
      expect(text).toMatch(/^First(?: \(\d+ min\))?: [a-z]/);
      expect(rowsOf(text)).toBeLessThan(SCREEN.rows);
      for (const line of text.trimEnd().split('\n').slice(0, -1)) expect(line.length).toBeLessThanOrEqual(80);
      const told = text.match(/^[ <>]*\d+ % {2}/gm)?.length ?? 0;
      const named = fitting(found).length;
      if (named > 0) expect(told).toBeGreaterThanOrEqual(Math.min(named, 3));
    }
  });

  it('tells more where the screen is larger, and one cause at least where it is tiny', () => {
    const count = (columns: number, rows: number) =>
      diagnosisReport(diagnosis({ depthMm: 3 }), { columns, rows }).match(/^[ <>]*\d+ % {2}/gm)!.length;
    expect(count(120, 50)).toBe(6);
    expect(count(80, 24)).toBeLessThan(6);
    expect(count(20, 5)).toBe(1);
  });

  it('warns of a cracked lens, and of what it is made of, wherever a lens is to be looked at', () => {
    const seen = { depthMm: 3, since: 'gradually', edge: 'charred' } as const;
    expect(report(seen)).toMatch(/No bare hands on a cracked lens: zinc selenide is poisonous/);
    const glass = { ...SIGN, 'machines/shed-60w.machine.yaml': shedText().replaceAll('ZnSe', 'glass') };
    expect(report(seen, glass)).toMatch(/No bare hands on a cracked lens: it has sharp edges/);
    const found = diagnosis(seen);
    const lens = found.causes.find(({ kind }) => kind === 'lens-at-fault')!;
    expect(checkWords(lens, found)).toMatch(/switch off, no bare hands/);
  });

  it('says that what looks alike may be what is never cut', () => {
    const found = diagnosis({ depthMm: 7.5, where: 'everywhere', since: 'this-sheet' }, HUB);
    const other = found.causes.find(({ kind }) => kind === 'sheet-other')!;
    expect(checkWords(other, found)).toMatch(/cut nothing that nobody can name \(it may be .*PVC/);
  });

  it('says so where no one cause explains it, and what comes nearest', () => {
    const text = report({ depthMm: 0.1 });
    expect(text).toMatch(/^First: measure again, as no one cause known here gives 0\.1 mm; then look for\stwo\./);
    expect(text.replaceAll(/\s+/g, ' ')).toMatch(
      /No one cause explains it; what comes nearest at its worst: Wrong lens: /,
    );
  });

  it('works out the passes that would still part a sheet that has not moved', () => {
    const { rescue } = diagnosis({ depthMm: 3 });
    expect(rescue!.throughProbability).toBeGreaterThanOrEqual(0.9);
    expect(report({ depthMm: 3 })).toMatch(/If the sheet has not moved, and that is put right: \d more pass/);
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
    const words = (text: string) => text.replaceAll(/\s+/g, ' ');
    expect(words(report({ depthMm: 0.4 }, HUB))).toMatch(/would hardly part it. Do not go on by guess/);
    expect(words(report({}))).toMatch(/say how deep it is \(--depth\)/);
  });

  it('takes the task that was likeliest to fail, or the one that is named', () => {
    expect(['rim', 'holes']).toContain(diagnosis({}, HUB).task);
    expect(diagnosed({}, HUB, 'rim').value!.task).toBe('rim');
    expect(diagnosed({}, HUB, 'rims').problem).toMatch(/no task "rims" must go through: there are/);
  });

  it.each<[string, Partial<Observation>, RegExp]>([
    ['a depth that is no less than the sheet', { depthMm: 4 }, /then it parted, or the sheet is thicker than declared/],
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
