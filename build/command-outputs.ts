import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';

const PAGES = ['README.md', 'docs/bench.md', 'docs/fix.md'];
const BLOCK = /(<!-- output of: (.+) -->\n```text\n)[\s\S]*?(```\n<!-- end of output -->)/g;

/** The pages with what their commands really print, run through the built command line. */
export function commandOutputs(): Map<string, string> {
  return new Map(PAGES.map((page) => [page, withOutputs(readFileSync(page, 'utf8'))]));
}

function withOutputs(text: string): string {
  return text.replace(BLOCK, (_, head: string, args: string, tail: string) => {
    const { stdout, stderr, error } = spawnSync(process.execPath, ['dist/kerflint.js', ...args.split(' ')], {
      encoding: 'utf8',
      env: { PATH: process.env['PATH'] ?? '', NO_COLOR: '1' },
    });
    if (error) throw error;
    if (stdout === '') throw new Error(`kerflint ${args} printed nothing: ${stderr}`);
    return `${head}${stdout.trimEnd()}\n${tail}`;
  });
}
