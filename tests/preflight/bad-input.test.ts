import { describe, expect, it } from 'vitest';
import type { JobResult } from '../../src/findings/result.ts';
import { type Files, run, shed } from '../memory-shop.ts';

const good: Files = {
  'good.job.yaml':
    'kerflint: 1\nmachine: shed-60w\nlens: 2in\nmaterial: birch-plywood\nthickness: 3 mm ± 0.1 mm\nface: bare\nzero: machine\ntoolpath: good.gcode\n',
  'good.gcode': 'G21 G90\nM8\nM4 S800 F540\nG0 X10 Y10\nG1 X60\nG1 Y60\nG1 X10\nG1 Y10\nM5\nM9\nM2\n',
};

const bare = { machine: 'shed-60w', lens: '2in', material: 'birch-plywood', thickness: '3 mm' };

/** Runs the file under test beside a good job, which must keep its result. */
function judged(files: Files, options = {}): JobResult {
  const result = run({ ...shed(), ...good, ...files }, options);
  const other = result.jobs.find((job) => job.name === 'good')!;
  expect(other.verdict).toBe('pass');
  const job = result.jobs.find((one) => one.name !== 'good')!;
  for (const finding of job.findings) {
    expect(finding.location.line).toBeGreaterThanOrEqual(1);
    expect(finding.message.length).toBeLessThan(2000);
  }
  return job;
}

const rules = (job: JobResult) => job.findings.filter((one) => one.severity === 'error').map((one) => one.rule);

const bytes = (...parts: (string | number[])[]) =>
  Uint8Array.from(parts.flatMap((part) => (typeof part === 'string' ? [...new TextEncoder().encode(part)] : part)));

describe('toolpaths that are none', () => {
  it.each<[string, string | Uint8Array]>([
    ['an empty file', ''],
    ['blanks only', ' \n\n  \n'],
    ['a binary file', bytes([0x7f, 0x45, 0x4c, 0x46, 0, 0, 0, 1, 2, 3, 0, 255, 254])],
    ['a NUL in a line', bytes('G1 X1', [0], 'Y2\n')],
    ['one line of ten megabytes', 'G1 X1 '.repeat(1_700_000)],
    ['numbers beyond any machine', 'G21 G90\nM4 S800 F600\nG1 X1e308 Y1\nG1 X99999999999999999999\n'],
    ['words that are no numbers', 'G21\nM4 S1 F1\nG1 XNaN Y--5\nG1 X1.2.3\n'],
    ['an arc without a centre', 'G21 G90\nM4 S800 F600\nG2 X10 Y10\n'],
    ['expressions', 'G21 G90\n#1=5\nG1 X[#1*2] F100\n'],
  ])('%s does not pass, and says where', (_, content) => {
    const job = judged({ 'odd.gcode': content }, bare);
    expect(job.verdict).not.toBe('pass');
    expect(job.findings.length).toBeGreaterThan(0);
    expect(job.findings.every((one) => one.location.file === 'odd.gcode')).toBe(true);
  });

  it.each<[string, (text: string) => string | Uint8Array]>([
    ['a byte-order mark', (text) => `\uFEFF${text}`],
    ['CRLF', (text) => text.replaceAll('\n', '\r\n')],
    ['a lone CR', (text) => text.replaceAll('\n', '\r')],
  ])('%s is read in silence', (_, change) => {
    const job = judged({ 'odd.gcode': change(good['good.gcode'] as string) }, bare);
    expect(job.verdict).toBe('pass');
    expect(rules(job)).toEqual([]);
    expect(job.toolpath!.cutLengthMm).toBeCloseTo(200, 6);
  });
});

