// What a job says of what was assumed. A profile of four facts is held against the same with all stated at the defaults, and what a
// measurement would bring against the prediction with that very measurement in the profile. The machines are invented.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { JobResult } from '../../../src/findings/result.ts';
import { type Files, run, shed } from '../../memory-shop.ts';
import { allStated, type FourFacts, fourFacts } from './profile-texts.ts';

const LABEL =
  '<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="80mm" viewBox="0 0 120 80"><path fill="none" stroke="#7a5195" d="M10 10H90V34H10Z"/></svg>';
const PROGRAM = 'G21 G90\nM8\nM4 S800 F540\nG0 X10 Y10\nG1 X90\nG1 Y34\nG1 X10\nG1 Y10\nM5\nM9\nM2\n';
const TASK = 'power: 80 %, speed: 9 mm/s, air: 1 bar';

interface Asked {
  material?: string;
  toolpath?: boolean;
  task?: string;
}

/** A plant label of 3 mm on the machine of a profile. */
function judged(profile: string, { material = 'birch-plywood', toolpath = false, task = TASK }: Asked = {}): JobResult {
  const files: Files = {
    'garden.machine.yaml': profile,
    'label.job.yaml': `kerflint: 1\nmachine: garden\nmaterial: ${material}\nthickness: 3.0 mm ± 0.1 mm\nartwork: label.svg\n${toolpath ? 'toolpath: label.gcode\nzero: machine\n' : ''}tasks:\n  - { name: outline, aim: through${task === '' ? '' : `, ${task}`} }\n`,
    'label.svg': LABEL,
    ...(toolpath ? { 'label.gcode': PROGRAM } : {}),
  };
  const result = run(files, {}, ['label.job.yaml']).jobs[0]!;
  expect(result.findings.filter(({ rule }) => rule.startsWith('input/'))).toEqual([]);
  return result;
}

/** Half the 5–95 % band of the depth in its logarithm, and the median, of the job's one cut. */
function depthOf(job: JobResult): { half: number; depthMm: number } {
  const { depthMm, depthLowMm, depthHighMm } = job.cuts[0]!;
  return { half: Math.log(depthHighMm! / depthLowMm!) / 2, depthMm: depthMm! };
}

const TUBE: FourFacts = { kind: 'co2', ratedW: 60, focalMm: 50.8 };

describe('a profile of four facts', () => {
  const machines = fc.oneof(
    fc.record<FourFacts>({
      kind: fc.constant('co2'),
      ratedW: fc.integer({ min: 30, max: 150 }),
      focalMm: fc.constantFrom(38.1, 50.8, 63.5, 101.6),
    }),
    fc.record<FourFacts>({
      kind: fc.constant('diode'),
      ratedW: fc.integer({ min: 5, max: 40 }),
      focalMm: fc.constantFrom(8, 30, 40, 50),
    }),
    // No catalogue material is cut by fibre sources and by the model: their beam is held in tests/job/class-defaults.test.ts.
  );
  it('predicts the same median with a wider band than all stated at the defaults', () => {
    fc.assert(
      fc.property(machines, fc.constantFrom('birch-plywood', 'mdf', 'card'), (machine, material) => {
        const measured = { source: `measured: ${machine.ratedW} W, measured-on: 2026-09-01` };
        const open = judged(fourFacts(machine, measured), { material });
        const stated = judged(allStated(machine), { material });
        expect(stated.assumed).toEqual([]);
        expect(stated.narrows).toBeNull();
        expect(open.assumed!.length).toBeGreaterThan(5);
        expect(depthOf(open).half).toBeGreaterThan(depthOf(stated).half);
        expect(Math.abs(Math.log(depthOf(open).depthMm / depthOf(stated).depthMm))).toBeLessThan(0.05);
      }),
      { numRuns: 25 },
    );
  });

  it('of a diode has a wider band already for its cone alone', () => {
    const diode: FourFacts = { kind: 'diode', ratedW: 40, focalMm: 40 };
    const open = judged(allStated(diode, ['beam.diameter']));
    expect(open.assumed!.map(({ key }) => key)).toEqual(['beam.diameter']);
    expect(depthOf(open).half).toBeGreaterThan(depthOf(judged(allStated(diode))).half);
  });
});

