import { Resvg } from '@resvg/resvg-js';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { filledTask } from '../../src/bench/recipe/fill-task.ts';
import { recipeForSheet } from '../../src/bench/recipe/recipe-for-task.ts';
import { recipeReport } from '../../src/bench/recipe/recipe-report.ts';
import { isFound, type RecipeAnswer, type RecipeFound } from '../../src/facts/recipes/recipe-answer-model.ts';
import { CAUTION } from '../../src/findings/caution.ts';
import type { Machine, Material } from '../../src/job/model.ts';
import { recipeCard } from '../../src/report/pictures/recipe-card.ts';
import { libraryOf } from '../memory-shop.ts';
import { material, SHED, shedWith } from './on-bench.ts';

interface Asked {
  machine?: Machine;
  lens?: string;
  of?: Material;
}

function answerTo(id: string, mm: number, { machine = SHED, lens, of }: Asked = {}): RecipeAnswer {
  const { value, problem } = recipeForSheet({
    machine,
    lens: machine.lenses.find((one) => one.id === lens) ?? null,
    material: of ?? material(id),
    thickness: { mm, plusMinusMm: 0.2, nominal: false },
  });
  if (value === null) throw new Error(problem);
  return value;
}

function found(id: string, mm: number, asked: Asked = {}): RecipeFound {
  const answer = answerTo(id, mm, asked);
  if (!isFound(answer)) throw new Error(answer.reason);
  return answer;
}

const DIODE = libraryOf({}).machine('bench-diode-10w').value!;
const lines = (answer: RecipeAnswer) => recipeReport(answer, 80).split('\n');

describe('a recipe', () => {
  it('is sure, to be proved, or out of reach by the limits that a check has', () => {
    expect(found('birch-plywood', 6)).toMatchObject({ standing: 'sure', limit: 0.9, instead: null });
    const seen = [6, 24, 60].map((mm) => {
      const { standing, recipe, limit, errorLimit } = found('birch-plywood', mm);
      const chance = recipe.throughProbability;
      expect(standing).toBe(chance >= limit ? 'sure' : chance >= errorLimit ? 'prove' : 'out-of-reach');
      return standing;
    });
    expect(seen).toEqual(['sure', 'prove', 'out-of-reach']);
  });

  it('stands beside the fastest, the surest and the one in one pass', () => {
    const { recipe, fastest, surest, onePass, slower } = found('birch-plywood', 12);
    expect(fastest!.timeSPerM).toBeLessThanOrEqual(recipe.timeSPerM);
    expect(surest.throughProbability).toBeGreaterThanOrEqual(recipe.throughProbability);
    expect(onePass).toMatchObject({ passes: 1, standing: 'prove' });
    expect(slower!.speedMmPerS).toBeLessThan(recipe.speedMmPerS);
    expect(slower!.throughProbability).toBeGreaterThan(recipe.throughProbability);
    for (const one of [recipe, fastest!, surest, onePass!]) {
      expect(one.timeSPerM).toBeCloseTo((one.passes * 1000) / one.speedMmPerS, 2);
    }
  });

  it('costs what the profile’s rates make of the time: 6 + 15 EUR an hour, a tube of 420 EUR in 2000 h, 1.2 kW at 0.32 EUR', () => {
    const { recipe } = found('birch-plywood', 6);
    const perHour = 6 + 15 + 420 / 2000 + 1.2 * 0.32;
    expect(recipe.costPerM).toEqual({
      amount: expect.closeTo((perHour * recipe.timeSPerM) / 3600, 3),
      currency: 'EUR',
    });
    const free = shedWith(
      ['  machine: 6 EUR/h\n', ''],
      ['  operator: 15 EUR/h\n', ''],
      ['  energy: 0.32 EUR/kWh\n', ''],
    );
    const noRates = { ...free, rates: { ...free.rates, tube: null } };
    expect(found('birch-plywood', 6, { machine: noRates }).recipe.costPerM).toBeNull();
  });

  it('asks for no slower speed than it takes to be surer than 99 %', () => {
    const { surest } = found('abs', 3);
    expect(surest.throughProbability).toBeGreaterThanOrEqual(0.99);
    expect(surest.speedMmPerS).toBeGreaterThan(1);
  });

  it('names what holds it back: the recommended maximum, the clean speed, the depth of focus, the head', () => {
    const kinds = (answer: RecipeFound) => answer.limitedBy.map(({ kind }) => kind);
    expect(kinds(found('birch-plywood', 24))).toEqual(['ceiling', 'clean-speed', 'most-passes', 'depth-of-focus']);
    expect(kinds(found('card', 0.3, { machine: shedWith(['speed: 500 mm/s', 'speed: 50 mm/s']) }))).toEqual([
      'fastest-speed',
    ]);
    expect(kinds(found('birch-plywood', 24, { lens: '2in' }))).toContain('named-lens');
  });

  it('counts on the power of the corner where the least arrives', () => {
    const loss = shedWith(['at-corners: 0.95', 'at-corners: 0.5']);
    const far = found('birch-plywood', 6, { machine: loss }).recipe;
    expect(far.powerW).toBeCloseTo(54 * 0.85 * 0.5, 1);
    expect(far.speedMmPerS).toBeLessThan(found('birch-plywood', 6).recipe.speedMmPerS);
  });

  it('asks for no more air than the machine has, and for little in acrylic', () => {
    expect(found('birch-plywood', 6).airBar).toBe(1);
    expect(found('birch-plywood', 6, { machine: shedWith(['maximum: 2 bar', 'maximum: 0.6 bar']) }).airBar).toBe(0.6);
    expect(found('cast-acrylic', 6).airBar).toBeLessThan(0.5);
    expect(found('birch-plywood', 6, { machine: shedWith(['air: { maximum: 2 bar }\n', '']) }).airBar).toBeNull();
  });
});

