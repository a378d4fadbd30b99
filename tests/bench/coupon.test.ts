import { describe, expect, it } from 'vitest';
import { textStrokes } from '../../src/bench/test-piece/lettering.ts';
import { readCouponResults } from '../../src/job/material/coupon-results.ts';
import { textSource } from '../../src/source/source.ts';
import { factsOf, run } from '../memory-shop.ts';
import { checkout, couponOf, fileOf, filled, SHED, shedText, shedWith } from './on-bench.ts';

const made = (id: string, mm: number, more = {}) => {
  const { value, problem } = couponOf(id, mm, more);
  if (value === null) throw new Error(problem);
  return value;
};

const SHEETS: [string, number][] = [
  ['birch-plywood', 4],
  ['cast-acrylic', 6],
  ['mdf', 3],
  ['card', 1],
  ['paper', 0.2],
  ['chrome-tanned-leather', 2],
];

it('no program is written for a machine whose power scale is not stated', () => {
  // Leaving out the controller's power is the same for a ramp (make-ramp asks the same question).
  const machine = shedWith(['  power: { word: S, full: 1000 }\n', '']);
  const { value, problem } = couponOf('birch-plywood', 4, { machine });
  expect(value).toBeNull();
  expect(problem).toMatch(/controller\.power.*never assumed.*settings or manual/);
});

