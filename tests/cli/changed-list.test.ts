import { describe, expect, it } from 'vitest';
import { changedList } from '../../src/cli/check/changed-list.ts';
import { changedPaths } from '../../src/cli/check/changed-paths.ts';
import { UsageError } from '../../src/cli/usage-error.ts';

const bytes = (text: string) => new TextEncoder().encode(text);
const utf16 = (text: string, bigEndian = false) =>
  Uint8Array.from(
    [...text].flatMap((c) => {
      const unit = c.charCodeAt(0);
      return bigEndian ? [unit >> 8, unit & 255] : [unit & 255, unit >> 8];
    }),
  );

describe('a list of changed files', () => {
  const gate = { path: 'signs/gate.nc', deleted: null };
  const door = { path: 'döör.svg', deleted: null };

  // The forms are those of git-diff(1) and of core.quotePath in git-config(1).
  it.each<[string, Uint8Array, unknown[]]>([
    ['is empty', bytes(''), []],
    ['is nothing but line ends', bytes('\n\r\n'), []],
    ['has a name a line', bytes('signs/gate.nc\ndöör.svg\n'), [gate, door]],
    ['has the line ends of Windows', bytes('signs/gate.nc\r\ndöör.svg\r\n'), [gate, door]],
    ['is parted by NUL', bytes('signs/gate.nc\0döör.svg\0'), [gate, door]],
    ['holds a line end within a name', bytes('a\nb.nc\0'), [{ path: 'a\nb.nc', deleted: null }]],
    [
      'quotes',
      bytes('"d\\303\\266\\303\\266r.svg"\n"a\\tb\\"\\\\.nc"\n'),
      [door, { path: 'a\tb"\\.nc', deleted: null }],
    ],
    ['has a byte-order mark', bytes('\ufeffsigns/gate.nc\n'), [gate]],
    ['is UTF-16 with its mark', utf16('\ufeffsigns/gate.nc\r\ndöör.svg\r\n'), [gate, door]],
    ['is UTF-16 the other way round', utf16('\ufeffsigns/gate.nc\n', true), [gate]],
    ['is UTF-16 without a mark', utf16('signs/gate.nc\n'), [gate]],
    ['is UTF-16 the other way round without a mark', utf16('signs/gate.nc\n', true), [gate]],
    [
      'has letters, line by line',
      bytes('M\ta.nc\nA\tb.nc\nD\tc.nc\nR087\td.nc\te.nc\nC100\tf.nc\tg.nc\nD\t"\\303\\266.nc"\n'),
      [
        { path: 'a.nc', deleted: false },
        { path: 'b.nc', deleted: false },
        { path: 'c.nc', deleted: true },
        { path: 'd.nc', deleted: true },
        { path: 'e.nc', deleted: false },
        { path: 'g.nc', deleted: false },
        { path: 'ö.nc', deleted: true },
      ],
    ],
    [
      'has letters, parted by NUL',
      bytes('M\0a.nc\0R100\0d.nc\0e.nc\0D\0c.nc\0'),
      [
        { path: 'a.nc', deleted: false },
        { path: 'd.nc', deleted: true },
        { path: 'e.nc', deleted: false },
        { path: 'c.nc', deleted: true },
      ],
    ],
    [
      'begins with a name that is a letter',
      bytes('M\0a.nc\0b.nc\0'),
      ['M', 'a.nc', 'b.nc'].map((path) => ({ path, deleted: null })),
    ],
  ])('%s', (_, list, entries) => {
    expect(changedList(list)).toEqual(entries);
  });

  it.each<[string, Uint8Array, RegExp]>([
    ['git failed', bytes('fatal: bad revision main...\n'), /an error message .*bad revision/],
    ['git failed within the list', bytes('a.nc\nfatal: unable to read tree\n'), /an error message/],
    ['git failed, with -z', bytes("error: pathspec 'x'\0"), /an error message/],
    ['bytes are no UTF-8', Uint8Array.of(0x61, 0xff, 0x2e), /not UTF-8/],
    ['quoted bytes are no UTF-8', bytes('"a\\377.nc"\n'), /not UTF-8/],
    ['UTF-16 ends within a character', utf16('\ufeffab').slice(0, -1), /not UTF-16LE/],
  ])('is none where %s', (_, list, message) => {
    expect(() => changedList(list)).toThrow(UsageError);
    expect(() => changedList(list)).toThrow(message);
  });
});

