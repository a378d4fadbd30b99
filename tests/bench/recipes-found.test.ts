// What a program cuts, as questions, and the sidecar that the answers make. Lengths and counts are those of the drawn lines (by hand).
import { describe, expect, it } from 'vitest';
import { recipeQuestion } from '../../src/bench/sidecar/recipe-question.ts';
import { type RecipesFound, recipesFound } from '../../src/bench/sidecar/recipes-found.ts';
import { sidecarDraft } from '../../src/bench/sidecar/sidecar-draft.ts';
import { discoverJobs } from '../../src/job/files/discovery.ts';
import { createLibrary } from '../../src/job/files/library.ts';
import type { Aim } from '../../src/job/model.ts';
import { readSidecar } from '../../src/job/sidecar/sidecar.ts';
import { recipePicture } from '../../src/page/ask/recipe-picture.ts';
import { preflightWhole } from '../../src/preflight.ts';
import { READERS } from '../../src/readers.ts';
import { textSource } from '../../src/source/source.ts';
import { memoryAccess } from '../memory-access.ts';
import { catalogueSources, readers } from '../memory-shop.ts';

const MACHINE = textSource(
  'tray-60w.machine.yaml',
  [
    'kerflint: 1',
    'id: tray-60w',
    'source: { kind: co2, rated: 60 W }',
    'lenses: [{ focal: 2 in }]',
    'travel: { x: 600 mm, y: 400 mm }',
    'controller: { power: { word: S, full: 1000 } }',
    '',
  ].join('\n'),
);
const OPTIONS = {
  today: '2026-11-25',
  untrusted: false,
  machine: 'tray-60w',
  material: 'birch-plywood',
  thickness: '3 mm',
};

const square = (x: number, s: number, feed: number) =>
  `G0 X${x} Y10\nS${s}\nG1 X${x + 10} F${feed}\nG1 Y20\nG1 X${x}\nG1 Y10`;
const program = (...lines: string[]) => ['G21', 'G90', 'M4 S0', ...lines, 'M5', 'M2', ''].join('\n');
const library = createLibrary({ catalogue: catalogueSources(), shop: [MACHINE], untrusted: false });

function jobsOf(files: Record<string, string>) {
  return discoverJobs(memoryAccess(files), READERS, [''], true).jobs;
}
function foundIn(gcode: string): RecipesFound {
  const [job] = jobsOf({ 'tray.gcode': gcode });
  return recipesFound(job!, { library, readers, options: OPTIONS });
}
function answeredSidecar(found: RecipesFound, aims: Aim[]): string {
  return sidecarDraft({
    toolpath: { file: 'tray.gcode', program: null },
    artwork: null,
    machine: 'tray-60w',
    lens: '2in',
    material: 'birch-plywood',
    thickness: '3 mm',
    answers: { of: found.recipes.map((recipe, i) => ({ recipe, aim: aims[i]! })), areas: found.areas > 0 },
    schemas: null,
  });
}
function judged(gcode: string, aims: Aim[]) {
  const sidecar = answeredSidecar(foundIn(gcode), aims);
  expect(readSidecar(textSource('tray.job.yaml', sidecar)).problems).toEqual([]);
  const jobs = jobsOf({ 'tray.gcode': gcode, 'tray.job.yaml': sidecar });
  const { jobs: results } = preflightWhole({
    jobs,
    library,
    settings: null,
    options: { today: OPTIONS.today, untrusted: false },
    readers,
    toolVersion: '0',
  }).result;
  return results[0]!;
}

