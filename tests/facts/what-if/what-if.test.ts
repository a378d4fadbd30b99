// What can be tried on a job, and with what sheet, lens and machine.
import { describe, expect, it } from 'vitest';
import { WhatIf } from '../../../src/facts/what-if/what-if.ts';
import { type Files, factsOf, shed } from '../../memory-shop.ts';
import { readWithMotion, readWithoutMotion } from '../../trial/opened.ts';
import { OUTLINE } from '../outline.ts';

const PROFILE = 'machines/shed-60w.machine.yaml';
const STATED = 'machine: shed-60w\nlens: 2in\nmaterial: birch-plywood\nthickness: 3 mm\n';
const PLAN = 'tasks:\n  - { name: outline, aim: through, power: 60 %, speed: 12 mm/s }\n';

const artworkJob = (stated = STATED): Files => ({
  ...shed(),
  'part.job.yaml': `kerflint: 1\n${stated}artwork: part.svg\n${PLAN}`,
  'part.svg': OUTLINE,
});
const toolpathJob = (height = 0, stated = STATED): Files => ({
  ...shed(),
  'part.job.yaml': `kerflint: 1\n${stated}toolpath: part.gcode\n`,
  'part.gcode': `G21 G90\nM4 S600 F720\nG0 X10 Y10 Z${height}\nG1 X60\nM5\nM2\n`,
});
const withProfile = (files: Files, from: string | RegExp, to: string): Files => ({
  ...files,
  [PROFILE]: String(files[PROFILE]).replace(from, to),
});
function whatIf(files: Files) {
  const { read, facts } = readWithMotion(files);
  return new WhatIf(read, facts);
}

describe('whether motion can be tried', () => {
  it('is so of artwork, whose motion is planned from nothing', () => {
    expect(whatIf(artworkJob()).motion).toEqual({ turns: true, focusMoves: true });
  });

  it('is so of a program whose motion was kept to its end', () => {
    expect(whatIf(toolpathJob()).motion.turns).toBe(true);
    expect(new WhatIf(...both(readWithoutMotion(toolpathJob()))).motion.turns).toBe(false);
    const { read, facts } = readWithMotion(toolpathJob());
    const { journal } = read.files.toolpath!;
    const cutOff = { ...read.files.toolpath!, journal: Object.assign(Object.create(journal!), { dropped: 1 }) };
    expect(new WhatIf({ ...read, files: { ...read.files, toolpath: cutOff } }, facts).motion.turns).toBe(false);
  });

  it('has a focus that moves where the machine moves Z, and the program does too', () => {
    expect(whatIf(toolpathJob(-1)).motion.focusMoves).toBe(true);
    expect(whatIf(toolpathJob(0)).motion.focusMoves).toBe(false);
    for (const files of [artworkJob(), toolpathJob(-1)]) {
      expect(whatIf(withProfile(files, 'z-zero: waist-on-face', 'z-zero: fixed')).motion.focusMoves).toBe(false);
      expect(whatIf(withProfile(files, ', z: 40 mm', '')).motion.focusMoves).toBe(false);
    }
  });

  it('has no focus that moves on a machine that nobody knows', () => {
    const unknown = STATED.replace('shed-60w', 'no-such-machine');
    expect(whatIf(artworkJob(unknown)).motion).toEqual({ turns: true, focusMoves: false });
    expect(whatIf(toolpathJob(-1, unknown)).motion).toEqual({ turns: true, focusMoves: false });
  });
});

