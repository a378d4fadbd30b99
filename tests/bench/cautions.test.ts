import { describe, expect, it } from 'vitest';
import { publishedList } from '../../src/bench/evidence/published-list.ts';
import { publishedTable } from '../../src/bench/evidence/published-table.ts';
import { reach } from '../../src/bench/reach/reach-overview.ts';
import { reachTable } from '../../src/bench/reach/reach-table.ts';
import { type RecipeFound, recipeForSheet } from '../../src/bench/recipe/recipe-for-task.ts';
import { recipeReport } from '../../src/bench/recipe/recipe-report.ts';
import { makeRamp } from '../../src/bench/test-piece/make-ramp.ts';
import type { SetupCard } from '../../src/facts/drawing/drawing-model.ts';
import { CAUTION, materialCaution } from '../../src/findings/caution.ts';
import { fixReport } from '../../src/fixes/fix-report.ts';
import type { Material } from '../../src/job/model.ts';
import { cardSection } from '../../src/report/html/html-card.ts';
import { reachPicture } from '../../src/report/pictures/reach-wall-chart.ts';
import { recipeCard } from '../../src/report/pictures/recipe-card.ts';
import { job } from '../findings/results.ts';
import { libraryOf } from '../memory-shop.ts';
import { bench, couponOf, material, SHED } from './on-bench.ts';

/** A material of each hazard class, with a thickness that the demo's machine can test. */
const CLASSES = [
  ['usual', 'birch-plywood', 4],
  ['extract', 'mdf', 3],
  ['reconsider', 'abs', 2],
] as const;
const NEVER = 'pvc';

