// Nothing that a search meets and does not judge goes without a word.
import { describe, expect, it } from 'vitest';
import type { FileAccess } from '../../src/job/files/access.ts';
import { discoverJobs } from '../../src/job/files/discovery.ts';
import { excludedBy } from '../../src/job/files/exclude.ts';
import { UNCHECKED, weighed } from '../../src/job/files/left-out.ts';
import { READERS } from '../../src/readers.ts';
import { type Content, memoryAccess } from '../memory-access.ts';

const GCODE = '; plant labels\nM3 S0\nG1 X10 Y0 F600 S500\n';
const SVG = '<svg xmlns="http://www.w3.org/2000/svg"/>';
/** Something to judge, so that a search that finds nothing else is no mistake. */
const JUDGED = { 'gate.svg': SVG };

const found = (files: Record<string, Content>, excluded = excludedBy([]), paths = ['']) =>
  discoverJobs(memoryAccess({ ...JUDGED, ...files }), READERS, paths, false, excluded);
const leftOut = (files: Record<string, Content>) => found(files).leftOut.filter(({ path }) => path !== 'gate.svg');
/** As `incomplete` or `note` under the usual settings. */
const weightOf = (files: Record<string, Content>) =>
  weighed(leftOut(files), UNCHECKED).map(({ path, kind, incomplete }) => [
    path,
    kind,
    incomplete ? 'incomplete' : 'note',
  ]);

describe('a toolpath that nothing says how to judge', () => {
  it.each(['.gcode', '.nc', '.ngc', '.tap', '.cnc', '.gc', '.gco', '.g', '.TAP', '.Gcode'])('%s', (extension) => {
    expect(weightOf({ [`bed${extension}`]: GCODE })).toEqual([[`bed${extension}`, 'toolpath', 'incomplete']]);
  });

  it.each([
    ['bed.txt', GCODE],
    ['bed', GCODE],
    ['bed.txt', 'N10 G00X1.5Y-2\r\n'],
    ['bed', 'g1x.5f300\n'],
    ['bed.txt', 'G1 X10 Y10*85\n'],
    ['bed.txt', `${'; a long head\n'.repeat(100)}G1 X1\n`],
    ['bed.txt', '(first pass)G0 X3'],
  ])('%s by what it holds: %j', (name, text) => {
    expect(weightOf({ [name]: text })).toEqual([[name, 'toolpath', 'incomplete']]);
  });

  it.each([
    ['plots.txt', 'G1\nG2\nG3\n'],
    ['plots.txt', 'G1 gate sign, 3 mm birch\nX marks the tap\n'],
    ['notes.txt', 'Send G1 X10 first.\n'],
    ['notes.txt', '; G1 X10\n(G1 X10)\n'],
    ['notes.txt', 'G17 X10\nG1.5 X2\nM3 S500\n'],
    ['notes.md', GCODE],
    ['notes.txt', `${'x'.repeat(4096)}\nG1 X1\n`],
    ['data', `G1 X1\n\0`],
    ['empty.txt', ''],
  ])('is not %s, which holds %j', (name, text) => {
    expect(weightOf({ [name]: text })).toEqual([]);
    expect(found({ [name]: text }).passedBy.otherFiles).toBe(1);
  });
});

describe('what a search meets and leaves out', () => {
  it.each<[string, Record<string, Content>, string[][]]>([
    ['artwork', { 'spare.svg': SVG }, [['spare.svg', 'artwork', 'note']]],
    ['compressed artwork', { 'spare.svgz': 'x' }, [['spare.svgz', 'artwork', 'note']]],
    ['a drawing of another kind', { 'plan.DXF': '0\nSECTION' }, [['plan.DXF', 'other', 'note']]],
    ['a sidecar in capitals', { 'a.JOB.YAML': '' }, [['a.JOB.YAML', 'sidecar', 'incomplete']]],
    ['a sidecar by its other extension', { 'a.job.yml': '' }, [['a.job.yml', 'sidecar', 'incomplete']]],
    ['settings by another name', { '.kerflint.yml': '' }, [['.kerflint.yml', 'other', 'note']]],
    ['a profile by another name', { 'a.material.yml': '' }, [['a.material.yml', 'other', 'note']]],
    ['a link named as a toolpath', { 'a.nc': { link: 'file' } }, [['a.nc', 'toolpath', 'incomplete']]],
    ['a link named as artwork', { 'a.svg': { link: 'file' } }, [['a.svg', 'artwork', 'note']]],
    ['a link named as a sidecar', { 'a.job.yaml': { link: 'file' } }, [['a.job.yaml', 'sidecar', 'incomplete']]],
    ['a link to a folder elsewhere', { beds: { link: 'folder' } }, [['beds', 'folder', 'incomplete']]],
    ['a toolpath in a hidden folder', { '.old/deep/a.gcode': GCODE }, [['.old', 'folder', 'incomplete']]],
    ['a sidecar in a hidden folder', { '.old/a.job.yaml': '' }, [['.old', 'folder', 'incomplete']]],
    ['artwork in a hidden folder', { '.old/a.svg': SVG }, [['.old', 'folder', 'note']]],
    ['a toolpath in a hidden folder of one', { '.old/.older/a.gcode': GCODE }, [['.old', 'folder', 'incomplete']]],
  ])('%s', (_, files, expected) => {
    expect(weightOf(files)).toEqual(expected);
  });

  it('tells what a hidden folder holds, and counts one that holds nothing', () => {
    const { leftOut: all, passedBy } = found({ '.a/x.nc': GCODE, '.a/y.svg': SVG, '.a/z': GCODE, '.b/README.md': '' });
    expect(all[0]!.reason).toContain('a hidden folder with 2 toolpaths and 1 file of artwork');
    expect(passedBy).toMatchObject({ hiddenFolders: 1, otherFiles: 1 });
  });

  it('passes by, and counts, .git, node_modules and what the settings exclude', () => {
    const files = { '.git/a.nc': GCODE, 'node_modules/a.nc': GCODE, 'old/a.nc': GCODE, 'b.nc': GCODE };
    const { leftOut: all, passedBy } = found(files, excludedBy(['old', 'b.nc']));
    expect(all.map(({ path }) => path)).toEqual(['gate.svg']);
    expect(passedBy).toEqual({ excluded: 2, git: 1, nodeModules: 1, hiddenFolders: 0, otherFiles: 0 });
  });

  it('is not what a sidecar names: a link, a hidden file, or one of any extension', () => {
    const sidecar = (toolpath: string) =>
      `kerflint: 1\nmachine: shed-60w\nmaterial: birch-plywood\nthickness: 3 mm\ntoolpath: ${toolpath}\n`;
    const files = {
      'a.job.yaml': sidecar('.old/a.gcode'),
      '.old/a.gcode': GCODE,
      'b.job.yaml': sidecar('b.dat'),
      'b.dat': GCODE,
      'c.job.yaml': sidecar('c.nc'),
      'c.nc': { link: 'file' },
    } as const;
    expect(leftOut(files)).toEqual([]);
    expect([...found(files).jobs].find(({ name }) => name === 'b')!.toolpath!.name).toBe('b.dat');
  });

  it('leaves what macOS writes beside a file alone', () => {
    const double = Uint8Array.from([0, 5, 0x16, 7, 0, 2, 0, 0]);
    expect(weightOf({ '._bed.gcode': double })).toEqual([]);
    expect(weightOf({ '._bed.gcode': GCODE })).toEqual([['._bed.gcode', 'toolpath', 'incomplete']]);
  });

  it('makes a run incomplete for toolpaths, and not for artwork, unless told otherwise', () => {
    const all = leftOut({ 'a.nc': GCODE, 'b.svg': SVG, 'c.job.yml': '' });
    const kinds = (unchecked: typeof UNCHECKED) => weighed(all, unchecked).map(({ incomplete }) => incomplete);
    expect(kinds(UNCHECKED)).toEqual([true, false, true]);
    expect(kinds({ toolpath: 'note', artwork: 'incomplete' })).toEqual([false, true, true]);
  });
});