describe('another sheet or lens', () => {
  const chance = (one: WhatIf, change: object) => one.quick({ cuts: [], ...change }).cuts[0]!.prediction;
  const planned = (stated: string) => factsOf(artworkJob(stated)).cuts[0]!.prediction;

  it('is predicted for as if it stood in the sidecar, whatever was tried before', () => {
    const tried = whatIf(artworkJob());
    const mdf = factsOf(artworkJob(STATED.replace('birch-plywood', 'mdf')));
    for (let again = 0; again < 2; again++) {
      expect(chance(tried, {})).toEqual(planned(STATED));
      expect(chance(tried, { thicknessMm: 6 })).toEqual(planned(STATED.replace('3 mm', '6 mm')));
      expect(chance(tried, { lens: '4in' })).toEqual(planned(STATED.replace('2in', '4in')));
      expect(chance(tried, { material: mdf.material! })).toEqual(mdf.cuts[0]!.prediction);
    }
  });

  it('keeps the tolerance that is stated, and the bow of the sheet', () => {
    const loose = STATED.replace('3 mm', '3 mm ± 0.5 mm');
    expect(chance(whatIf(artworkJob(loose)), { thicknessMm: 4 })).toEqual(
      planned(STATED.replace('3 mm', '4 mm ± 0.5 mm')),
    );
    const bowed = `${STATED}bow: 2 mm\n`;
    expect(chance(whatIf(artworkJob(bowed)), {})).toEqual(planned(bowed));
    expect(planned(bowed)).not.toEqual(planned(STATED));
  });

  it('is told with what was turned to, or null where neither states it', () => {
    const known = whatIf(artworkJob());
    expect(known.quick({ cuts: [] })).toMatchObject({ lens: '2in', thicknessMm: 3 });
    expect(known.quick({ lens: '4in', thicknessMm: 5, cuts: [] })).toMatchObject({ lens: '4in', thicknessMm: 5 });
    const open = whatIf(artworkJob(STATED.replace('thickness: 3 mm\n', '').replace('2in', 'no-such-lens')));
    expect(open.quick({ cuts: [] })).toMatchObject({ lens: null, thicknessMm: null });
  });

  it('is what a job needs that states no thickness, and is then a measured one', () => {
    const open = whatIf(artworkJob(STATED.replace('thickness: 3 mm\n', '')));
    expect(chance(open, {})).toBeNull();
    expect(chance(open, { thicknessMm: 3 })).toEqual(planned(STATED));
  });

  it.each([
    ['is not known to its owner', 'unknown', { materialUnknown: true, materialMeant: null }],
    ['nobody knows by that name', 'birch-plywod', { materialUnknown: false, materialMeant: expect.anything() }],
  ])('answers for a material that %s', (_, name, before) => {
    const open = artworkJob(STATED.replace('birch-plywood', name));
    const { material } = factsOf(artworkJob());
    expect(factsOf(open)).toMatchObject({ material: null, materialName: name, ...before });
    expect(whatIf(open).whole({ material: material!, cuts: [] })).toMatchObject({
      material: { id: 'birch-plywood' },
      materialUnknown: false,
      materialName: 'birch-plywood',
      materialMeant: null,
    });
  });
});

describe('a job on a machine that nobody knows', () => {
  it('has neither cuts nor time, whatever is turned', () => {
    const files = artworkJob(STATED.replace('shed-60w', 'no-such-machine'));
    const { cuts, cutOf, time, waste, lens, thicknessMm } = whatIf(files).quick({ cuts: [{ cut: 0, setting: 0.3 }] });
    expect([cuts, cutOf, time, lens]).toEqual([[], [], null, null]);
    expect(thicknessMm).toBe(3);
    expect(waste).toEqual(factsOf(files).waste);
  });
});

describe('time and waste', () => {
  it('are those of a check of the same files, of artwork and of a program', () => {
    const priced = `${STATED}sheet: { width: 300 mm, height: 200 mm, price: 14.50 EUR }\nzero: sheet-corner\n`;
    for (const files of [artworkJob(priced), toolpathJob(0, priced)]) {
      const { time, waste, cuts } = factsOf(files);
      expect([time!.totalS > 0, waste === null]).toEqual([true, false]);
      expect(whatIf(files).quick({ cuts: [] })).toMatchObject({ time, waste });
      expect(whatIf(files).quick({ cuts: [] }).cuts).toHaveLength(cuts.length);
    }
  });

  it('are those of the speed that was turned to', () => {
    const tried = whatIf(artworkJob());
    const slow = artworkJob();
    slow['part.job.yaml'] = String(slow['part.job.yaml']).replace('12 mm/s', '3 mm/s');
    const { time, waste } = factsOf(slow);
    expect(tried.quick({ cuts: [{ cut: 0, speedMmPerS: 3 }] })).toMatchObject({ time, waste });
  });

  it('count how likely the least sure cut then is to fall short', () => {
    const priced = `${STATED}sheet: { width: 300 mm, height: 200 mm, price: 1450 EUR }\nzero: sheet-corner\n`;
    const [sure, unsure] = [3, 24].map((speedMmPerS) =>
      whatIf(artworkJob(priced)).quick({ cuts: [{ cut: 0, speedMmPerS }] }),
    );
    expect(sure!.waste!.expected).toBe(0);
    const { throughProbability } = unsure!.cuts[0]!.prediction!;
    expect(unsure!.waste!.expected).toBeCloseTo(unsure!.waste!.atStake * (1 - throughProbability), 1);
    expect(unsure!.waste!.expected).toBeGreaterThan(1);
  });
});

