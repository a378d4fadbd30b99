import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { main } from '../src/cli/main.ts';
import { TODAY } from './memory-shop.ts';

/**
 * Whole runs of the command line, one folder a case, named after what the case proves: `ok-` must stay silent and exit 0,
 * `warns-` has findings and exits 0, `stops-` exits 1, `not-judged-` exits 3. UPDATE_GOLDEN=1 writes what is printed now; read the difference before it is committed.
 */
const FOLDER = fileURLToPath(new URL('golden/', import.meta.url));
const SHOP = fileURLToPath(new URL('../examples/', import.meta.url));

const EXIT: [string, number][] = [
  ['ok-', 0],
  ['warns-', 0],
  ['stops-', 1],
  ['not-judged-', 3],
];

async function check(name: string): Promise<{ code: number; text: string }> {
  let text = '';
  const write = (piece: string): boolean => {
    text += piece;
    return true;
  };
  const sink = { write, isTTY: false, columns: 100 };
  const code = await main({
    argv: ['check', name, '--shop', SHOP, '--today', TODAY],
    cwd: FOLDER,
    env: {},
    stdin: process.stdin,
    stdout: sink as never,
    stderr: sink as never,
  });
  return { code, text };
}

const cases = readdirSync(FOLDER, { withFileTypes: true }).flatMap((entry) =>
  entry.isDirectory() ? [entry.name] : [],
);

describe('golden runs', () => {
  it.each(cases)('%s', async (name) => {
    const { code, text } = await check(name);
    const file = `${FOLDER}${name}/expected.txt`;
    if (process.env['UPDATE_GOLDEN'] === '1') writeFileSync(file, text);
    expect(existsSync(file)).toBe(true);
    expect(text).toBe(readFileSync(file, 'utf8'));
    const [, expected] = EXIT.find(([prefix]) => name.startsWith(prefix))!;
    expect(code).toBe(expected);
    if (name.startsWith('ok-')) {
      expect(text).toMatch(/^Found no error in what was checked: /);
      expect(text).not.toMatch(/^ {2}(error|warning|note) {2}/m);
    }
  });

  it('all in one run give every job the verdict that it has alone', async () => {
    const { code, text } = await check('.');
    expect(code).toBe(3);
    for (const name of cases) expect(text).toContain(name);
  });
});
