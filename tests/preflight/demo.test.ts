import { describe, expect, it } from 'vitest';
import { demoFiles, run } from '../memory-shop.ts';

const DEMO = [
  'machines/shed-60w.machine.yaml',
  'seed-tray-divider.job.yaml',
  'seed-tray-divider.gcode',
  'seed-tray-divider.svg',
  'weather-vane-hub.job.yaml',
  'weather-vane-hub.gcode',
  'weather-vane-hub.svg',
  'plant-labels.job.yaml',
  'plant-labels.svg',
  'gate-sign.job.yaml',
  'gate-sign.gcode',
  'gate-sign.svg',
];

const result = run(demoFiles(...DEMO));
const job = (name: string) => result.jobs.find((one) => one.name === name)!;
const errors = (name: string) =>
  job(name).findings.flatMap((one) => (one.severity === 'error' && one.status === 'open' ? [one.rule] : []));
const warnings = (name: string) => job(name).findings.flatMap((one) => (one.severity === 'warning' ? [one.rule] : []));

describe('the demo', () => {
  it('fails as a whole, with four jobs', () => {
    expect(result.verdict).toBe('fail');
    expect(result.jobs.map((one) => one.name)).toEqual([
      'gate-sign',
      'plant-labels',
      'seed-tray-divider',
      'weather-vane-hub',
    ]);
  });

  it('the seed-tray divider passes without an error or a warning', () => {
    expect(job('seed-tray-divider').verdict).toBe('pass');
    expect([...errors('seed-tray-divider'), ...warnings('seed-tray-divider')]).toEqual([]);
    for (const cut of job('seed-tray-divider').cuts.filter((one) => one.aim === 'through')) {
      expect(cut.throughProbability).toBeGreaterThanOrEqual(0.9);
    }
  });

  it('the weather-vane hub will not go through under the short lens', () => {
    expect(job('weather-vane-hub').verdict).toBe('fail');
    expect(new Set(errors('weather-vane-hub'))).toEqual(new Set(['cut/short-of-through']));
    expect(warnings('weather-vane-hub')).toContain('focus/lens-too-short');
  });

  it('plant labels of vinyl are never cut', () => {
    expect(job('plant-labels').verdict).toBe('fail');
    expect(errors('plant-labels')).toEqual(['material/hazardous']);
  });

  it('the gate sign burns in its dwell, at the dwell’s line', () => {
    expect(errors('gate-sign')).toEqual(['toolpath/dwell-burn']);
    const finding = job('gate-sign').findings.find((one) => one.rule === 'toolpath/dwell-burn')!;
    expect(finding.location.file).toBe('gate-sign.gcode');
    expect(finding.excerpt!.lines.join('\n')).toContain('G4 P1.5');
  });

  it('nothing failed inside, and every job is priced', () => {
    for (const one of result.jobs) {
      expect(one.notChecked.filter((entry) => entry.kind === 'failed')).toEqual([]);
      expect(one.incomplete).toEqual([]);
      expect(one.waste!.atStake).toBeGreaterThan(0);
    }
    expect(job('gate-sign').waste!.expected).toBe(job('gate-sign').waste!.atStake);
    expect(job('seed-tray-divider').waste!.expected).toBeLessThan(job('seed-tray-divider').waste!.atStake * 0.11);
  });

  it('the same input gives the same bytes', () => {
    expect(JSON.stringify(run(demoFiles(...DEMO)))).toBe(JSON.stringify(result));
  });
});
