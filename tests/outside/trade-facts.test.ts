import { describe, expect, it } from 'vitest';
import type { JobResult } from '../../src/findings/result.ts';
import { type Files, run } from '../memory-shop.ts';

/**
 * Facts of the trade through the whole street (common practice, no source). Whether a source of so many watts cuts so thick a
 * sheet is held against the model in catalogue-trade.test.ts and trade-physics.test.ts.
 */
const machine = (kind: 'co2' | 'diode', watts: number) => `kerflint: 1
id: bench
source: { kind: ${kind}, wavelength: ${kind === 'co2' ? '10.6 um' : '450 nm'}, rated: ${watts} W, measured: ${watts} W, measured-on: 2026-10-01 }
beam: { diameter: 7 mm, m2: 1.2 }
lenses:
  - { id: 1.5in, focal: 1.5 in, shape: plano-convex, material: ZnSe, standoff: 5 mm }
  - { id: 2in, focal: 2 in, shape: plano-convex, material: ZnSe, standoff: 6 mm }
  - { id: 4in, focal: 4 in, shape: plano-convex, material: ZnSe, standoff: 8 mm }
travel: { x: 600 mm, y: 400 mm, z: 40 mm }
controller: { power: { word: S, full: 1000 }, m4: scaled-with-speed, beam-off-on-rapid: true, beam-off-when-stopped: true, z-zero: waist-on-face, arc-tolerance: 0.05 mm }
`;

interface Job {
  kind?: 'co2' | 'diode';
  watts?: number;
  lens?: string;
  material: string;
  thickness: string;
  extra?: string;
  passes?: number;
  speedMmPerS?: number;
}

function judged({
  kind = 'co2',
  watts = 50,
  lens = '2in',
  material,
  thickness,
  extra = '',
  passes = 1,
  speedMmPerS = 6,
}: Job): JobResult {
  const outline = 'G0 X10 Y10\nG1 X60\nG1 Y60\nG1 X10\nG1 Y10\n';
  const files: Files = {
    'bench.machine.yaml': machine(kind, watts),
    'part.job.yaml': `kerflint: 1
machine: bench
lens: ${lens}
material: ${material}
thickness: ${thickness}
zero: machine
toolpath: part.gcode
${extra}`,
    'part.gcode': `G21 G90\nM8\nM4 S1000 F${60 * speedMmPerS}\n${outline.repeat(passes)}M5\nM9\nM2\n`,
  };
  return run(files).jobs[0]!;
}

const rules = (job: JobResult, severity?: string) =>
  job.findings.filter((one) => severity === undefined || one.severity === severity).map((one) => one.rule);

describe('facts of the trade (common practice, no source)', () => {
  it('more than three passes on a CO₂ machine say that the sheet is too thick for it', () => {
    const three = judged({ material: 'birch-plywood', thickness: '6.35 mm', passes: 3 });
    const four = judged({ material: 'birch-plywood', thickness: '6.35 mm', passes: 4 });
    expect(rules(three)).not.toContain('cut/too-many-passes');
    expect(rules(four, 'warning')).toContain('cut/too-many-passes');
  });

  it.each(['aluminium', 'mild-steel', 'stainless-steel', 'brass', 'copper'])(
    'CO₂ and diode sources mark bare %s and do not cut it',
    (material) => {
      for (const kind of ['co2', 'diode'] as const) {
        const job = judged({ kind, watts: kind === 'co2' ? 100 : 20, material, thickness: '1 mm' });
        expect(rules(job, 'error')).toContain('material/not-cut-by-source');
      }
    },
  );

  it('a diode does nothing to clear stock', () => {
    const clear = judged({ kind: 'diode', watts: 20, material: 'clear-acrylic', thickness: '3 mm' });
    expect(rules(clear, 'error')).toContain('material/transparent-to-source');
    expect(rules(judged({ material: 'clear-acrylic', thickness: '3 mm' }))).not.toContain(
      'material/transparent-to-source',
    );
  });

  it('mirrored stock is masked first', () => {
    const mirrored = { material: 'mirrored-acrylic', thickness: '3 mm' };
    expect(rules(judged({ ...mirrored, extra: 'face: bare\nmirror: up\n' }))).toContain('material/mirror-unmasked');
    expect(rules(judged({ ...mirrored, extra: 'face: masked\nmirror: down\n' }))).not.toContain(
      'material/mirror-unmasked',
    );
  });

  it.each(['pvc', 'vinyl'])('%s is never cut', (material) => {
    const job = judged({ material, thickness: '1 mm' });
    expect([job.verdict, rules(job, 'error')]).toEqual(['fail', ['material/hazardous']]);
  });

  it.each(['birch-plywood', 'pine', 'mdf', 'cast-acrylic', 'oak', 'acetal'])(
    '12.7 mm of %s is in reach of a 4 in lens and out of reach of a 1.5 in lens, by the lens rule',
    (material) => {
      const thick = { watts: 100, material, thickness: '12.7 mm' };
      expect(rules(judged({ ...thick, lens: '1.5in' }), 'warning')).toContain('focus/lens-too-short');
      expect(rules(judged({ ...thick, lens: '4in' }))).not.toContain('focus/lens-too-short');
    },
  );

  it('1.5 in lenses serve fine detail, 2 in all-round work, 4 in thick stock: spot and depth of focus grow together', () => {
    const kerf = (lens: string) =>
      judged({ lens, material: 'card', thickness: '0.5 mm', speedMmPerS: 60 }).cuts[0]!.kerfMm!;
    expect(kerf('1.5in')).toBeLessThan(kerf('2in'));
    expect(kerf('2in')).toBeLessThan(kerf('4in'));
    for (const lens of ['1.5in', '2in']) {
      expect(rules(judged({ lens, material: 'poplar-plywood', thickness: '3 mm' }))).not.toContain(
        'focus/lens-too-short',
      );
    }
  });

  it('plywood with hidden glue stops a beam, and better grades have less of it', () => {
    const chance = (material: string) =>
      judged({ material, thickness: '6 mm', speedMmPerS: 5 }).cuts[0]!.throughProbability!;
    expect(chance('construction-plywood')).toBeLessThan(chance('birch-plywood'));
    const grades = ['construction-plywood', 'birch-plywood'].map((material) =>
      rules(judged({ material, thickness: '6 mm' })).includes('material/hidden-glue'),
    );
    expect(grades[0]).toBe(true);
  });
});