describe('what is stated of the power', () => {
  it('may be watts in the plan', () => {
    const watts = artworkJob();
    watts['part.job.yaml'] = String(watts['part.job.yaml']).replace('power: 60 %', 'power: 30 W');
    const [planned] = factsOf(watts).cuts;
    // Of 54 W at full.
    expect(planned!.passes[0]!.setting).toBeCloseTo(30 / 54, 9);
    expect(whatIf(watts).quick({ cuts: [] }).cuts[0]!.passes).toEqual(planned!.passes);
  });

  it('leaves nothing predicted where the program counts it on another scale, until that is turned', () => {
    const files = toolpathJob();
    files['part.gcode'] = String(files['part.gcode']).replace('S600', 'S255');
    const tried = whatIf(files);
    expect(tried.quick({ cuts: [] }).cuts[0]!.notPredicted).toMatch(/another scale: its highest is 255/);
    expect(tried.quick({ cuts: [{ cut: 0, setting: 0.6 }] }).cuts[0]!.prediction).not.toBeNull();
  });
});

describe('the section of a cut', () => {
  const tried = whatIf(artworkJob());
  const sectionOf = (one: WhatIf, change: object) => {
    const asked = { cuts: [], ...change };
    return one.section(asked, one.quick(asked).cuts[0]);
  };

  it('is drawn under the lens and through the sheet that were turned to, and under no other lens', () => {
    const { lenses, ...sheet } = sectionOf(tried, { lens: '4in', thicknessMm: 5 })!;
    expect(sheet).toMatchObject({ cut: 0, task: 'outline', material: 'birch plywood', thicknessMm: 5 });
    // 4 in = 101.6 mm.
    expect(lenses.map(({ id, fitted, focalMm }) => [id, fitted, focalMm])).toEqual([['4in', true, 101.6]]);
    const { throughProbability } = tried.quick({ lens: '4in', thicknessMm: 5, cuts: [] }).cuts[0]!.prediction!;
    expect(lenses[0]!.probability).toBeCloseTo(throughProbability, 9);
  });

  it('is none where there is no cut, none is predicted, or the sheet is not known', () => {
    const predicted = tried.quick({ cuts: [] }).cuts[0]!;
    expect(tried.section({ cuts: [] }, predicted)).not.toBeNull();
    expect(tried.section({ cuts: [] }, undefined)).toBeNull();
    expect(tried.section({ cuts: [] }, { ...predicted, prediction: null })).toBeNull();
    for (const [from, to] of [
      ['thickness: 3 mm\n', ''],
      ['2in', 'no-such-lens'],
      ['shed-60w', 'no-such-machine'],
    ] as const) {
      expect(whatIf(artworkJob(STATED.replace(from, to))).section({ cuts: [] }, predicted)).toBeNull();
    }
  });
});

describe('a program beside its artwork', () => {
  const part = (passes: number): Files => ({
    ...shed(),
    'part.job.yaml': `kerflint: 1\n${STATED}zero: machine\ntoolpath: part.gcode\nartwork: part.svg\n${PLAN}`,
    'part.svg': OUTLINE,
    'part.gcode': `G21 G90\nM4 S600 F720\nG0 X10 Y25\n${'G1 X30\nG1 Y40\nG1 X10\nG1 Y25\n'.repeat(passes)}M5\nM2\n`,
  });

  it('is laid over it anew once its strokes are others', () => {
    const { match, order } = whatIf(part(1)).whole({ cuts: [{ cut: 0, passes: 2 }] });
    const twice = factsOf(part(2));
    // The outline of 20 × 15 mm is run twice: 140 mm, all of them the artwork's.
    expect(match).toMatchObject({ missing: { items: [] }, extra: { items: [] } });
    expect(match!.coveredToolpathMm).toBeCloseTo(140, 6);
    expect(match!.coveredToolpathMm).toBeCloseTo(twice.match!.coveredToolpathMm, 6);
    expect(order!.contours).toBe(twice.order!.contours);
  });

  it('is held against the plan as it stands', () => {
    const { match } = whatIf(part(1)).whole({ cuts: [{ cut: 0, setting: 0.5 }] });
    expect(match!.settings).toEqual([]);
    expect(match!.coveredToolpathMm).toBeCloseTo(70, 6);
  });
});

function both({ read, facts }: ReturnType<typeof readWithMotion>) {
  return [read, facts] as const;
}
