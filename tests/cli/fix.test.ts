import {
  chmodSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { demo, kerflint } from './harness.ts';

const read = (...path: string[]) => readFileSync(join(...path), 'utf8');
const JOB = 'gate-sign.job.yaml';
const names = (folder: string) => readdirSync(folder).sort();

describe('kerflint fix', () => {
  it('writes a mended copy that a check passes, and leaves the job as it was', async () => {
    const root = demo();
    const before = names(root).map((name) => [name, statSync(join(root, name)).isFile() ? read(root, name) : '']);
    const told = await kerflint(root, ['fix', JOB]);
    expect(told).toMatchObject({ code: 0, stderr: '' });
    expect(told.stdout).toContain('+M5\n G4 P1.5 (let the smoke clear)\n+M3 S700\n');
    expect(names(join(root, 'gate-sign.fixed'))).toEqual(['gate-sign.gcode', JOB, 'gate-sign.svg']);
    expect(read(root, 'gate-sign.fixed', JOB)).toBe(read(root, JOB));
    expect((await kerflint(root, ['check', `gate-sign.fixed/${JOB}`])).code).toBe(0);
    expect(before.filter(([name, text]) => text !== '' && read(root, name!) !== text)).toEqual([]);
  });

  it('writes nothing on a dry run, and tells the same', async () => {
    const root = demo();
    const before = names(root);
    const dry = await kerflint(root, ['fix', JOB, '--dry-run']);
    expect(names(root)).toEqual(before);
    const done = await kerflint(root, ['fix', JOB]);
    expect(dry.stdout.replace('would be mended', 'mended')).toBe(done.stdout);
  });

  it('does not write where something is already, nor into both places', async () => {
    const root = demo();
    mkdirSync(join(root, 'gate-sign.fixed'));
    expect(await kerflint(root, ['fix', JOB])).toMatchObject({
      code: 2,
      stderr: expect.stringContaining('is there already'),
    });
    expect((await kerflint(root, ['fix', JOB, '--out', 'mended/here'])).code).toBe(0);
    expect(names(join(root, 'mended/here'))).toHaveLength(3);
    expect(names(root).filter((name) => name.endsWith('.tmp'))).toEqual([]);
    symlinkSync(join(root, 'nowhere'), join(root, 'link'));
    for (const out of ['link', 'link/below']) expect((await kerflint(root, ['fix', JOB, '--out', out])).code).toBe(2);
    expect(existsSync(join(root, 'nowhere'))).toBe(false);
    expect((await kerflint(root, ['fix', JOB, '--out', 'x', '--in-place'])).code).toBe(2);
    expect((await kerflint(root, ['fix', '.'])).code).toBe(2);
  });

  it('changes the files themselves where that is said, with their permissions, and no links', async () => {
    const root = demo();
    chmodSync(join(root, 'gate-sign.gcode'), 0o640);
    expect((await kerflint(root, ['fix', JOB, '--in-place'])).code).toBe(0);
    expect(read(root, 'gate-sign.gcode')).toContain('M5\nG4 P1.5');
    expect(statSync(join(root, 'gate-sign.gcode')).mode & 0o777).toBe(0o640);
    expect(names(root).filter((name) => name.includes('fixed') || name.endsWith('.tmp'))).toEqual([]);

    const other = demo();
    writeFileSync(join(other, 'kept.gcode'), read(other, 'gate-sign.gcode'));
    symlinkSync('kept.gcode', join(other, 'linked.gcode'));
    writeFileSync(join(other, JOB), read(other, JOB).replace('gate-sign.gcode', 'linked.gcode'));
    const told = await kerflint(other, ['fix', JOB, '--in-place']);
    expect(told).toMatchObject({ code: 2, stderr: expect.stringContaining('is not changed') });
    expect(read(other, 'kept.gcode')).toBe(read(demo(), 'gate-sign.gcode'));
  });

  it('exits 1 where findings remain, with what was mended written; 3 where the job is incomplete', async () => {
    const root = demo();
    expect((await kerflint(root, ['fix', 'weather-vane-hub.job.yaml', '--settings'])).code).toBe(1);
    expect(read(root, 'weather-vane-hub.fixed/weather-vane-hub.job.yaml')).toContain('speed: 4 mm/s');
    writeFileSync(join(root, JOB), read(root, JOB).replace('material: poplar-plywood', 'material: unknown'));
    const told = await kerflint(root, ['fix', JOB]);
    expect(told).toMatchObject({ code: 3, stdout: expect.stringContaining('incomplete, and not touched') });
    expect(existsSync(join(root, 'gate-sign.fixed'))).toBe(false);
  });

  it('writes nothing where there is nothing to mend', async () => {
    const root = demo();
    expect((await kerflint(root, ['fix', 'seed-tray-divider.job.yaml'])).code).toBe(0);
    expect(existsSync(join(root, 'seed-tray-divider.fixed'))).toBe(false);
  });

  it('mends a bare toolpath with the options that say what it is made of', async () => {
    const root = demo();
    rmSync(join(root, JOB));
    const options = ['--machine', 'shed-60w', '--material', 'poplar-plywood', '--thickness', '4 mm'];
    const told = await kerflint(root, ['fix', 'gate-sign.gcode', ...options]);
    expect(told.stdout).toContain('mended: gate-sign.gcode:22');
    expect(names(join(root, 'gate-sign.fixed'))).toEqual(['gate-sign.gcode']);
  });

  it('does not copy a job whose files lie elsewhere', async () => {
    const root = demo();
    mkdirSync(join(root, 'jobs'));
    const text = read(root, JOB).replaceAll(/(toolpath|artwork): /g, '$1: ../');
    writeFileSync(join(root, 'jobs', JOB), text);
    writeFileSync(join(root, '.kerflint.yaml'), 'kerflint: 1\n');
    const told = await kerflint(root, ['fix', `jobs/${JOB}`]);
    expect(told).toMatchObject({ code: 2, stderr: expect.stringContaining('outside of the job’s folder') });
    expect(existsSync(join(root, 'jobs/gate-sign.fixed'))).toBe(false);
  });

  it('shows what would act on a terminal as an escape', async () => {
    const root = demo();
    const text = read(root, 'gate-sign.gcode').replace('let the smoke clear', '\u001b[31m red');
    writeFileSync(join(root, 'gate-sign.gcode'), text);
    const told = await kerflint(root, ['fix', JOB, '--dry-run']);
    expect(told.stdout).not.toContain('\u001b');
  });

  it('gives each finding its fix in SARIF, in the places of the file as it is', async () => {
    const root = demo();
    await kerflint(root, ['fix', JOB, '--dry-run', '--format', 'text', '--format', 'sarif=fixes.sarif']);
    const [result] = JSON.parse(read(root, 'fixes.sarif')).runs[0].results;
    const [fix] = result.fixes;
    const [change] = fix.artifactChanges;
    expect(change.artifactLocation.uri).toBe('gate-sign.gcode');
    const lines = read(root, 'gate-sign.gcode').split('\n');
    for (const { deletedRegion, insertedContent } of [...change.replacements].reverse()) {
      expect([deletedRegion.startColumn, deletedRegion.endColumn]).toEqual([1, 1]);
      lines.splice(deletedRegion.startLine - 1, 0, insertedContent.text.trimEnd());
    }
    await kerflint(root, ['fix', JOB]);
    expect(lines.join('\n')).toBe(read(root, 'gate-sign.fixed/gate-sign.gcode'));
  });
});
