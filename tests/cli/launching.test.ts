// The built command starts from one script and what V8 made of it at the build: run "npm run build" first.
import { spawnSync } from 'node:child_process';
import { cpSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Script } from 'node:vm';
import { describe, expect, it } from 'vitest';
import { folder, REPOSITORY } from './harness.ts';

const PROGRAM = 'dist/parts/program.cjs';
const CACHE = 'dist/parts/program.cache';

/** What ships of kerflint and has a bearing on a check, in a folder of its own. */
function shipped(): string {
  const made = folder();
  for (const name of ['package.json', 'dist', 'data', 'examples']) {
    cpSync(join(REPOSITORY, name), join(made, name), { recursive: true });
  }
  return made;
}

function check(at: string) {
  const argv = [join(at, 'dist/kerflint.js'), 'check', 'examples', '--today', '2026-11-25'];
  const { status, stdout, stderr } = spawnSync(process.execPath, argv, { cwd: at, encoding: 'utf8' });
  return { status, stdout, stderr };
}

describe('the compiled form of the program', () => {
  it('is one that this Node takes', () => {
    const cachedData = readFileSync(join(REPOSITORY, CACHE));
    const script = new Script(readFileSync(join(REPOSITORY, PROGRAM), 'latin1'), { cachedData });
    expect(script.cachedDataRejected).toBe(false);
  });

  it('changes nothing by being missing, cut short, of another Node or not one at all', () => {
    const at = shipped();
    const usual = check(at);
    expect([usual.status, usual.stderr]).toEqual([1, '']);
    const whole = readFileSync(join(at, CACHE));
    const otherNode = Buffer.from(whole);
    otherNode.writeUInt32LE(otherNode.readUInt32LE(4) ^ 1, 4);
    for (const spoilt of [
      whole.subarray(0, whole.length >> 1),
      otherNode,
      Buffer.from('nothing of the kind'),
      Buffer.alloc(0),
    ]) {
      writeFileSync(join(at, CACHE), spoilt);
      expect(check(at)).toEqual(usual);
    }
    rmSync(join(at, CACHE));
    expect(check(at)).toEqual(usual);
  });

  it('does not outlive a change of the program', () => {
    const at = shipped();
    const text = readFileSync(join(at, PROGRAM), 'latin1');
    writeFileSync(join(at, PROGRAM), text.replaceAll('Do not run: ', 'Do not run this: '), 'latin1');
    expect(check(at).stdout).toMatch(/^Do not run this: /);
  });
});

describe('a place of the program, where names are short', () => {
  it('is found in src as a stack names it', async () => {
    const text = readFileSync(join(REPOSITORY, PROGRAM), 'latin1');
    const call = 'not of your files';
    const before = text.slice(0, text.indexOf(call));
    const place = `${before.split('\n').length}:${before.length - before.lastIndexOf('\n')}`;
    const { stdout } = spawnSync(process.execPath, ['build/where.mjs', place], { cwd: REPOSITORY, encoding: 'utf8' });
    const [, file, line] = /^(.*):(\d+):\d+\n$/.exec(stdout)!;
    expect(file).toBe('src/cli/main.ts');
    expect(readFileSync(join(REPOSITORY, file!), 'utf8').split('\n')[Number(line) - 1]).toContain(call);
  });
});
