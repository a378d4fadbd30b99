import { describe, expect, it } from 'vitest';
import { type Files, run, shed } from '../memory-shop.ts';

/** A job whose one cut is marginal: cut/marginal points at line 5 of the toolpath. */
const marginal = (gcode: (text: string) => string = (text) => text, sidecar = ''): Files => ({
  ...shed(),
  'part.job.yaml': `kerflint: 1
machine: shed-60w
lens: 2in
material: birch-plywood
thickness: 3 mm ± 0.1 mm
face: bare
zero: machine
toolpath: part.gcode
${sidecar}`,
  'part.gcode': gcode('G21 G90\nM8\nM4 S800 F1380\nG0 X10 Y10\nG1 X60\nG1 Y60\nG1 X10\nG1 Y10\nM5\nM9\nM2\n'),
});

const judged = (files: Files, options = {}) => {
  const [job] = run(files, options, ['part.job.yaml']).jobs;
  return {
    marginal: job!.findings.find((one) => one.rule === 'cut/marginal')?.status,
    waiver: job!.findings.filter((one) => one.rule.startsWith('waiver/')).map((one) => [one.rule, one.location.line]),
  };
};

const ahead = (line: number, comment: string) => (text: string) => {
  const lines = text.split('\n');
  lines.splice(line - 1, 0, comment);
  return lines.join('\n');
};

describe('waivers in a job', () => {
  it('without one the finding is open, and nothing is said of waivers', () => {
    expect(judged(marginal())).toEqual({ marginal: 'open', waiver: [] });
  });

  it.each([
    ['; kerflint-waive cut/marginal: proved on coupon 12'],
    ['(kerflint-waive cut/marginal: proved on coupon 12)'],
    ['; kerflint-waive-file cut/marginal: proved on coupon 12'],
  ])('%s ahead of the line waives', (comment) => {
    expect(judged(marginal(ahead(5, comment)))).toEqual({ marginal: 'waived', waiver: [] });
  });

  it('a comment further away does not, and is told to be unused', () => {
    expect(judged(marginal(ahead(2, '; kerflint-waive cut/marginal: proved on coupon 12')))).toEqual({
      marginal: 'open',
      waiver: [['waiver/unused', 2]],
    });
  });

  it.each<[string, string, string]>([
    ['no reason', '; kerflint-waive cut/marginal', 'waiver/no-reason'],
    ['a rule that is none', '; kerflint-waive cut/margnal: because', 'waiver/unknown-rule'],
    ['a safety rule', '; kerflint-waive toolpath/dwell-burn: because', 'waiver/no-reason'],
  ])('%s in a comment does not count and is told', (_, comment, rule) => {
    expect(judged(marginal(ahead(5, comment)))).toEqual({ marginal: 'open', waiver: [[rule, 5]] });
  });

  it('the word outside a comment says nothing', () => {
    const files = marginal(ahead(5, 'M117 kerflint-waive cut/marginal: because'));
    expect(judged(files).marginal).toBe('open');
  });

  it('one that ran out is told', () => {
    const sidecar = 'waive:\n  - { rule: cut/marginal, reason: proved, until: 2026-11-24 }\n';
    expect(judged(marginal(undefined, sidecar))).toEqual({ marginal: 'open', waiver: [['waiver/expired', 10]] });
  });

  it('under --untrusted none counts, wherever it stands', () => {
    const sidecar = 'waive:\n  - { rule: cut/marginal, reason: proved, until: 2027-11-24 }\n';
    const files = marginal(ahead(5, '; kerflint-waive cut/marginal: proved on coupon 12'), sidecar);
    expect(judged(files, { untrusted: true }).marginal).toBe('open');
  });
});
