// A power scale that is not stated is never assumed, and one that does not fit the program is said before all that rests on it. The jobs
// are invented.
import { describe, expect, it } from 'vitest';
import type { JobResult } from '../../../src/findings/result.ts';
import { type Files, run } from '../../memory-shop.ts';

const profile = (controller: string) =>
  `kerflint: 1\nid: garden\nsource: { kind: co2, rated: 60 W }\nlenses: [{ focal: 2 in }]\ntravel: { x: 500 mm, y: 300 mm }\n${controller}`;
const scaled = (full: number) => profile(`controller: { power: { word: S, full: ${full} } }\n`);
const program = (power: number, before = '') =>
  `${before}G21 G90\nM8\nM4 S${power} F540\nG0 X10 Y10\nG1 X90\nG1 Y34\nG1 X10\nG1 Y10\nM5\nM9\nM2\n`;
const LABEL =
  '<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="80mm" viewBox="0 0 120 80"><path fill="none" stroke="#7a5195" d="M10 10H90V34H10Z"/></svg>';

function judged(machine: string, files: Files, plan = ', power: 80 %, speed: 9 mm/s, air: 1 bar'): JobResult {
  const named = [
    ...('label.gcode' in files ? ['toolpath: label.gcode\nzero: machine\n'] : []),
    ...('label.svg' in files ? ['artwork: label.svg\n'] : []),
  ].join('');
  const sidecar = `kerflint: 1\nmachine: garden\nmaterial: birch-plywood\nthickness: 3.0 mm ± 0.1 mm\n${named}tasks:\n  - { name: outline, aim: through${plan} }\n`;
  return run({ 'garden.machine.yaml': machine, 'label.job.yaml': sidecar, ...files }, {}, ['label.job.yaml']).jobs[0]!;
}

const rulesOf = (job: JobResult, severity: string) =>
  job.findings.filter((one) => one.severity === severity).map(({ rule }) => rule);

describe('a machine whose power scale is not stated', () => {
  it('judges artwork as any other does', () => {
    const files = { 'label.svg': LABEL };
    const open = judged(profile(''), files);
    const stated = judged(scaled(1000), files);
    expect(open.verdict).toBe('pass');
    expect(open.cuts).toEqual(stated.cuts);
  });

  it('judges no toolpath, and says which key is missing, how to find it out and how high the program goes', () => {
    const job = judged(profile(''), { 'label.gcode': program(800) });
    expect(job.verdict).toBe('incomplete');
    expect(job.unanswered).toMatchObject([{ fact: 'power-scale' }]);
    expect(job.headline).toContain('`controller.power`');
    expect(job.unanswered![0]!.remedy).toMatch(/value that gives full power.*settings or manual.*goes up to 800/s);
    expect(job.cuts.filter(({ line }) => line > 1 && job.artwork === undefined)).toEqual([]);
    expect(rulesOf(job, 'error')).toEqual([]);
  });

  it.each(['S', 'M106', 'analog'])('takes %s for no more granted than any other word', (word) => {
    const stated = judged(profile(`controller: { power: { word: ${word}, full: 255 } }\n`), {
      'label.gcode': program(204),
    });
    expect(stated.unanswered?.some(({ missing }) => missing.includes('controller.power'))).toBe(false);
  });
});

describe('a program on another scale', () => {
  const mixedUp: [string, JobResult][] = [
    ['S204 of 1000 where 80 % is planned', judged(scaled(1000), { 'label.gcode': program(204) })],
    ['S800 of 255 where 80 % is planned', judged(scaled(255), { 'label.gcode': program(800) })],
  ];
  it.each(mixedUp)('%s: that is the one error, and nothing that rests on watts is told besides', (_, job) => {
    expect(job.verdict).toBe('incomplete');
    expect(rulesOf(job, 'error')).toEqual(['power/scale-mismatch']);
    expect(job.findings.map(({ rule }) => rule).filter((rule) => /^(?:cut|match)\//.test(rule))).toEqual([]);
    expect(job.cuts.every(({ throughProbability }) => throughProbability === null)).toBe(true);
    expect(job.unanswered).toMatchObject([{ fact: 'power-scale' }]);
    expect(job.headline).toMatch(/^Not judged: the program seems to count power on another scale/);
  });

  it.each([
    ['S255 of 1000', 1000, 255],
    ['S1000 of 255', 255, 1000],
  ])('%s where nothing is planned: a warning, and not judged', (_, full, power) => {
    const job = judged(scaled(full), { 'label.gcode': program(power) }, '');
    expect(job.verdict).toBe('incomplete');
    expect(rulesOf(job, 'error')).toEqual([]);
    expect(rulesOf(job, 'warning')).toEqual(['power/scale-mismatch']);
  });

  it('is judged once the setting is planned, or the scale put right', () => {
    const planned = judged(scaled(1000), { 'label.gcode': program(255) }, ', power: 25.5 %, air: 1 bar');
    const right = judged(scaled(255), { 'label.gcode': program(204) });
    for (const job of [planned, right]) {
      expect(job.unanswered).toEqual([]);
      expect(job.cuts[0]!.throughProbability).not.toBeNull();
    }
  });

  it('is followed where the program itself sets the scale', () => {
    const job = judged(scaled(1000), { 'label.gcode': program(204, '$30=255\n') });
    expect(job.cuts[0]!.passes[0]!.powerW).toBeCloseTo(48, 0);
    expect(job.unanswered?.filter(({ fact }) => fact === 'power-scale')).toEqual([]);
  });
});