describe('a sheet that no recipe is sure to part', () => {
  it('is told what would do instead, each way found by the solver: layers on sale, a lens, a stronger source', () => {
    const { instead, limit } = found('cast-acrylic', 40);
    expect(instead!.stacked!.layers * instead!.stacked!.layerMm).toBeCloseTo(40, 0);
    expect(material('cast-acrylic').stockMm).toContain(instead!.stacked!.layerMm);
    expect(instead!.stacked!.recipe.throughProbability).toBeGreaterThanOrEqual(limit);
    expect(instead!.source!.powerW).toBeGreaterThan(60);
    expect(instead!.source!.recipe.throughProbability).toBeGreaterThanOrEqual(limit);
    const thickest = found('cast-acrylic', instead!.thickestMm!);
    expect(thickest.standing).toBe('sure');
  });

  it('is told of another of the machine’s lenses where one was named', () => {
    const { standing, instead } = found('birch-plywood', 21, { lens: '1.5in' });
    expect(standing).toBe('prove');
    expect(instead!.lens).toMatchObject({ id: '4in', focalMm: 101.6 });
    expect(found('birch-plywood', 21, { lens: '4in' }).recipe).toMatchObject({ lens: '4in', standing: 'sure' });
  });

  it('is told of a focal length that the profile does not have, unless its spot was measured', () => {
    const one = { ...SHED, lenses: SHED.lenses.slice(1, 2) };
    expect(found('birch-plywood', 21, { machine: one }).instead!.lens).toMatchObject({ id: null, focalMm: 63.5 });
    const measured = { ...one, lenses: [{ ...one.lenses[0]!, spotMm: { xMm: 0.11, yMm: 0.11 } }] };
    expect(found('birch-plywood', 21, { machine: measured }).instead!.lens).toBeNull();
  });

  it('never is a stack of a thickness that nobody sells: of 3, 4 and 6 mm, 18 mm are three of 6 mm', () => {
    const sold = { ...material('cast-acrylic'), stockMm: [3, 4, 6] };
    const weak = shedWith(['measured: 54 W', 'measured: 26 W']);
    const { instead, standing } = found('cast-acrylic', 18, { machine: weak, of: sold });
    expect(standing).toBe('out-of-reach');
    expect([18 / 3, 18 / 6]).toContain(instead!.stacked!.layers);
    expect([3, 6]).toContain(instead!.stacked!.layerMm);
  });
});

