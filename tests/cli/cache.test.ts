import { execFileSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { basename, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { decodeEntry, encodeEntry } from '../../src/cli/cache/cache-entry.ts';
import { demo, folder, kerflint } from './harness.ts';

const JSON_NOW = ['--format', 'json', '--today', '2026-11-25'];

const check = (at: string, ...argv: string[]) => kerflint(at, ['check', ...JSON_NOW, ...argv]);

/** An entry as somebody would leave it who may write there, with a result that no job had. */
function forge(cache: string): void {
  for (const name of readdirSync(cache)) {
    const key = basename(name, '.json');
    const result = decodeEntry(key, readFileSync(join(cache, name), 'utf8'));
    expect(result, name).not.toBeNull();
    writeFileSync(join(cache, name), encodeEntry(key, { ...result!, lens: 'from the cache' })!);
  }
}

describe('a cache of results', () => {
  it('changes no byte of a result: without one, with an empty and with a filled one', async () => {
    const [at, cache] = [demo(), folder()];
    const none = await check(at, '.');
    expect(await check(at, '.', '--cache', cache)).toEqual(none);
    expect(readdirSync(cache)).toHaveLength(JSON.parse(none.stdout).jobs.length);
    expect(await check(at, '.', '--cache', cache)).toEqual(none);
  });

  it('is read where nothing has changed', async () => {
    const [at, cache] = [demo(), folder()];
    await check(at, '.', '--cache', cache);
    forge(cache);
    const { jobs } = JSON.parse((await check(at, '.', '--cache', cache)).stdout);
    expect(jobs.map((job: { lens: string }) => job.lens)).toEqual(jobs.map(() => 'from the cache'));
  });

  it.each([
    ['in several threads', ['--workers', '2']],
    ['in several threads of a part', ['--workers', '3', '--shard', '1/2']],
    ['in a part of it', ['--shard', '2/2']],
    ['for changed files', ['--changed-files', 'changed']],
  ])('serves a run as well %s', async (_, argv) => {
    const [at, cache] = [demo(), folder()];
    writeFileSync(join(at, 'changed'), 'gate-sign.gcode\n');
    const none = await check(at, '.', ...argv);
    expect(await check(at, '.', '--cache', cache, ...argv)).toEqual(none);
    expect(readdirSync(cache)).toHaveLength(JSON.parse(none.stdout).jobs.length);
    expect(await check(at, '.', '--cache', cache, ...argv)).toEqual(none);
    forge(cache);
    expect((await check(at, '.', '--cache', cache, ...argv)).stdout).toContain('from the cache');
  });

  it('says once a run what is said once a run, though each job is kept with it', async () => {
    const [at, cache] = [demo(), folder()];
    for (const name of readdirSync(at).filter((file) => file.endsWith('.job.yaml')))
      await check(at, name, '--cache', cache);
    expect(await check(at, '.', '--cache', cache)).toEqual(await check(at, '.'));
  });

  it('keeps no result that is incomplete', async () => {
    const [at, cache] = [demo(), folder()];
    const sidecar = readFileSync(join(at, 'seed-tray-divider.job.yaml'), 'utf8');
    for (const [name, text] of Object.entries({
      'unknown.job.yaml': sidecar.replace('birch-plywood', 'unknown'),
      'missing.job.yaml': sidecar.replace('seed-tray-divider.gcode', 'seed-tray.gcode'),
    })) {
      writeFileSync(join(at, name), text);
      expect((await check(at, name, '--cache', cache)).code).toBe(3);
    }
    expect(readdirSync(cache)).toEqual([]);
  });
});

describe('the folder of a cache', () => {
  it.each([
    ['in the root of the run', 'kept'],
    ['the root itself', '.'],
    ['in a folder that is not there yet', 'not/yet/there'],
    ['behind a link', 'link'],
    ['behind a link to the outside and back', 'link/../kept'],
  ])('is refused %s', async (_, typed) => {
    const at = demo();
    mkdirSync(join(at, 'inside'));
    symlinkSync(join(at, 'inside'), join(at, 'link'));
    const told = await check(at, '.', '--cache', typed);
    expect([told.code, told.stdout]).toEqual([2, '']);
    expect(told.stderr).toContain('where jobs come from');
    expect(readdirSync(at)).not.toContain('kept');
  });

  it('is refused behind a link that leads into the checkout from outside', async () => {
    const [at, elsewhere] = [demo(), folder()];
    symlinkSync(at, join(elsewhere, 'cache'));
    expect((await check(at, '.', '--cache', join(elsewhere, 'cache/deep'))).code).toBe(2);
  });

  it('is refused anywhere in a checkout, also in one around the checkout that is judged', async () => {
    const outer = folder({ '.git/HEAD': '', 'part/.git': '' });
    const at = demo();
    for (const name of ['part/jobs', 'other']) mkdirSync(join(outer, name), { recursive: true });
    for (const cache of ['other', 'part/jobs'])
      expect((await check(at, '.', '--cache', join(outer, cache))).code, cache).toBe(2);
  });

  it('is taken from where the command was given, and made when it is not there', async () => {
    const [at, jobs] = [folder(), demo()];
    const told = await check(at, jobs, '--cache', 'not/yet');
    expect([told.code, told.stderr]).toEqual([1, '']);
    expect(readdirSync(join(at, 'not/yet')).length).toBeGreaterThan(0);
  });

  it('that cannot be written costs one line and nothing else', async () => {
    const at = demo();
    const cache = join(folder({ file: '' }), 'file/cache');
    for (const workers of ['1', '2']) {
      const told = await check(at, '.', '--workers', workers, '--cache', cache);
      expect({ ...told, stderr: '' }).toEqual(await check(at, '.'));
      expect(told.stderr).toMatch(/^kerflint: results are not kept: [^\n]*ENOTDIR[^\n]*\n$/);
    }
  });

  it('is neither read nor written for strangers, and that is said', async () => {
    const [at, cache] = [demo(), folder()];
    await check(at, '.', '--cache', cache);
    forge(cache);
    const before = readdirSync(cache);
    const untrusted = ['--untrusted', '--shop', 'machines', '--shop-in-checkout'];
    const told = await check(at, '.', ...untrusted, '--cache', cache);
    expect({ ...told, stderr: '' }).toEqual(await check(at, '.', ...untrusted));
    expect(told.stderr).toBe(
      'kerflint: --cache is neither read nor written: what strangers sent is judged anew each time.\n',
    );
    expect(readdirSync(cache)).toEqual(before);
    await check(at, '.', ...untrusted, '--cache', join(cache, 'new'));
    expect(existsSync(join(cache, 'new'))).toBe(false);
  });

  it('is neither read nor written for pictures, and that is said', async () => {
    const [at, cache] = [demo(), folder()];
    const told = await check(at, 'gate-sign.job.yaml', '--format', 'html=report.html', '--cache', cache);
    expect(told.stderr).toMatch(/^kerflint: --cache is neither read nor written: .*pictures.*\n$/);
    expect(readdirSync(cache)).toEqual([]);
  });
});

describe('an entry that is none', () => {
  const result = (text: string) => text.slice(text.indexOf('\n') + 1);
  const rewritten = (text: string, key: string, change: (result: Record<string, unknown>) => unknown) =>
    encodeEntry(key, change(JSON.parse(result(text))) as never)!;

  it.each<[string, (path: string, key: string, text: string) => void]>([
    ['empty', (path) => writeFileSync(path, '')],
    ['cut short', (path, _, text) => truncateSync(path, text.length - 7)],
    ['cut short in its first line', (path) => truncateSync(path, 30)],
    ['with something behind it', (path, _, text) => writeFileSync(path, `${text} `)],
    [
      'damaged',
      (path, _, text) => {
        expect(text).toContain('"status":"open"');
        writeFileSync(path, text.replace('"status":"open"', '"status":"held"'));
      },
    ],
    [
      'of another key',
      (path, key, text) =>
        writeFileSync(
          path,
          rewritten(text, key.replace(/^./, 'x'), (one) => one),
        ),
    ],
    ['no JSON', (path, key) => writeFileSync(path, encodeEntry(key, 'x' as never)!.replace('"x"', '"x'))],
    [
      'of the wrong shape',
      (path, key, text) =>
        writeFileSync(
          path,
          rewritten(text, key, () => ({ verdict: 'pass' })),
        ),
    ],
    [
      'of no shape',
      (path, key, text) =>
        writeFileSync(
          path,
          rewritten(text, key, () => null),
        ),
    ],
    [
      'with a wrong part',
      (path, key, text) =>
        writeFileSync(
          path,
          rewritten(text, key, (one) => ({ ...one, findings: [{ rule: 1 }] })),
        ),
    ],
    ['binary', (path) => writeFileSync(path, Buffer.from([0xff, 0xfe, 0, 10, 0x80, 0xc0]))],
    ['huge', (path) => truncateSync(path, 3 * 2 ** 30)],
    [
      'a link, even to a whole entry',
      (path, key, text) => {
        rmSync(path);
        writeFileSync(
          `${path}.real`,
          rewritten(text, key, (one) => ({ ...one, lens: 'from the cache' })),
        );
        symlinkSync(`${path}.real`, path);
      },
    ],
    [
      'a link to nothing',
      (path) => {
        rmSync(path);
        symlinkSync('/nowhere', path);
      },
    ],
    [
      'a pipe',
      (path) => {
        rmSync(path);
        execFileSync('mkfifo', [path]);
      },
    ],
    [
      'a folder',
      (path) => {
        rmSync(path);
        mkdirSync(path);
      },
    ],
  ])('%s, is passed by and the job judged', async (_, spoil) => {
    const [at, cache] = [demo(), folder()];
    const none = await check(at, 'gate-sign.job.yaml');
    await check(at, 'gate-sign.job.yaml', '--cache', cache);
    const [name = ''] = readdirSync(cache);
    const path = join(cache, name);
    spoil(path, basename(name, '.json'), readFileSync(path, 'utf8'));
    const told = await check(at, 'gate-sign.job.yaml', '--cache', cache);
    expect([told.code, told.stdout]).toEqual([none.code, none.stdout]);
    expect(await check(at, 'gate-sign.job.yaml', '--cache', cache)).toEqual(told);
  });
});

it('comes back exactly as it is, or is not kept', () => {
  const entry = (lens: unknown) => encodeEntry('key', { name: 'job', lens } as never);
  expect(entry('2in')).not.toBeNull();
  for (const odd of [-0, Number.NaN, Number.POSITIVE_INFINITY, undefined]) expect(entry(odd)).toBeNull();
});