/** Letters and digits alone: whatever a format does to lines, brackets and signs, the words stay. */
const words = (text: string) =>
  text
    .replaceAll('₂', '2')
    .replaceAll(/&(?:quot|#39|apos|amp|lt|gt);/g, '')
    .replaceAll(/[^\p{L}\p{N}]/gu, '')
    .toLowerCase();

/** In a drawing, what the first description or the texts say; tags and attributes are no words. */
const shown = (svg: string) => words(svg.replaceAll(/<[^>]*>/g, ' '));

const card = (of: Material | null): SetupCard => ({
  machine: 'shed-60w',
  lens: '2in',
  standoffMm: 6,
  tasks: [],
  material: of?.name ?? 'mystery board',
  thicknessMm: 3,
  face: null,
  mirror: null,
  bowMm: null,
  zero: null,
  sheet: null,
  hazard: of && { class: of.hazard.class, reason: of.hazard.reason },
  watch: null,
});

/** Everything that is written for a machine or hung up beside it, as a person finds it when the rest is lost. */
function outputsFor(id: string, mm: number): [name: string, text: string][] {
  const coupon = couponOf(id, mm).value!;
  const ramp = makeRamp({ ...bench(id, mm), name: 'ramp', today: '2026-11-25', kind: null, schemas: null }).value!;
  const chart = reach({
    machine: SHED,
    material: material(id),
    lenses: [],
    passes: 1,
    setting: null,
    focusMm: 0,
    at: null,
    citedCuts: [],
  }).value!;
  const sheet = { mm, plusMinusMm: null, nominal: true };
  const asked = { machine: SHED, lens: null, material: material(id), thickness: sheet };
  const recipe = recipeForSheet(asked).value as RecipeFound;
  const mended = { before: job(), after: job(), done: [], declined: [], files: [], material: material(id) };
  const files = [...coupon.files, ...ramp.files].map(({ name, text }): [string, string] => [
    name,
    name.endsWith('.svg') ? shown(text) : words(text),
  ]);
  return [
    ...files,
    ['reach as text', words(reachTable(chart))],
    ['wall chart', shown(reachPicture(chart))],
    ['recipe as text', words(recipeReport(recipe, 80))],
    ['recipe card', shown(recipeCard(recipe))],
    ['set-up card', shown(cardSection(job(), 'j', card(material(id))))],
    ['a mended job', words(fixReport(mended, [], 'mended'))],
  ];
}

describe('the caution of a material', () => {
  it.each(CLASSES)(
    'of class %s is told once, and the usual ones with it, by all that is written for a machine',
    (hazard, id, mm) => {
      expect(material(id).hazard.class).toBe(hazard);
      const outputs = outputsFor(id, mm);
      expect(outputs.map(([name]) => name)).toEqual([
        ...['test.gcode', 'test.svg', 'test.job.yaml', 'test.results.yaml'],
        ...['ramp.gcode', 'ramp.svg', 'ramp.job.yaml', 'ramp.results.yaml'],
        ...['reach as text', 'wall chart', 'recipe as text', 'recipe card', 'set-up card', 'a mended job'],
      ]);
      for (const [name, text] of outputs) {
        expect([name, text.split(words(materialCaution(material(id)))).length - 1]).toEqual([name, 1]);
        expect([name, text.split(words(CAUTION)).length - 1]).toEqual([name, 1]);
      }
    },
  );

  it('that must never be cut is told in place of any setting', () => {
    const pvc = material(NEVER);
    expect(pvc.hazard.class).toBe('never');
    expect(couponOf(NEVER, 3).problem).toContain(pvc.hazard.reason);
    expect(
      makeRamp({ ...bench(NEVER, 3), name: 'r', today: '2026-11-25', kind: null, schemas: null }).problem,
    ).toContain(pvc.hazard.reason);
    const written = shown(cardSection(job(), 'j', card(pvc)));
    expect(written).toContain(words(materialCaution(pvc)));
    expect(written).toContain(words(CAUTION));
    expect(written).toContain('nosettingsaregiven');
  });

  it('that nobody named asks to find out what it is', () => {
    expect(shown(cardSection(job(), 'j', card(null)))).toContain(words(materialCaution(null)));
  });

  it('stands over what others cut it with, whatever its class', () => {
    for (const id of [...CLASSES.map(([, each]) => each), NEVER]) {
      const { value } = publishedList([], {
        ...{ material: material(id), thickness: null, machine: null, lens: null },
        ...{ power: null, speedMmPerS: null, passes: null, focusMm: 0, hazards: new Map() },
      });
      expect(words(publishedTable(value!))).toContain(words(materialCaution(material(id))));
    }
  });

  it('gives the reason of its entry for every material of the catalogue, and never calls one harmless', () => {
    const ids = [...libraryOf({}).ids().materials];
    expect(ids.length).toBeGreaterThan(60);
    for (const id of ids) {
      const said = materialCaution(material(id));
      expect(said).toContain(material(id).hazard.reason);
      expect(said).toMatch(/^\p{Lu}.*\.$/u);
      expect(said).not.toMatch(/\bsafe(ly)?\b|harmless|no risk/i);
    }
  });

  it('names extraction, staying by, the data sheet, the manual and local rules (what the trade tells everyone; no source)', () => {
    for (const said of [/unattended/, /extraction/, /extinguisher/, /data sheet/, /manual/, /local rules decide/]) {
      expect(CAUTION).toMatch(said);
    }
  });
});

describe('a program for a machine', () => {
  it('holds its words in comments that a controller with a short line takes, in ASCII (memory: some take 80 letters)', () => {
    const odd = {
      ...material('mdf'),
      hazard: { ...material('mdf').hazard, reason: `“fumes” – ${'très '.repeat(60)}(50 %);` },
    };
    const { files } = couponOf('mdf', 3, { material: odd }).value!;
    const program = files.find(({ name }) => name.endsWith('.gcode'))!.text;
    for (const line of program.split('\n')) {
      expect(line.length).toBeLessThanOrEqual(80);
      expect(line).toMatch(/^[\x20-\x7e]*$/);
      if (line.includes('(')) expect(line).toMatch(/^\([^()%;]*\)$/);
    }
  });
});