describe('the recipes of a program', () => {
  it('are asked about one by one, the surest last, each piece counted once however often it is run', () => {
    const found = foundIn(
      program(
        square(10, 800, 600),
        square(30, 800, 600),
        square(50, 200, 6000),
        square(70, 400, 1200),
        square(70, 400, 1200),
      ),
    );
    expect(found.recipes.map(recipeQuestion)).toEqual([
      '1 cut, 40 mm, once at 12 W, 100 mm/s: must it part the sheet?',
      '1 cut, 40 mm, twice at 24 W, 20 mm/s: must it part the sheet?',
      '2 cuts, 80 mm, once at 48 W, 10 mm/s: must these part the sheet?',
    ]);
    const chances = found.recipes.map(({ throughProbability }) => throughProbability!);
    expect(chances).toEqual([...chances].sort((a, b) => a - b));
  });

  it('say lengths from a metre on in metres', () => {
    const rows = Array.from({ length: 12 }, (_, i) => `G0 X10 Y${10 + 5 * i}\nS800\nG1 X160 F720`);
    expect(foundIn(program(...rows)).recipes.map(recipeQuestion)).toEqual([
      '12 cuts, 1.8 m, once at 48 W, 12 mm/s: must these part the sheet?',
    ]);
  });

  it('are one question where the passes along a line differ: no setting is theirs alone', () => {
    const found = foundIn(program(square(10, 300, 3000), square(10, 800, 600), square(40, 500, 1200)));
    expect(found.recipes.map(({ selectors }) => selectors.length).sort()).toEqual([1, 2]);
    const mixed = found.recipes.find(({ selectors }) => selectors.length === 2)!;
    expect(recipeQuestion(mixed)).toMatch(
      /^1 cut, 40 mm, twice at .* W, 50 mm\/s, and otherwise in other passes: must it part/,
    );
  });

  it('are at most 13 questions, whatever a program holds', () => {
    const many = Array.from({ length: 40 }, (_, i) => square(10 + 12 * i, 200 + 15 * i, 600 + 20 * i));
    const { recipes } = foundIn(program(...many));
    expect(recipes).toHaveLength(13);
    expect(recipes.reduce((sum, { pieces }) => sum + pieces, 0)).toBe(40);
  });

  it('are none where nobody can say what power a program asks for', () => {
    const [job] = jobsOf({ 'tray.gcode': program(square(10, 800, 600)) });
    const { machine: _none, ...rest } = OPTIONS;
    expect(recipesFound(job!, { library, readers, options: rest }).recipes).toEqual([]);
  });
});

describe('the sidecar of the answers', () => {
  const PROGRAM = program(square(10, 800, 600), square(50, 200, 6000));

  it('lets a line be a line: the same program fails where it had to part', () => {
    expect(judged(PROGRAM, ['groove', 'through'])).toMatchObject({ verdict: 'pass', incomplete: [] });
    expect(judged(PROGRAM, ['through', 'through'])).toMatchObject({ verdict: 'fail' });
  });

  it('keeps passes that differ together', () => {
    const mixed = program(square(10, 300, 3000), square(10, 800, 600), square(50, 200, 6000));
    const found = foundIn(mixed);
    const aims = found.recipes.map(({ selectors }): Aim => (selectors.length > 1 ? 'through' : 'groove'));
    const { tasks, cuts, incomplete } = judged(mixed, aims);
    expect(incomplete).toEqual([]);
    expect(tasks.map(({ name }) => name).sort()).toEqual(['20 % at 100 mm/s', 'in differing passes']);
    expect(cuts.find(({ task }) => task === 'in differing passes')?.passes).toHaveLength(2);
  });

  it('leaves surface areas to a task of their own, though lines of the same program are selected by feed and power', () => {
    const rows = Array.from({ length: 40 }, (_, i) => `G0 X100 Y${(10 + i * 0.2).toFixed(1)}\nS150\nG1 X140 F9000`);
    const engraved = program(square(10, 800, 600), ...rows);
    const found = foundIn(engraved);
    expect([found.recipes.length, found.areas]).toEqual([1, 1]);
    const { tasks, incomplete, findings } = judged(engraved, ['through']);
    expect(tasks).toEqual([
      { name: '80 % at 10 mm/s', aim: 'through' },
      { name: 'areas', aim: 'surface' },
    ]);
    expect(incomplete).toEqual([]);
    expect(findings.filter(({ severity }) => severity === 'error')).toEqual([]);
  });
});

describe('the small picture of a recipe', () => {
  it('draws its own lines bold and the others thin, up where the machine has up', () => {
    const found = foundIn(program(square(10, 800, 600), square(50, 200, 6000)));
    const { body } = recipePicture(found, 1);
    const path = (css: string) => new RegExp(`class="${css}" d="([^"]*)"`).exec(body)![1]!;
    const xs = (d: string) => [...d.matchAll(/[ML](\S+) /g)].map(([, x]) => Number(x));
    // X from 10 to 60 mm over 164 of 180 px: 3.28 px a mm.
    expect(Math.min(...xs(path('p-line')))).toBeCloseTo(8, 1);
    expect(Math.max(...xs(path('p-line')))).toBeCloseTo(8 + 32.8, 1);
    expect(Math.max(...xs(path('p-artwork')))).toBeCloseTo(172, 1);
    const [first] = /M\S+ (\S+)L/.exec(path('p-line'))!.slice(1).map(Number);
    expect(first).toBeCloseTo(65 + 16.4, 1);
  });
});