describe('artwork that is none', () => {
  const svg = (inside: string, attributes = 'width="100mm" height="50mm" viewBox="0 0 100 50"') =>
    `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" ${attributes}>${inside}</svg>`;

  it.each<[string, string | Uint8Array]>([
    ['an empty file', ''],
    ['a binary file', bytes([0x89, 0x50, 0x4e, 0x47, 0, 0, 0, 13])],
    ['compressed artwork', bytes([0x1f, 0x8b, 8, 0, 0, 0, 0, 0])],
    [
      'an unclosed element',
      '<svg xmlns="http://www.w3.org/2000/svg" width="10mm" height="10mm"><g><path d="M 0 0 L 5 5',
    ],
    [
      'entities within entities',
      `<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>${svg('<text>&b;</text>')}`,
    ],
    ['a reference to itself', svg('<g id="a"><use href="#a"/></g>')],
    ['coordinates beyond any sheet', svg('<path stroke="#c2255c" d="M 0 0 L 1e308 5 L 10 10"/>')],
    ['path data that breaks off', svg('<path stroke="#c2255c" d="M 0 0 L 5 5 L 7 oops"/>')],
  ])('%s is a finding with a place', (_, content) => {
    const job = judged({ 'odd.svg': content }, bare);
    expect(job.findings.length).toBeGreaterThan(0);
    expect(job.findings.some((one) => one.severity !== 'note')).toBe(true);
    expect(job.findings.every((one) => one.location.file === 'odd.svg')).toBe(true);
  });

  it('a hundred thousand groups in each other end with a finding', () => {
    const deep = svg(`${'<g>'.repeat(100_000)}<path stroke="#c2255c" d="M0 0L5 5"/>${'</g>'.repeat(100_000)}`);
    const job = judged({ 'odd.svg': deep }, bare);
    expect(job.findings.some((one) => one.rule === 'input/syntax')).toBe(true);
  });
});

describe('sidecars that cannot be followed', () => {
  const text = good['good.job.yaml'] as string;
  const named = text.replaceAll('good.gcode', 'odd.gcode');

  it('a negative thickness is an error at its line', () => {
    const job = judged({ 'odd.job.yaml': text.replace('3 mm ± 0.1 mm', '-3 mm') });
    expect(job.verdict).toBe('fail');
    expect(job.findings.map((one) => [one.rule, one.location.line])).toContainEqual(['input/syntax', 5]);
  });

  it('a missing toolpath leaves the job incomplete', () => {
    const job = judged({ 'odd.job.yaml': named });
    expect(job.verdict).toBe('incomplete');
    expect(job.findings.map((one) => [one.rule, one.location.line])).toContainEqual(['input/unreadable', 8]);
  });

  it('a folder where a toolpath belongs leaves the job incomplete', () => {
    const job = judged({ 'odd.job.yaml': named, 'odd.gcode/notes.txt': '' });
    expect(job.verdict).toBe('incomplete');
    expect(rules(job)).toContain('input/unreadable');
  });

  it('a path that leaves the root is not followed', () => {
    const job = judged({ 'odd.job.yaml': text.replace('good.gcode', '../../outside.gcode') });
    expect(job.verdict).not.toBe('pass');
    expect(job.findings.some((one) => one.message.includes('outside'))).toBe(true);
  });

  it('an unknown key is answered with the nearest known one', () => {
    const job = judged({ 'odd.job.yaml': text.replace('thickness', 'thicknes') });
    expect(job.findings.some((one) => one.rule === 'input/syntax' && one.message.includes('thickness'))).toBe(true);
  });

  it('a declared unknown material is incomplete and asks for the data sheet', () => {
    const job = judged({ 'odd.job.yaml': text.replace('birch-plywood', 'unknown') });
    expect(job.verdict).toBe('incomplete');
    expect(job.findings.find((one) => one.rule === 'material/unknown')!.message).toContain('safety data sheet');
  });

  it('a machine that nobody described is an error, with the nearest one, and incomplete', () => {
    const job = judged({ 'odd.job.yaml': text.replace('shed-60w', 'shed-60') });
    expect(job.verdict).toBe('incomplete');
    expect(job.findings.some((one) => one.message.includes('shed-60w'))).toBe(true);
  });

  it('a waiver with a reason sets a finding aside and keeps it in sight', () => {
    const weak = { 'odd.gcode': (good['good.gcode'] as string).replace('F540', 'F1380') };
    const plain = judged({ 'odd.job.yaml': named, ...weak });
    expect(plain.findings.find((one) => one.rule === 'cut/marginal')!.status).toBe('open');
    const waived = judged({
      'odd.job.yaml': `${named}waive:\n  - { rule: cut/marginal, reason: proved on coupon 12, until: 2027-03-01 }\n`,
      ...weak,
    });
    expect(waived.findings.find((one) => one.rule === 'cut/marginal')).toMatchObject({
      status: 'waived',
      reason: 'proved on coupon 12',
    });
  });

  it('an expired waiver does not count', () => {
    const job = judged({
      'odd.job.yaml': `${named}waive:\n  - { rule: cut/marginal, reason: proved on coupon 12, until: 2026-03-01 }\n`,
      'odd.gcode': (good['good.gcode'] as string).replace('F540', 'F1380'),
    });
    expect(job.findings.find((one) => one.rule === 'cut/marginal')!.status).toBe('open');
  });
});