describe('what is assumed', () => {
  it('is in the result key by key, what is in doubt first, each with where it is from', () => {
    const { assumed } = judged(fourFacts(TUBE));
    expect(assumed!.slice(0, 3)).toMatchObject([
      { key: 'source.measured', value: 60, unit: 'W', inDoubt: true },
      { key: 'beam.diameter', value: 6, unit: 'mm', inDoubt: true },
      { key: 'beam.m2', value: 1.2, unit: null, inDoubt: true },
    ]);
    expect(assumed!.slice(3).some(({ inDoubt }) => inDoubt)).toBe(false);
    for (const { basis } of assumed!) expect(basis.length).toBeGreaterThan(10);
  });

  it('leaves out what the job does not rest on', () => {
    const keys = (job: JobResult) => job.assumed!.map(({ key }) => key);
    expect(keys(judged(fourFacts(TUBE)))).not.toContain('controller.m4');
    expect(keys(judged(fourFacts(TUBE), { toolpath: true }))).toContain('controller.m4');
    const spotStated = keys(judged(fourFacts(TUBE, { lens: 'spot: 0.14 mm' })));
    expect(spotStated).toContain('beam.diameter');
    expect(spotStated.filter((key) => /m2|wavelength|shape|material/.test(key))).toEqual([]);
  });

  it('is nothing for the demo, whose machine says that it is made up', () => {
    const files: Files = {
      ...shed(),
      'label.svg': LABEL,
      'label.job.yaml': `kerflint: 1\nmachine: shed-60w\nmaterial: mdf\nthickness: 3.0 mm\nartwork: label.svg\n`,
    };
    const job = run(files, {}, ['label.job.yaml']).jobs[0]!;
    expect([job.assumed, job.narrows, job.inventedMachine]).toEqual([[], null, true]);
    expect(judged(fourFacts(TUBE)).inventedMachine).toBeUndefined();
  });
});

describe('the measurement that narrows the answer', () => {
  it('is worth what the prediction is worth with that measurement in the profile', () => {
    for (const machine of [TUBE, { ...TUBE, ratedW: 100, focalMm: 101.6 }]) {
      const open = judged(fourFacts(machine));
      expect(open.narrows!.key).toBe('source.measured');
      expect(open.narrows!.fromShare).toBeCloseTo(depthOf(open).half, 2);
      const measured = judged(fourFacts(machine, { source: `measured: ${machine.ratedW} W, measured-on: 2026-09-01` }));
      expect(open.narrows!.toShare).toBeCloseTo(depthOf(measured).half, 2);
    }
  });

  it('is that of the spot of a diode whose power is known', () => {
    const diode: FourFacts = { kind: 'diode', ratedW: 20, focalMm: 40 };
    const { narrows } = judged(fourFacts(diode, { source: 'measured: 20 W, measured-on: 2026-09-01' }));
    expect(narrows!.key).toBe('lenses.40mm.spot');
    expect(narrows!.toShare).toBeLessThan(narrows!.fromShare);
  });

  it('is none where what is left open of the machine hardly bears on the depth', () => {
    const { assumed, narrows } = judged(fourFacts(TUBE, { source: 'measured: 60 W, measured-on: 2026-09-01' }));
    expect(assumed!.filter(({ inDoubt }) => inDoubt).map(({ key }) => key)).toEqual(['beam.diameter', 'beam.m2']);
    expect(narrows).toBeNull();
  });

  it('is told of artwork without settings, by what is proposed for it', () => {
    const { narrows, cuts } = judged(fourFacts(TUBE), { task: '', material: 'cast-acrylic' });
    expect(cuts[0]!.reach).toBeDefined();
    expect(narrows!.key).toBe('source.measured');
  });

  it('is none where nothing was predicted', () => {
    const engraved = run(
      {
        'garden.machine.yaml': fourFacts(TUBE),
        'label.svg': LABEL,
        'label.job.yaml':
          'kerflint: 1\nmachine: garden\nmaterial: mdf\nthickness: 3.0 mm\nartwork: label.svg\ntasks:\n  - { name: outline, aim: surface }\n',
      },
      {},
      ['label.job.yaml'],
    ).jobs[0]!;
    expect(engraved.assumed!.length).toBeGreaterThan(0);
    expect(engraved.narrows).toBeNull();
  });
});
