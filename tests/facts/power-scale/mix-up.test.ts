import { describe, expect, it } from 'vitest';
import { type Files, run, shed } from '../../memory-shop.ts';

/** A program of a square whose power counts to `full`, at 80 % as planned, on a controller that takes 1000. */
const files = (full: number, more = ''): Files => ({
  ...shed(),
  'tray.gcode': `G21 G90\nM8\nG0 X10 Y10\nM4 S${full * 0.8} F480\nG1 X60\nG1 Y60\nG1 X10\nG1 Y10\nM5\nM2\n`,
  'tray.job.yaml': `kerflint: 1
machine: shed-60w
lens: 2in
material: birch-plywood
thickness: 6.0 mm ± 0.2 mm
zero: machine
toolpath: tray.gcode
tasks:
  - { name: rim, aim: through, power: 80 %, speed: 8 mm/s${more} }
`,
});

const judged = (full: number, more?: string) => run(files(full, more)).jobs[0]!;

describe('a program that counts power on another scale', () => {
  it('is said to, and nothing is predicted of its cuts until that is settled', () => {
    const { verdict, findings, cuts, unanswered } = judged(255);
    const rules = findings.map(({ rule }) => rule);
    expect(rules).toContain('power/scale-mismatch');
    // Each of these would be said of a setting of 20.4 %.
    for (const rule of ['cut/short-of-through', 'cut/marginal', 'match/settings-differ', 'power/below-firing-floor']) {
      expect(rules).not.toContain(rule);
    }
    expect(cuts[0]).toMatchObject({ throughProbability: null, remedies: [] });
    expect(verdict).toBe('incomplete');
    expect(unanswered).toEqual([
      {
        fact: 'power-scale',
        what: 'what power the beam has, and whether the sheet parts',
        missing:
          "the program seems to count power on another scale: its highest is 204, 20.4 % of the machine's 1000, and fits a full power of 255",
        remedy:
          "Export with full power at 1000, or correct `controller.power` in the machine's profile. If the setting is meant, plan it as `power` in the sidecar.",
      },
    ]);
  });

  it('is judged as ever on the scale of the profile', () => {
    const { findings, cuts, unanswered } = judged(1000);
    expect(findings.map(({ rule }) => rule)).not.toContain('power/scale-mismatch');
    expect(cuts[0]!.throughProbability).toBeGreaterThan(0);
    expect(unanswered).toEqual([]);
  });

  it('is told of other things that differ all the same', () => {
    const rules = judged(255, ', passes: 2').findings.map(({ rule }) => rule);
    expect(rules).toContain('match/settings-differ');
  });
});
