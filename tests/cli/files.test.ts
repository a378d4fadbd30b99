import { execFileSync } from 'node:child_process';
import { chmodSync, mkdirSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { folderAccess } from '../../src/cli/files/files.ts';
import { type Source, SourceUnreadable, wholeText } from '../../src/source/source.ts';
import { folder } from './harness.ts';

const read = (source: Source) => wholeText(source, 1 << 30);
const refusal = (source: Source) => {
  try {
    read(source);
  } catch (error) {
    if (error instanceof SourceUnreadable) return error.reason;
    throw error;
  }
  return null;
};

/** Root may read everything: as root, the work is done under the number of the user that owns nothing. */
function asNobody<T>(work: () => T): T {
  if (process.geteuid?.() !== 0) return work();
  process.seteuid!(65534);
  try {
    return work();
  } finally {
    process.seteuid!(0);
  }
}

describe('files below a folder', () => {
  it('are read again as often as asked, in chunks that are used again', () => {
    const text = 'G1 X1\n'.repeat(400_000);
    const source = folderAccess(folder({ 'a.gcode': text })).open('a.gcode');
    expect(source).toMatchObject({ name: 'a.gcode', size: text.length });
    expect(read(source)).toBe(text);
    expect(read(source)).toBe(text);
    expect([...source.chunks()].length).toBeGreaterThan(1);
  });

  it('do not disturb each other when two are read at once', () => {
    const access = folderAccess(folder({ a: 'a'.repeat(100), b: 'b'.repeat(100) }));
    const [first] = access.open('a').chunks();
    const chunksOfA = access.open('a').chunks()[Symbol.iterator]();
    const chunkOfA = chunksOfA.next().value as Uint8Array;
    expect(read(access.open('b'))).toBe('b'.repeat(100));
    expect(new TextDecoder().decode(chunkOfA)).toBe('a'.repeat(100));
    expect(first).toBeDefined();
  });

  it('carry the prefix of their folder in their names', () => {
    expect(folderAccess(folder({ a: '' }), { prefix: '../shop/' }).open('a').name).toBe('../shop/a');
  });

  it('tell how far a pass over them is', () => {
    const told: unknown[] = [];
    const access = folderAccess(folder({ a: 'x'.repeat(10) }), { onBytes: (...args) => told.push(args) });
    read(access.open('a'));
    expect(told).toEqual([['a', 10, 10]]);
  });

  it('that are no regular files are refused without waiting or filling the memory', () => {
    const cwd = folder();
    mkdirSync(join(cwd, 'sub'));
    execFileSync('mkfifo', [join(cwd, 'pipe')]);
    const access = folderAccess(cwd);
    expect(refusal(access.open('sub'))).toBe('it is a folder');
    expect(refusal(access.open('pipe'))).toBe('it is a device or a pipe, not a file');
    expect(refusal(access.open('gone'))).toBe('there is no such file');
    expect(refusal(folderAccess('/dev').open('zero'))).toBe('it is a device or a pipe, not a file');
    expect(access.stat('pipe')?.kind).toBe('other');
  });

  it('that a link leads to outside are refused, and inside are read', () => {
    const outside = folder({ secret: 'x' });
    const cwd = folder({ 'real.svg': 'y' });
    symlinkSync(join(outside, 'secret'), join(cwd, 'link'));
    symlinkSync(outside, join(cwd, 'linked'));
    symlinkSync('real.svg', join(cwd, 'inside'));
    symlinkSync('circle', join(cwd, 'circle'));
    const access = folderAccess(cwd);
    expect(refusal(access.open('link'))).toBe('it is a link that leaves the root');
    expect(refusal(access.open('linked/secret'))).toBe('it is a link that leaves the root');
    expect(access.stat('link')?.leavesRoot).toBe(true);
    expect(access.stat('linked/secret')?.leavesRoot).toBe(true);
    expect(read(access.open('inside'))).toBe('y');
    expect(access.stat('inside')?.leavesRoot).toBeUndefined();
    expect(access.stat('circle')).toBeNull();
    expect(refusal(access.open('circle'))).toBe('its links lead in a circle');
    expect(
      [...access.list('').entries]
        .filter((entry) => entry.symlink)
        .map((entry) => entry.name)
        .sort(),
    ).toEqual(['circle', 'inside', 'link', 'linked']);
  });

  it('that may not be read are refused', () => {
    const cwd = folder({ a: 'x' });
    chmodSync(cwd, 0o755);
    chmodSync(join(cwd, 'a'), 0);
    expect(asNobody(() => refusal(folderAccess(cwd).open('a')))).toBe('it may not be read (permission)');
  });

  it('are listed as nothing where there is no folder', () => {
    expect(folderAccess(folder({ a: '' })).list('a')).toEqual({ entries: [], problem: null });
    expect(folderAccess(folder()).list('gone')).toEqual({ entries: [], problem: null });
  });
});
