import { describe, expect, it } from 'vitest';
import type { CutFact, RemedyFact } from '../../../src/facts/cuts/cut-fact.ts';
import { formatSpeed } from '../../../src/units/format.ts';
import { demoFiles, type Files, factsOf, shed } from '../../memory-shop.ts';

interface Settings {
  material: string;
  thickness: string;
  lens: string;
  power: number;
  speedMmPerS: number;
  passes: number;
  focusMm: number;
  focusStepMm: number;
}

const SHORT: Record<string, Settings> = {
  'too fast': {
    material: 'birch-plywood',
    thickness: '6 mm',
    lens: '2in',
    power: 0.8,
    speedMmPerS: 12,
    passes: 1,
    focusMm: 0,
    focusStepMm: 0,
  },
  'too weak': {
    material: 'poplar-plywood',
    thickness: '3 mm',
    lens: '2in',
    power: 0.3,
    speedMmPerS: 10,
    passes: 1,
    focusMm: 0,
    focusStepMm: 0,
  },
  'out of focus': {
    material: 'cast-acrylic',
    thickness: '5 mm',
    lens: '2in',
    power: 0.85,
    speedMmPerS: 6,
    passes: 1,
    focusMm: 3,
    focusStepMm: 0,
  },
  'too thick': {
    material: 'cast-acrylic',
    thickness: '12 mm',
    lens: '1.5in',
    power: 0.85,
    speedMmPerS: 5,
    passes: 1,
    focusMm: 0,
    focusStepMm: 0,
  },
};

const files = (s: Settings): Files => ({
  ...shed(),
  ...demoFiles('plant-labels.svg'),
  'part.job.yaml': `kerflint: 1
machine: shed-60w
lens: ${s.lens}
material: ${s.material}
thickness: ${s.thickness}
zero: sheet-corner
artwork: plant-labels.svg
tasks:
  - { name: parts, aim: through, power: ${s.power * 100} %, speed: ${s.speedMmPerS} mm/s, passes: ${s.passes}, focus: ${s.focusMm} mm, focus-step: ${s.focusStepMm} mm }
`,
});

const worst = (s: Settings): CutFact => factsOf(files(s)).cuts[0]!;

/** The settings with the remedy's own numbers put in, as a person would. */
function followed(s: Settings, remedy: RemedyFact): Settings {
  return {
    ...s,
    ...(remedy.setting !== null ? { power: remedy.setting } : {}),
    ...(remedy.speedMmPerS !== null ? { speedMmPerS: remedy.speedMmPerS } : {}),
    ...(remedy.passes !== null ? { passes: remedy.passes } : {}),
    ...(remedy.focusMm !== null ? { focusMm: remedy.focusMm } : {}),
    ...(remedy.focusStepMm !== null ? { focusStepMm: remedy.focusStepMm } : {}),
    ...(remedy.lens !== null ? { lens: remedy.lens } : {}),
    ...(remedy.layerThicknessMm !== null ? { thickness: `${remedy.layerThicknessMm} mm` } : {}),
  };
}

describe('remedies', () => {
  it.each(Object.entries(SHORT))('of a cut that is %s each bring it through when followed', (_, settings) => {
    const cut = worst(settings);
    expect(cut.prediction!.throughProbability).toBeLessThan(0.9);
    const remedies = cut.remedies.filter((one) => one.kind !== 'none');
    expect(remedies.length).toBeGreaterThan(0);
    for (const remedy of remedies) {
      const after = worst(followed(settings, remedy)).prediction!.throughProbability;
      expect([remedy.text, after >= 0.9]).toEqual([remedy.text, true]);
    }
  });

  it('say with numbers what the sentence says', () => {
    for (const remedy of worst(SHORT['too fast']!).remedies) {
      if (remedy.speedMmPerS !== null) expect(remedy.text).toContain(formatSpeed(remedy.speedMmPerS));
      if (remedy.lens !== null) expect(remedy.text).toContain(remedy.lens);
    }
  });

  it('are sought for the least sure cuts of a task only', () => {
    const settings = [300, 400, 500, 600].map((s, i) => `G0 X10 Y${10 + 5 * i}\nG1 X60 S${s}`).join('\n');
    const { cuts } = factsOf({
      ...shed(),
      'part.job.yaml':
        'kerflint: 1\nmachine: shed-60w\nlens: 2in\nmaterial: birch-plywood\nthickness: 6 mm\nzero: machine\ntoolpath: part.gcode\n',
      'part.gcode': `G21 G90\nM8\nM4 F600\n${settings}\nM5\nM2\n`,
    });
    expect(cuts.map((cut) => cut.remedies.length > 0)).toEqual([true, true, false, false]);
  });

  it('are not offered for a cut that goes through', () => {
    expect(worst({ ...SHORT['too fast']!, thickness: '2 mm' }).remedies).toEqual([]);
  });

  it('ask for layers of a sheet that can be bought, near to the thickness: hardboard comes in 2, 3, 3.2, 4, 5 and 6 mm', () => {
    const thick = { ...SHORT['too fast']!, material: 'hardboard', thickness: '26 mm' };
    const sold = worst(thick).remedies.flatMap(({ layers, layerThicknessMm }) =>
      layerThicknessMm === null ? [] : [{ layers, layerThicknessMm }],
    );
    expect(sold).toEqual([{ layers: 5, layerThicknessMm: 5 }]);
    const layers = worst(thick).remedies.find((one) => one.layers !== null)!;
    const under = layers.lens === null ? '' : ` with the ${layers.lens} lens`;
    expect(layers.text.replace(under, '')).toMatch(
      /^Cut 5 layers of 5\.0 mm in \d(?: pass| passes) at \d+ % and [\d.]+ mm\/s, the focus [^,]*, and stack them$/,
    );
  });

  it('lower the focus from pass to pass only where the machine and the program do', () => {
    const stated = { ...SHORT['too fast']!, material: 'cast-acrylic', thickness: '10 mm', power: 0.85, speedMmPerS: 5 };
    const steps = (profile: (text: string) => string) => {
      const all = files(stated);
      const name = 'machines/shed-60w.machine.yaml';
      const { remedies } = factsOf({ ...all, [name]: profile(String(all[name])) }).cuts[0]!;
      return remedies.map(({ focusStepMm }) => focusStepMm ?? 0);
    };
    expect(Math.min(...steps((text) => text))).toBeLessThan(0);
    const fixed = steps((text) => text.replace('z-zero: waist-on-face', 'z-zero: fixed'));
    const noRoom = steps((text) => text.replace(', z: 40 mm', ''));
    for (const still of [fixed, noRoom]) expect(Math.min(0, ...still)).toBe(0);
  });

  it('out of reach of everything say so', () => {
    const [only] = worst({ ...SHORT['too fast']!, material: 'oak', thickness: '150 mm' }).remedies;
    expect(only).toMatchObject({ kind: 'none' });
    expect(only!.text).toMatch(/^No setting within .* thinner stock or a stronger source$/);
  });
});
