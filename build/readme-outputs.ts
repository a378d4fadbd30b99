import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';

const BLOCK = /(<!-- output of: (.+) -->\n```text\n)[\s\S]*?(```\n<!-- end of output -->)/g;

/** The README with what its commands really print, run through the built command line. */
export function readmeOutputs(): Map<string, string> {
  const readme = readFileSync('README.md', 'utf8').replace(BLOCK, (_, head: string, args: string, tail: string) => {
    const { stdout, stderr, error } = spawnSync(process.execPath, ['dist/kerflint.js', ...args.split(' ')], {
      encoding: 'utf8',
      env: { PATH: process.env['PATH'] ?? '', NO_COLOR: '1' },
    });
    if (error) throw error;
    if (stdout === '') throw new Error(`kerflint ${args} printed nothing: ${stderr}`);
    return `${head}${stdout.trimEnd()}\n${tail}`;
  });
  return new Map([['README.md', readme]]);
}