describe('where listed files stand', () => {
  const there = (...files: string[]) => {
    const folders = files.flatMap((file) => file.split('/').map((_, i, parts) => parts.slice(0, i).join('/')));
    return (path: string) => (files.includes(path) ? 'file' : folders.includes(path) ? 'folder' : null);
  };
  const look = there('/shed/gate.nc', '/shed/garden/bed.nc', '/shed/garden/sub/pot.nc', '/shed/garden/Möhre.svg');
  const placed = (paths: string[], from: { root?: string; cwd?: string } = {}, deleted: boolean | null = null) =>
    changedPaths(
      paths.map((path) => ({ path, deleted })),
      { top: '/shed', root: '/shed/garden', cwd: '/shed/garden', ...from, look },
    );

  it.each([
    ['from the top of the repository', 'garden/bed.nc', 'bed.nc'],
    ['with a dot', './garden/./bed.nc', 'bed.nc'],
    ['absolute', '/shed/garden/bed.nc', 'bed.nc'],
    ['with backslashes', 'garden\\bed.nc', 'bed.nc'],
    ['with backslashes and a dot', '.\\garden\\sub\\pot.nc', 'sub/pot.nc'],
    ['from the folder of the run', 'sub/pot.nc', 'sub/pot.nc'],
    ['with its accents apart', 'garden/Mo\u0308hre.svg', 'Möhre.svg'],
    ['outside of the run', 'gate.nc', '../gate.nc'],
  ])('%s', (_, listed, path) => {
    const { changed, note } = placed([listed]);
    expect(changed.paths).toEqual([path]);
    expect(changed.has(path)).toBe(true);
    expect(changed.has(path.normalize('NFD'))).toBe(true);
    expect(changed.has('else.nc')).toBe(false);
    expect(note).toBeNull();
  });

  it('counts from a folder below where that is the only way to find one of them', () => {
    expect(placed(['pot.nc', 'gone.nc'], { cwd: '/shed/garden/sub' }).changed.has('sub/pot.nc')).toBe(true);
    const look = there('/shed/bed.nc', '/shed/garden/bed.nc', '/shed/garden/pot.nc');
    const from = { top: '/shed', root: '/shed', cwd: '/shed/garden', look };
    const list = (...paths: string[]) =>
      changedPaths(
        paths.map((path) => ({ path, deleted: null })),
        from,
      ).changed.paths;
    expect(list('bed.nc')).toEqual(['bed.nc']);
    expect(list('bed.nc', 'pot.nc')).toEqual(['bed.nc', 'garden/bed.nc', 'garden/pot.nc']);
  });

  it('names all in a folder, and knows what lies below one', () => {
    const { changed } = placed(['garden/sub']);
    expect(['sub/pot.nc', 'sub/new.nc', 'bed.nc'].map((path) => changed.has(path))).toEqual([true, true, false]);
    expect(placed(['garden/gone/']).changed.has('gone/a.nc')).toBe(true);
    expect(placed(['garden/sub/pot.nc']).changed.hasBelow('sub')).toBe(true);
    expect(placed(['garden/bed.nc']).changed.hasBelow('sub')).toBe(false);
  });

  it('takes what is not there as deleted, and says so unless the list does', () => {
    const { changed, note } = placed(['garden/gone.nc', 'gate.nc', 'garden/gone-too.nc']);
    expect(changed.has('gone.nc')).toBe(true);
    expect(note).toBe('2 of 3 listed files are not there and count as deleted.');
    expect(placed(['garden/gone.nc']).note).toBe('1 of 1 listed file is not there and counts as deleted.');
    expect(placed(['garden/gone.nc'], {}, true).note).toBeNull();
    expect(placed([]).note).toBeNull();
  });

  it.each<[string, string[], boolean | null]>([
    ['is said to be there and is not', ['a.nc', 'b.nc'], false],
    ['lies outside of the repository', ['/elsewhere/a.nc'], null],
    ['leaves it', ['../../../../elsewhere/a.nc'], null],
  ])('is refused where every entry %s', (_, paths, deleted) => {
    expect(() => placed(paths, {}, deleted)).toThrow(UsageError);
    expect(() => placed([...paths, 'gate.nc'], {}, deleted)).not.toThrow();
  });
});