describe('a test piece', () => {
  it.each(SHEETS)('of %s, %s mm, straddles the predicted boundary from beyond 90 % to below 10 %', (id, mm) => {
    const chances = made(id, mm).plan.tongues.map((tongue) => tongue.throughProbability);
    expect(chances[0]).toBeGreaterThan(0.9);
    expect(chances.at(-1)).toBeLessThan(0.1);
    expect(chances.filter((chance) => chance > 0.25 && chance < 0.75).length).toBeGreaterThanOrEqual(3);
    expect(chances).toEqual(chances.toSorted((a, b) => b - a));
  });

  it.each(SHEETS)('of %s, %s mm, passes the check with its own sidecar', (id, mm) => {
    const result = run(checkout(made(id, mm)), {}, ['test.job.yaml']);
    expect(result.jobs.map((job) => job.verdict)).toEqual(['pass']);
    expect(result.jobs[0]!.findings.filter((finding) => finding.severity === 'error')).toEqual([]);
    expect(result.jobs[0]!.incomplete).toEqual([]);
  });

  it('reads back from its program with the settings that its results sheet states', () => {
    const piece = made('birch-plywood', 4);
    const facts = factsOf(checkout(piece));
    const results = readCouponResults(
      textSource(
        'test.results.yaml',
        filled(fileOf(piece, '.results.yaml'), () => 'through: no'),
      ),
    ).value!;
    expect(facts.tasks.map((task) => task.name)).toEqual([
      'marks',
      ...piece.plan.tongues.map((t) => `tongue ${String(t.number).padStart(2, '0')}`),
    ]);
    for (const row of results.tongues) {
      const cuts = facts.cuts.filter((cut) => cut.task === `tongue ${String(row.tongue).padStart(2, '0')}`);
      expect(cuts).toHaveLength(1);
      const [pass] = cuts[0]!.passes;
      expect(pass!.setting).toBeCloseTo('fraction' in row.power ? row.power.fraction : 0, 3);
      expect(pass!.programmedMmPerS).toBeCloseTo(row.speedMmPerS, 2);
      expect(cuts[0]!.passes).toHaveLength(row.passes);
    }
  });

  it('has artwork and program that lie on each other, each tongue a closed outline of its own', () => {
    const facts = factsOf(checkout(made('birch-plywood', 4)));
    expect(facts.match!.placement).toMatchObject({ scale: 1, mirrored: false });
    expect(facts.match!.missing.items).toEqual([]);
    expect(facts.match!.extra.items).toEqual([]);
    const closed = facts.artwork!.outlines.filter((outline) => outline.closed);
    expect(closed.length).toBeGreaterThanOrEqual(12);
  });

  it('lets no tongue run slower than the material stays clean, nor faster than the head follows', () => {
    const slow = shedWith(['acceleration: 3000 mm/s2', 'acceleration: 300 mm/s2']);
    const { tongues } = made('birch-plywood', 3, { machine: slow }).plan;
    for (const tongue of tongues) expect(tongue.speedMmPerS).toBeGreaterThanOrEqual(4);
    const facts = factsOf(
      checkout(
        made('birch-plywood', 3, { machine: slow }),
        shedText().replace('acceleration: 3000 mm/s2', 'acceleration: 300 mm/s2'),
      ),
    );
    for (const cut of facts.cuts.filter((one) => one.task.startsWith('tongue'))) {
      // The mean over the whole tongue, its start from rest included.
      expect(cut.passes[0]!.speedMmPerS / cut.passes[0]!.programmedMmPerS).toBeGreaterThan(0.85);
    }
  });

  it.each([
    ['S', 'word: S, full: 1000', / S\d+/],
    ['M106', 'word: M106, full: 255', /^M106 S\d+$/m],
    ['analog', 'word: analog, full: 100', /^M67 E0 Q\d/m],
  ])('speaks the power word %s of the controller, and passes the check there too', (_, power, word) => {
    const machine = shedWith(['word: S, full: 1000', power]);
    const piece = made('birch-plywood', 4, { machine });
    expect(fileOf(piece, '.gcode')).toMatch(word);
    const files = checkout(piece, shedText().replace('word: S, full: 1000', power));
    expect(run(files, {}, ['test.job.yaml']).jobs[0]!.verdict).toBe('pass');
    const settings = factsOf(files).cuts.map((cut) => cut.passes[0]!.setting);
    expect(Math.max(...settings)).toBeCloseTo(0.85, 2);
  });

  it('makes more passes, and lowers the focus between them where asked, when one does not reach', () => {
    const { plan, files } = made('birch-plywood', 14, { focusStepMm: -2 });
    expect(plan.passes).toBeGreaterThan(1);
    expect(files.find(({ name }) => name.endsWith('.gcode'))!.text).toMatch(/G0 Z-2/);
    const facts = factsOf(checkout({ files, steps: [] }));
    const tongue = facts.cuts.find((cut) => cut.task === 'tongue 01')!;
    expect(tongue.passes.map((pass) => pass.focusMm)).toEqual(plan.passes === 2 ? [0, -2] : [0, -2, -4]);
  });

  it('lies at the far corner where asked, inside the travel, and counts on the power that arrives there', () => {
    const near = made('birch-plywood', 4);
    const far = made('birch-plywood', 4, { corner: 'far' });
    // The profile states 95 % at the far corner; the piece's middle lies a little before it.
    const ratio = far.plan.tongues[0]!.powerW / near.plan.tongues[0]!.powerW;
    expect(ratio).toBeGreaterThan(0.95);
    expect(ratio).toBeLessThan(0.97);
    const result = run(checkout(far), {}, ['test.job.yaml']);
    expect(result.jobs[0]!.verdict).toBe('pass');
    const { onBed } = factsOf(checkout(far));
    expect(onBed!.maxX).toBeGreaterThan(580);
    expect(onBed!.maxX).toBeLessThanOrEqual(600);
  });

  it('numbers the tongues in what stays behind: every numeral is scored outside the outlines', () => {
    const facts = factsOf(checkout(made('cast-acrylic', 6)));
    const outlines = facts.artwork!.outlines.map((outline) => ({
      ...outline,
      element: facts.artwork!.elements[outline.element]!,
    }));
    const tongues = outlines.filter((outline) => outline.element.layers.some((layer) => layer.startsWith('tongue')));
    const marks = outlines.filter((outline) => outline.element.layers.includes('marks'));
    expect(marks.length).toBeGreaterThan(12);
    for (const mark of marks) {
      for (const tongue of tongues) {
        const apart =
          mark.box.maxX < tongue.box.minX ||
          mark.box.minX > tongue.box.maxX ||
          mark.box.minY > tongue.box.maxY ||
          mark.box.maxY < tongue.box.minY;
        expect(apart).toBe(true);
      }
    }
  });

  it.each(SHEETS)(
    'of %s, %s mm, bears what tells it from others a year later: strokes for machine, lens, sheet and day',
    (id, mm) => {
      const piece = made(id, mm);
      const words = ['shed-60w', '2in', id, `${mm}mm`, '2026-11-25'];
      const marks = fileOf(piece, '.svg').split('<g id="marks">')[1]!.split('</g>')[0]!;
      const numerals = piece.plan.tongues.flatMap(({ number }) => textStrokes(String(number), 0, 0, 4));
      const lettering = words.flatMap((word) => textStrokes(word, 0, 0, 3));
      expect(marks.match(/<path/g)).toHaveLength(numerals.length + lettering.length);
      const sheet = fileOf(piece, '.results.yaml');
      expect(sheet).toContain('date: 2026-11-25');
      for (const { number, setting } of piece.plan.tongues) {
        expect(sheet).toMatch(new RegExp(`tongue: ${number}, power: ${Math.round(setting * 100)} %`));
      }
    },
  );

  it('breaks its lettering into lines that stay within the piece, however long the names are', () => {
    const machine = { ...SHED, id: 'a-machine-with-a-name-that-nobody-could-want-to-type-twice-in-one-day' };
    const piece = made('birch-plywood', 4, { machine, tongues: 4 });
    const facts = factsOf(checkout(piece, shedText().replace('id: shed-60w', `id: ${machine.id}`)));
    const [, width, height] = /width="([\d.]+)mm" height="([\d.]+)mm"/.exec(fileOf(piece, '.svg'))!;
    for (const { box } of facts.artwork!.outlines) {
      expect(box.minX).toBeGreaterThan(0);
      expect(box.maxX).toBeLessThan(Number(width));
      expect(box.minY).toBeGreaterThan(0);
      expect(box.maxY).toBeLessThan(Number(height));
    }
  });

  it('names a material that is to be reconsidered before anything is laid on the bed', () => {
    expect(made('abs', 2).steps[0]).toMatch(/^Reconsider this material: hydrogen cyanide/);
    expect(made('birch-plywood', 4).steps[1]).toMatch(/^Lay a flat scrap/);
  });

  it.each<[string, string, number, Record<string, unknown>, RegExp]>([
    ['a sheet that is out of reach', 'cast-acrylic', 25, {}, /out of reach.*at 4 mm\/s and 85 %/],
    ['a material that is never cut', 'pvc', 3, {}, /PVC is never cut/],
    ['a material that the source does not cut', 'aluminium', 2, {}, /CO₂ source does not cut/],
    ['no thickness', 'birch-plywood', 0, {}, /thickness must be above 0/],
    ['too few tongues', 'birch-plywood', 4, { tongues: 2 }, /4 to 60 tongues, not 2/],
    [
      'more tongues than the bed holds',
      'birch-plywood',
      4,
      { tongues: 60, machine: shedWith(['x: 600 mm, y: 400 mm', 'x: 60 mm, y: 60 mm']) },
      /does not fit on the bed/,
    ],
  ])('is refused with a reason for %s', (_, id, mm, more, reason) => {
    const { value, problem } = couponOf(id, mm, more);
    expect(value).toBeNull();
    expect(problem).toMatch(reason);
  });
});
