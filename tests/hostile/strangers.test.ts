// Whole runs of the command line over what a stranger might send: text that means to act on its reader, paths that lead away,
// files that never end.
import { execFileSync } from 'node:child_process';
import { mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import type { RunResult } from '../../src/findings/result.ts';
import { FORMAT_NAMES, type FormatName } from '../../src/report/formats.ts';
import { demo, folder, kerflint } from '../cli/harness.ts';
import { readCommands } from '../report/runner-grammar.ts';
import { actingFiles, SIDECAR } from './acting.ts';

/** A checkout with the demo's machine and whatever else is in the files. */
function checkout(files: Record<string, string | Uint8Array>): string {
  const made = demo();
  for (const [name, content] of Object.entries(files)) {
    mkdirSync(join(made, 'sent'), { recursive: true });
    writeFileSync(join(made, 'sent', name), content);
  }
  mkdirSync(join(made, '.git'));
  return made;
}

async function check(cwd: string, format: FormatName = 'json'): Promise<{ code: number; text: string }> {
  const { code, stdout, stderr } = await kerflint(cwd, ['check', 'sent', '--format', format, '--today', '2026-11-25']);
  expect(stderr).not.toContain('fault of kerflint');
  return { code, text: stdout };
}

const parsed = (text: string) => JSON.parse(text) as RunResult;
const saidOf = (result: RunResult) => result.jobs.flatMap((job) => job.findings.map((one) => one.rule));

describe('text that means to act on its reader', () => {
  it.each(FORMAT_NAMES)('is only shown in the format %s', async (format) => {
    const { code, text } = await check(checkout(actingFiles()), format);
    expect(code).toBe(3);
    expect(text.length).toBeGreaterThan(1000);
    expect(text.replace(/[\t\r\n]/g, '')).not.toMatch(/[\p{Cc}\u200e\u200f\u202a-\u202e\u2066-\u2069]/u);
    expect(text).not.toMatch(/\p{Surrogate}/u);
    const injected = readCommands(text).filter(
      (one) => format !== 'annotations' || one.data.startsWith('injected') || one.properties['file'] === 'x',
    );
    expect(injected).toEqual([]);
    if (format === 'html') expect(text).not.toMatch(/<script>injected|<img src=x/);
    if (format === 'csv') expect(text).not.toMatch(/(^|,|\n)"?\s*[=@]/);
  });
});

describe('paths that lead away', () => {
  const AWAY = [
    '../../../../etc/passwd',
    '/etc/passwd',
    'link.gcode',
    'linked/x.gcode',
    'pipe.gcode',
    'zero.gcode',
    'dir.gcode',
    '..',
    '.',
    '~/.ssh/id_rsa',
    'file:///etc/passwd',
    'a\\..\\..\\x.gcode',
  ];

  it.each(['toolpath', 'artwork', 'machine'].flatMap((key) => AWAY.map((path) => [key, path] as const)))(
    'as %s %s are not followed, and the job does not pass',
    async (key, path) => {
      const outside = folder({ 'x.gcode': 'G1 X1 ; secret-word\n' });
      const text =
        key === 'machine'
          ? SIDECAR.replace('shed-60w', JSON.stringify(path.includes('/') ? path : `./${path}`))
          : `${SIDECAR}${key}: ${JSON.stringify(path)}\n`;
      const cwd = checkout({ 'away.job.yaml': text });
      symlinkSync(join(outside, 'x.gcode'), join(cwd, 'sent/link.gcode'));
      symlinkSync(outside, join(cwd, 'sent/linked'));
      symlinkSync('/dev/zero', join(cwd, 'sent/zero.gcode'));
      mkdirSync(join(cwd, 'sent/dir.gcode'));
      execFileSync('mkfifo', [join(cwd, 'sent/pipe.gcode')]);
      const { code, text: said } = await check(cwd);
      expect([1, 3]).toContain(code);
      expect(saidOf(parsed(said)).some((rule) => rule.startsWith('input/'))).toBe(true);
      expect(said).not.toMatch(/secret-word|root:x:/);
    },
  );
});

describe('files made to exhaust', () => {
  const svg = (inside: string) =>
    `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="100mm" height="100mm">${inside}</svg>`;
  const doubling = (n: number) =>
    Array.from(
      { length: n },
      (_, i) => `<g id="g${i + 1}"><use xlink:href="#g${i}"/><use xlink:href="#g${i}"/></g>`,
    ).join('');
  const BOMBS: [string, string, string | Uint8Array][] = [
    [
      'YAML aliases',
      'a.job.yaml',
      `a: &a [x,x]\n${Array.from({ length: 30 }, (_, i) => `b${i}: &b${i} [*${i === 0 ? 'a' : `b${i - 1}`}, *${i === 0 ? 'a' : `b${i - 1}`}]`).join('\n')}\n`,
    ],
    ['YAML dashes', 'a.job.yaml', `kerflint: 1\ntasks:\n  ${'- '.repeat(520_000)}x\n`],
    ['YAML brackets', 'a.job.yaml', `kerflint: 1\ntasks: ${'['.repeat(100_000)}\n`],
    ['YAML braces', 'a.job.yaml', `kerflint: 1\ntasks: ${'{a: '.repeat(100_000)}\n`],
    ['YAML keys', 'a.job.yaml', Array.from({ length: 20_000 }, (_, i) => `k${i}: 1`).join('\n')],
    [
      'XML entities',
      'a.svg',
      `<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa">${Array.from({ length: 20 }, (_, i) => `<!ENTITY a${i} "${`&a${i === 0 ? '' : i - 1};`.repeat(10)}">`).join('')}]>${svg('<text>&a19;</text>')}`,
    ],
    [
      'an outside entity',
      'a.svg',
      `<!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/passwd">]>${svg('<text>&a;</text>')}`,
    ],
    ['a million uses by doubling', 'a.svg', svg(`<g id="g0"><path stroke="#c2255c" d="M0 0L1 1"/></g>${doubling(40)}`)],
    ['path data without end', 'a.svg', svg(`<path stroke="#c2255c" d="M0 0 ${'l1 1-1 1'.repeat(200_000)}"/>`)],
    ['compressed artwork', 'a.svg', gzipSync(svg('<path d="M0 0L5 5"/>'))],
    [
      'CSS blocks in each other',
      'a.svg',
      svg(`<style>${'@media all{'.repeat(100_000)}</style><path stroke="#c2255c" d="M0 0L5 5"/>`),
    ],
    [
      'a selector without end',
      'a.svg',
      svg(`<style>${':not('.repeat(50_000)}</style><path stroke="#c2255c" d="M0 0L5 5"/>`),
    ],
    [
      'selectors that search',
      'a.svg',
      svg(
        `<style>${'* '.repeat(3_000)}{stroke:#c2255c}</style>${'<g>'.repeat(60)}<path d="M0 0L5 5"/>${'</g>'.repeat(60)}`,
      ),
    ],
    ['dashes without end', 'a.svg', svg('<path stroke="#c2255c" stroke-dasharray="1e-9" d="M0 0L500 500"/>')],
    ['one line of G-code', 'a.gcode', 'G1 X1'.repeat(500_000)],
    ['brackets in G-code', 'a.gcode', `G1 X${'['.repeat(100_000)}\n`],
    ['arcs without end', 'a.gcode', `G21 G90\nM4 S500 F600\n${'G2 X0 Y0 I1e7 J0 P9999999\n'.repeat(20)}M2\n`],
  ];

  const READ_PAST = new Set(['a selector without end', 'CSS blocks in each other', 'dashes without end']);

  it.each(BOMBS)(
    '%s come to an end: judged, with a finding, or unfinished and with the reason',
    async (what, name, content) => {
      const files = name.endsWith('.job.yaml')
        ? { [name]: content }
        : { 'a.job.yaml': `${SIDECAR}${name.endsWith('.svg') ? 'artwork' : 'toolpath'}: ${name}\n`, [name]: content };
      const { code, text } = await check(checkout(files));
      const [job] = parsed(text).jobs;
      // What a browser reads past (CSS that means nothing, dashes too fine to see) is judged like any other artwork.
      expect(code === 0).toBe(READ_PAST.has(what));
      if (code !== 0) expect((job?.findings.length ?? 0) + (job?.incomplete.length ?? 0)).toBeGreaterThan(0);
      expect(job?.notChecked.filter((one) => one.kind === 'failed')).toEqual([]);
      expect(text).not.toContain('Maximum call stack');
      expect(text).not.toContain('root:x:');
      expect(text.length).toBeLessThan(2_000_000);
    },
  );
});