describe('its text', () => {
  it('begins with the recipe, and fits into 80 columns but for the one caution', () => {
    for (const answer of [
      found('birch-plywood', 6),
      found('birch-plywood', 24),
      found('birch-plywood', 60),
      found('abs', 3),
      found('mdf', 3, { machine: DIODE }),
      answerTo('pvc', 3),
    ]) {
      const said = lines(answer).filter((line) => line !== CAUTION);
      for (const line of said) expect(line.length, line).toBeLessThanOrEqual(80);
      expect(lines(answer).at(-2)).toBe(CAUTION);
    }
    expect(lines(found('birch-plywood', 6))[0]).toMatch(
      /^85 %, [\d.]+ mm\/s, 1 pass, focus [\d.]+ mm below the face, 2in lens, air 1 bar\.$/,
    );
    expect(lines(found('birch-plywood', 24))[0]).toMatch(/^Prove it on a coupon: 85 %, 4 mm\/s, 3 passes/);
    expect(lines(found('birch-plywood', 60))[0]).toMatch(/^Out of reach: at best under 1 % likely to part\.$/);
  });

  it('puts the caution of a material to reconsider before the recipe', () => {
    const text = recipeReport(found('abs', 3), 80);
    expect(text).toMatch(/^Reconsider this material: hydrogen cyanide/);
    expect(text.indexOf('Reconsider')).toBeLessThan(text.indexOf('mm/s'));
    expect(recipeReport(found('birch-plywood', 6), 80)).not.toMatch('Reconsider');
  });

  it('has no recipe for what is never cut, nor for what this source does not cut, and says what does', () => {
    const never = recipeReport(answerTo('pvc', 3), 80);
    expect(never).toMatch(/^No recipe: PVC is never cut/);
    expect(never).not.toMatch(/mm\/s/);
    const clear = answerTo('clear-acrylic', 3, { machine: DIODE });
    expect(clear).toMatchObject({ standing: 'not-cut', cutBy: ['co2'] });
    expect(recipeReport(clear, 80)).toMatch('what cuts it: a CO₂ source.');
  });

  it('tells a test piece in words that the coupon command takes', () => {
    expect(recipeReport(found('birch-plywood', 12), 80)).toMatch(
      /kerflint coupon --machine shed-60w --lens 2in --material birch-plywood \\\n {4}--thickness "12 mm" --passes 2 --focus "-3 mm"/,
    );
  });
});

