import { spawnSync } from 'node:child_process';
import { chmodSync, cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join, resolve } from 'node:path';

const PAGES = ['README.md', 'docs/bench.md', 'docs/compare.md', 'docs/fix.md'];
const BLOCK = /(<!-- output (of|in a copy of examples): (.+) -->\n```text\n)[\s\S]*?(```\n<!-- end of output -->)/g;

/** The pages with what their commands really print, run through the built command line. */
export function commandOutputs(): Map<string, string> {
  return new Map(PAGES.map((page) => [page, withOutputs(readFileSync(page, 'utf8'))]));
}

function withOutputs(text: string): string {
  return text.replace(BLOCK, (_, head: string, where: string, said: string, tail: string) => {
    const stdout = where === 'of' ? outputOf(process.execPath, ['dist/kerflint.js', ...said.split(' ')]) : inCopy(said);
    return `${head}${stdout.trimEnd()}\n${tail}`;
  });
}

/** Of lines for a shell, run in the demo's folder, which they may change: it is a copy. */
function inCopy(lines: string): string {
  const made = mkdtempSync(join(tmpdir(), 'kerflint-output-'));
  try {
    cpSync('examples', join(made, 'examples'), { recursive: true });
    mkdirSync(join(made, 'bin'));
    const start = join(made, 'bin/kerflint');
    writeFileSync(start, `#!/bin/sh\nexec "${process.execPath}" "${resolve('dist/kerflint.js')}" "$@"\n`);
    chmodSync(start, 0o755);
    return outputOf('sh', ['-c', lines], join(made, 'examples'), join(made, 'bin'));
  } finally {
    rmSync(made, { recursive: true, force: true });
  }
}

function outputOf(program: string, args: string[], cwd?: string, bin?: string): string {
  const path = [...(bin === undefined ? [] : [bin]), process.env['PATH'] ?? ''].join(delimiter);
  const { stdout, stderr, error } = spawnSync(program, args, {
    cwd,
    encoding: 'utf8',
    env: { PATH: path, NO_COLOR: '1' },
  });
  if (error) throw error;
  if (stdout === '') throw new Error(`${args.join(' ')} printed nothing: ${stderr}`);
  return stdout;
}
