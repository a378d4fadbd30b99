import { spawn } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { demo, REPOSITORY } from './harness.ts';

it('checks again on each save with one line, refreshes the report, and ends when it is interrupted', async () => {
  const at = demo();
  const argv = [join(REPOSITORY, 'dist/kerflint.js'), 'check', 'seed-tray-divider.job.yaml', '--watch'];
  const child = spawn(process.execPath, [...argv, '--format', 'json=out.json', '--format', 'html=out.html'], {
    cwd: at,
  });
  try {
    let told = '';
    const line = (pattern: RegExp) =>
      new Promise<string>((resolve) => {
        const look = () => {
          const found = pattern.exec(told);
          if (!found) return;
          told = told.slice(found.index + found[0].length);
          child.stderr.off('data', look);
          resolve(found[0]);
        };
        child.stderr.on('data', look);
        look();
      });
    child.stderr.on('data', (data) => {
      told += String(data);
    });
    await line(/watching; Ctrl-C ends/);
    expect(JSON.parse(readFileSync(join(at, 'out.json'), 'utf8')).verdict).toBe('pass');
    const sidecar = join(at, 'seed-tray-divider.job.yaml');
    writeFileSync(sidecar, readFileSync(sidecar, 'utf8').replace('material: birch-plywood', 'material: vinyl'));
    expect(await line(/\d\d:\d\d:\d\d {2}seed-tray-divider\.job\.yaml saved: .*\n/)).toMatch(
      /Do not run: vinyl must not be laser-cut\./,
    );
    expect(JSON.parse(readFileSync(join(at, 'out.json'), 'utf8')).verdict).toBe('fail');
    expect(readFileSync(join(at, 'out.html'), 'utf8')).toContain('Do not run: vinyl must not be laser-cut.');
    const ended = new Promise((resolve) => child.once('exit', (code, signal) => resolve(signal ?? code)));
    child.kill('SIGINT');
    // A shell reports an end by this signal as 130.
    expect(await ended).toBe('SIGINT');
  } finally {
    child.kill('SIGKILL');
  }
});
