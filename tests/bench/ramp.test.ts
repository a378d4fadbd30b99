import { describe, expect, it } from 'vitest';
import { focusOffset } from '../../src/bench/calibration/focus-offset.ts';
import { makeRamp, type RampRequest } from '../../src/bench/test-piece/make-ramp.ts';
import type { Machine } from '../../src/job/model.ts';
import { factsOf, run } from '../memory-shop.ts';
import { bench, checkout, fileOf, resultsOf, SHED, shedText, shedWith } from './on-bench.ts';

const request = (machine: Machine = SHED, more: Partial<RampRequest> = {}): RampRequest => ({
  ...bench('birch-plywood', 4, machine),
  name: 'test',
  today: '2026-11-25',
  kind: null,
  schemas: null,
  ...more,
});

function made(machine: Machine = SHED, more: Partial<RampRequest> = {}) {
  const { value, problem } = makeRamp(request(machine, more));
  if (value === null) throw new Error(problem);
  return value;
}

const read = (text: string, from: string, to: string) =>
  resultsOf(text.replace(/from:.*/, `from: ${from}`).replace(/to:.*/, `to: ${to}`)).ramp!;

describe('a focus ramp', () => {
  it.each(['driven', 'tilted'] as const)('%s passes the check with its own sidecar', (kind) => {
    const result = run(checkout(made(SHED, { kind })), {}, ['test.job.yaml']);
    expect(result.jobs[0]!.verdict).toBe('pass');
    expect(result.jobs[0]!.findings.filter((finding) => finding.severity === 'error')).toEqual([]);
  });

  it('drives the waist through the face from above to below, as far to either side', () => {
    const { strokes } = factsOf(checkout(made())).toolpath!;
    const sloped = Array.from({ length: strokes.count }, (_, i) => i).filter(
      (i) => strokes.startZ[i] !== strokes.endZ[i],
    );
    expect(sloped.length).toBe(3);
    for (const i of sloped) {
      expect(strokes.startZ[i]).toBeGreaterThan(0);
      expect(strokes.endZ[i]).toBe(-strokes.startZ[i]!);
    }
  });

  it('never brings the nozzle down to the sheet', () => {
    for (const lens of SHED.lenses) {
      const { boundsMm } = factsOf(checkout(made(SHED, { lens }))).toolpath!;
      expect(lens.standoffMm! + boundsMm!.minZ).toBeGreaterThanOrEqual(1);
    }
  });

  it('is refused where the nozzle stands too close for any ramp', () => {
    const close = { ...SHED.lenses[0]!, standoffMm: 1.5 };
    expect(makeRamp(request(shedWith(['  power: { word: S, full: 1000 }\n', '']))).problem).toMatch(
      /controller\.power/,
    );
    expect(makeRamp(request(SHED, { lens: close })).problem).toMatch(/would bring them together/);
  });

  it('takes the tilted board where the machine has no controlled Z, and moves no Z then', () => {
    const fixed = shedWith(['z-zero: waist-on-face', 'z-zero: fixed']);
    const files = made(fixed);
    expect(fileOf(files, '.gcode')).not.toMatch(/Z/);
    expect(files.steps.join('\n')).toMatch(/pack it up so that over the 100 mm of the ramp it rises by 8 mm/);
    expect(
      run(checkout(files, shedText().replace('z-zero: waist-on-face', 'z-zero: fixed')), {}, ['test.job.yaml']).jobs[0]!
        .verdict,
    ).toBe('pass');
    expect(makeRamp(request(fixed, { kind: 'driven' })).problem).toMatch(/no controlled Z/);
  });

  it('reads as no offset when it is sharpest in the middle', () => {
    expect(focusOffset(read(fileOf(made(), '.results.yaml'), '45 mm', '55 mm'))).toMatchObject({ offsetMm: 0 });
  });

  it('reads a lens that sits too low as a negative offset: then the narrow place lies where the waist was driven high', () => {
    // Driven from +4 to −4 mm over 100 mm; sharpest at 25 mm, where the waist was meant to be at +2 mm and was on the face.
    const { offsetMm, spreadMm } = focusOffset(read(fileOf(made(), '.results.yaml'), '20 mm', '30 mm'));
    expect(offsetMm).toBe(-2);
    expect(spreadMm).toBeCloseTo(0.2, 5);
  });

  it('never claims to know the focus better than a tenth of a millimetre', () => {
    expect(focusOffset(read(fileOf(made(), '.results.yaml'), '50 mm', '50 mm')).spreadMm).toBe(0.1);
  });
});