describe('its card', () => {
  // Baselines as written: text without a turn stands where x and y say.
  const baselines = (svg: string) =>
    [...svg.matchAll(/<text[^>]* y="([\d.]+)"[^>]*>([^<]*)</g)].map(([, y, text]) => ({ y: Number(y), text: text! }));

  it.each(['birch-plywood', 'abs', 'wool-felt', 'polyurethane-foam', 'mdf', 'chrome-tanned-leather'])(
    'has its foot below the picture, whatever the caution: %s',
    (id) => {
      const answer = found(id, 3);
      for (const inventedMachine of [true, false]) {
        const texts = baselines(recipeCard({ ...answer, inventedMachine }));
        const picture = texts.find(({ text }) => text.includes('drawn wider than it is'))!;
        const foot = texts.slice(
          texts.findIndex(({ text }) => text.startsWith('Held back') || text.startsWith('Predicted')),
        );
        expect(foot.length).toBeGreaterThan(2);
        expect(Math.min(...foot.map(({ y }) => y)) - picture.y).toBeGreaterThan(2);
        expect(Math.max(...foot.map(({ y }) => y))).toBeLessThan(148);
      }
    },
  );

  it('is drawn outside browsers, in greys, without a number that is none', () => {
    for (const answer of [found('birch-plywood', 12), found('birch-plywood', 60), found('abs', 0.5)]) {
      const svg = recipeCard(answer);
      const { width, height } = new Resvg(svg);
      expect(Math.round((width / height) * 100)).toBe(Math.round((210 / 148) * 100));
      expect(svg).not.toMatch(/NaN|Infinity|undefined|null/);
      for (const [, red, green, blue] of svg.matchAll(/#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})/g)) {
        expect([green, blue]).toEqual([red, red]);
      }
    }
  });

  it('says in words what the text says', () => {
    const answer = found('birch-plywood', 12);
    const svg = recipeCard(answer);
    expect(svg).toMatch(
      /<desc id="desc">85 % · 6 mm\/s · 2 passes, focus 3\.0 mm below the face · 2in lens · air 1 bar/,
    );
    for (const name of ['proposed', 'fastest', 'surest', 'in one pass']) expect(svg).toContain(`>${name}<`);
    expect(recipeCard(found('abs', 3))).toMatch('Reconsider this material: hydrogen cyanide');
    expect(svg.split('Never leave a running laser unattended').length).toBe(2);
  });
});

describe('a task that it is written into', () => {
  const SIDECAR = `# the labels of row 3
kerflint: 1
machine: shed-60w   # in the shed
material: birch-plywood
thickness: 12 mm ± 0.2 mm
artwork: labels.svg
tasks:
  - name: names      # by hand
    aim: surface
    power:
  - name: border
    aim: through
    power: # fill in: as planned
    speed: 5 mm/s    # tried in spring
`;
  const filled = (text: string, index: number) => filledTask(text, index, found('birch-plywood', 12));

  it('has its empty keys filled in, keeps what stands there, and every comment', () => {
    const { value } = filled(SIDECAR, 1);
    expect(value!.keys).toEqual(['power', 'passes', 'focus', 'air']);
    const before = parse(SIDECAR);
    const after = parse(value!.text);
    expect(after.tasks[1]).toEqual({
      name: 'border',
      aim: 'through',
      power: '85 %',
      speed: '5 mm/s',
      passes: 2,
      focus: '-3 mm',
      air: '1 bar',
    });
    expect({ ...after, tasks: [after.tasks[0]] }).toEqual({ ...before, tasks: [before.tasks[0]] });
    for (const comment of [
      '# the labels of row 3',
      '# in the shed',
      '# by hand',
      '# fill in: as planned',
      '# tried in spring',
    ]) {
      expect(value!.text).toContain(comment);
    }
  });

  it('changes no line that it does not fill', () => {
    const added = filled(SIDECAR, 1).value!.text.split('\n');
    const kept = SIDECAR.split('\n').filter((line) => !line.includes('power: # fill in'));
    for (const line of kept) expect(added.map((one) => one.replace(/ +/g, ' '))).toContain(line.replace(/ +/g, ' '));
    expect(added).toHaveLength(SIDECAR.split('\n').length + 3);
  });

  it('may be written in braces, with tabs of Windows at its line ends, and without indentation', () => {
    const braces =
      SIDECAR.slice(0, SIDECAR.indexOf('tasks:')) + 'tasks:\n- { name: border, aim: through, speed: 5 mm/s }\n';
    const value = filled(braces.replaceAll('\n', '\r\n'), 0).value!;
    expect(value.text).toMatch(/^- \{ name: border, aim: through, speed: 5 mm\/s, power: 85 %, /m);
    expect(value.text.replaceAll('\r\n', '')).not.toContain('\n');
  });

  it('is left alone where all is stated, or where it is not written out', () => {
    const full = `kerflint: 1\ntasks:\n  - { name: a, aim: through, power: 80 %, speed: 5 mm/s, passes: 1, focus: 0 mm, air: 1 bar }\n`;
    expect(filled(full, 0).value!.keys).toEqual([]);
    expect(filled('kerflint: 1\ntasks: none\n', 0).problem).toMatch(/not written out/);
    expect(filled(SIDECAR, 7).problem).toMatch(/not written out/);
  });
});