describe('what cannot be looked at', () => {
  const access = (change: Partial<FileAccess>): FileAccess => ({
    ...memoryAccess({ ...JUDGED, 'beds/a.svg': SVG }),
    ...change,
  });
  const look = (change: Partial<FileAccess>) =>
    weighed(discoverJobs(access(change), READERS, [''], false).leftOut, UNCHECKED).filter(
      ({ incomplete }) => incomplete,
    );
  const listing = memoryAccess({ ...JUDGED, 'beds/a.svg': SVG });

  it('a folder that cannot be listed makes the run incomplete', () => {
    const list: FileAccess['list'] = (folder) =>
      folder === 'beds' ? { entries: [], problem: 'it may not be read (permission)' } : listing.list(folder);
    expect(look({ list })).toMatchObject([
      { path: 'beds', kind: 'folder', reason: expect.stringContaining('permission') },
    ]);
  });

  it.each([
    [{ name: 'a\ufffd.gcode', kind: 'file', unnameable: true }, 'toolpath', 'not UTF-8'],
    [{ name: 'a\ufffd', kind: 'folder', unnameable: true }, 'folder', 'not UTF-8'],
    [{ name: 'pipe.gcode', kind: 'other' }, 'toolpath', 'a pipe, device or socket'],
    [{ name: 'gone.gcode', kind: 'other', symlink: true }, 'toolpath', 'leads nowhere'],
  ] as const)('%j', (entry, kind, reason) => {
    const list: FileAccess['list'] = () => ({ entries: [entry], problem: null });
    expect(look({ list })).toMatchObject([{ path: entry.name, kind, reason: expect.stringContaining(reason) }]);
  });

  it('a file that may be a toolpath, and cannot be read, does so too', () => {
    const open: FileAccess['open'] = () => memoryAccess({}).open('gone');
    const list: FileAccess['list'] = () => ({ entries: [{ name: 'a.txt', kind: 'file' }], problem: null });
    expect(look({ list, open })).toMatchObject([{ path: 'a.txt', reason: expect.stringContaining('cannot be read') }]);
  });
});

describe('a file named on the command line', () => {
  const named = (name: string, content: Content) => found({ [name]: content }, undefined, [name]);

  it.each([
    ['bed.dat', GCODE, 'toolpath'],
    ['bed.txt', GCODE, 'toolpath'],
    ['bed', `${'; a very long head\n'.repeat(1000)}G1 X1\n`, 'toolpath'],
    ['sign.xml', SVG, 'artwork'],
  ] as const)('is read whatever its extension: %s', (name, content, kind) => {
    const [job] = named(name, content).jobs;
    expect(job![kind]!.name).toBe(name);
  });

  it.each([
    ['README.md', 'hello', /neither a sidecar .* by its name or its first lines/],
    ['a.job.yml', '', /ends in \.job\.yaml: rename/],
    ['plan.dxf', '0', /is not read: export as SVG or G-code/],
    ['sign.svgz', 'x', /compressed SVG, not read/],
    ['data', Uint8Array.of(0, 1, 2), /neither/],
  ])('%s ends the run', (name, content, text) => {
    const { jobs, unmatched } = named(name, content);
    expect([...jobs]).toEqual([]);
    expect(unmatched[0]!.text).toMatch(text);
  });
});
