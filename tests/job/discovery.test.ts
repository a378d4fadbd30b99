import { describe, expect, it } from 'vitest';
import { findRoot } from '../../src/job/files/access.ts';
import { discoverJobs as discover } from '../../src/job/files/discovery.ts';
import { excludedBy } from '../../src/job/files/exclude.ts';
import { joinPath, pathProblem } from '../../src/job/files/paths.ts';
import { collectShop } from '../../src/job/files/shop.ts';
import { READERS } from '../../src/readers.ts';
import { textSource } from '../../src/source/source.ts';
import { type Content, memoryAccess } from '../memory-access.ts';
import { example, MACHINE, SIDECAR } from './examples.ts';

const sidecar = example(SIDECAR);
const naming = (toolpath: string, artwork: string) =>
  sidecar.replace('coaster.gcode', toolpath).replace('coaster.svg', artwork);

const shed: Record<string, Content> = {
  'labels/labels.job.yaml': naming('labels.gcode', '../shared/labels.svg'),
  'labels/labels.gcode': 'G0 X0\n',
  'labels/left-over.nc': 'G0 X0\n',
  'labels/bench-60w.machine.yaml': example(MACHINE),
  'shared/labels.svg': '<svg/>',
  'gate/gate.job.yaml': naming('gate.gcode', 'gate.svg'),
  'gate/gate.gcode': 'G0 X0\n',
  'gate/gate.svg': '<svg/>',
  'node_modules/thing/thing.job.yaml': sidecar,
  '.git/hooks/x.job.yaml': sidecar,
  'README.md': 'hello',
};

/** What is found, with the jobs opened. */
function discoverJobs(...how: Parameters<typeof discover>) {
  const { jobs, ...found } = discover(...how);
  return { ...found, jobs: [...jobs] };
}

describe('finding jobs', () => {
  it('finds every sidecar below a folder with the files it names, in order', () => {
    const { jobs, leftOut, passedBy, unmatched } = discoverJobs(memoryAccess(shed), READERS, [''], false);
    expect(jobs.map((job) => [job.name, job.toolpath?.name, job.artwork?.name, job.problems.length])).toEqual([
      ['gate/gate', 'gate/gate.gcode', 'gate/gate.svg', 0],
      ['labels/labels', 'labels/labels.gcode', 'shared/labels.svg', 0],
    ]);
    expect(jobs[1]!.beside.map((source) => source.name)).toEqual(['labels/bench-60w.machine.yaml']);
    expect(leftOut).toEqual([
      {
        path: 'labels/left-over.nc',
        kind: 'toolpath',
        reason: expect.stringContaining('no sidecar'),
        weighs: 'toolpath',
      },
    ]);
    expect(passedBy).toEqual({ excluded: 0, git: 1, nodeModules: 1, hiddenFolders: 0, otherFiles: 1 });
    expect(unmatched).toEqual([]);
  });

  it('makes jobs of files that no sidecar names when asked to', () => {
    const { jobs, leftOut } = discoverJobs(memoryAccess(shed), READERS, [''], true);
    expect(jobs.map((job) => job.name)).toEqual(['gate/gate', 'labels/labels', 'labels/left-over.nc']);
    expect(jobs[2]).toMatchObject({ sidecar: null, artwork: null, toolpath: { name: 'labels/left-over.nc' } });
    expect(leftOut).toEqual([]);
  });

  it('runs the sidecar beside a bare file that names it, once', () => {
    const { jobs } = discoverJobs(
      memoryAccess(shed),
      READERS,
      ['gate/gate.svg', 'gate/gate.gcode', 'gate', 'gate/gate.job.yaml'],
      false,
    );
    expect(jobs.map((job) => job.name)).toEqual(['gate/gate']);
  });

  it('takes a bare file that nothing names as a job of its own', () => {
    const { jobs } = discoverJobs(memoryAccess(shed), READERS, ['shared/labels.svg'], false);
    expect(jobs).toMatchObject([{ name: 'shared/labels.svg', sidecar: null, artwork: { name: 'shared/labels.svg' } }]);
  });

  it.each([
    ['gone.svg', 'gone.svg does not exist'],
    ['README.md', 'neither a sidecar'],
    ['empty', 'holds no *.job.yaml'],
  ])('says that %s matches nothing', (path, text) => {
    const { jobs, unmatched } = discoverJobs(memoryAccess({ ...shed, 'empty/note.txt': '' }), READERS, [path], false);
    expect(jobs).toEqual([]);
    expect(unmatched[0]!.text).toContain(text);
  });

  it.each<[string, string, Record<string, Content>, string, string]>([
    ['a path that leaves the root', '../../secrets.gcode', {}, 'outside-root', 'leads outside the root'],
    [
      'a path that leaves the root and comes back',
      '../../shed/gate/gate.gcode',
      {},
      'outside-root',
      'leads outside the root',
    ],
    [
      'a link out of the root',
      'link.gcode',
      { 'gate/link.gcode': { link: 'file' } },
      'outside-root',
      'leads outside the root',
    ],
    [
      'a file below a link out of the root',
      'out/x.gcode',
      { 'gate/out': { link: 'folder' } },
      'outside-root',
      'leads outside the root',
    ],
    ['a missing file', 'gate.gcod', {}, 'unreadable', 'there is no file "gate.gcod": did you mean gate.gcode?'],
    ['a folder where a file belongs', '../labels', {}, 'unreadable', '"../labels" is a folder where a file belongs'],
    ['the root itself', '..', {}, 'unreadable', 'there is no file'],
  ])('points at the key of %s and leaves the other jobs alone', (_, path, more, code, text) => {
    const files = { ...shed, ...more, 'gate/gate.job.yaml': naming(path, 'gate.svg') };
    const { jobs } = discoverJobs(memoryAccess(files), READERS, [''], false);
    const [gate, labels] = jobs;
    expect(gate!.problems).toMatchObject([{ code, place: { file: 'gate/gate.job.yaml', line: 9, column: 11 } }]);
    expect(gate!.problems[0]!.args.text).toContain(text);
    expect(gate!.toolpath).toBeNull();
    expect(gate!.artwork?.name).toBe('gate/gate.svg');
    expect(labels!.problems).toEqual([]);
  });

  it('keeps a job whose sidecar is broken, and does not also complain of its files', () => {
    const files = { ...shed, 'gate/gate.job.yaml': sidecar.replace('12 mm/s', '12') };
    const { jobs, leftOut } = discoverJobs(memoryAccess(files), READERS, [''], true);
    expect(jobs.map((job) => job.name)).toEqual(['gate/gate', 'labels/labels', 'labels/left-over.nc']);
    expect(jobs[0]).toMatchObject({ toolpath: null, artwork: null, problems: [{ code: 'wrong-value' }] });
    expect(leftOut).toEqual([]);
  });

  it('follows a path to a machine profile', () => {
    const files = {
      ...shed,
      'gate/gate.job.yaml': sidecar
        .replaceAll('coaster.', 'gate.')
        .replace('machine: bench-60w', 'machine: ../labels/bench-60w.machine.yaml'),
    };
    const [gate] = discoverJobs(memoryAccess(files), READERS, ['gate'], false).jobs;
    expect(gate!.machinePath).toBe('labels/bench-60w.machine.yaml');
    expect(gate!.beside.map((source) => source.name)).toEqual(['labels/bench-60w.machine.yaml']);
  });

  it('says where a checkout is too deep to walk', () => {
    const deep = `${'d/'.repeat(60)}x.svg`;
    const files = { [deep]: '<svg/>', 'a.svg': '<svg/>', 'z/b.svg': '<svg/>' };
    const { jobs, leftOut, unmatched } = discoverJobs(memoryAccess(files), READERS, [''], true);
    expect(unmatched).toEqual([]);
    expect(jobs.map(({ name }) => name)).toEqual(['a.svg', 'z/b.svg']);
    expect(leftOut).toEqual([
      {
        path: 'd/'.repeat(41).slice(0, -1),
        kind: 'folder',
        reason: expect.stringContaining('lies too deep'),
        weighs: 'always',
      },
    ]);
  });
});

describe('the root', () => {
  const has =
    (...present: string[]) =>
    (path: string) =>
      present.includes(path);

  it.each<[string, string[], string[], boolean, string]>([
    ['the nearest .git', ['/shed/.git', '/.git'], ['/shed/jobs/gate'], false, '/shed'],
    ['a nearer .kerflint.yaml', ['/shed/.git', '/shed/jobs/.kerflint.yaml'], ['/shed/jobs/gate'], false, '/shed/jobs'],
    [
      'no .kerflint.yaml of an untrusted checkout',
      ['/shed/.git', '/shed/jobs/.kerflint.yaml'],
      ['/shed/jobs/gate'],
      true,
      '/shed',
    ],
    ['the folder itself when nothing marks one', [], ['/shed/jobs/gate'], false, '/shed/jobs/gate'],
    ['what holds all arguments', [], ['/shed/jobs/gate', '/shed/jobs/labels'], false, '/shed/jobs'],
    [
      'above all arguments',
      ['/shed/jobs/gate/.kerflint.yaml', '/shed/.git'],
      ['/shed/jobs/gate', '/shed/jobs/labels'],
      false,
      '/shed',
    ],
    ['no sibling by a shared beginning', [], ['/shed/gate', '/shed/gateway'], false, '/shed'],
    ['the top', ['/.git'], ['/a/b'], false, '/'],
    ['a drive', ['C:/shed/.git'], ['C:/shed/jobs'], false, 'C:/shed'],
  ])('is %s', (_, present, folders, untrusted, root) => {
    expect(findRoot(has(...present), folders, untrusted)).toBe(root);
  });
});

describe('a path that a file names', () => {
  it.each([
    ['jobs', 'a.svg', 'jobs/a.svg'],
    ['jobs/gate', '../shared/./a.svg', 'jobs/shared/a.svg'],
    ['', '..', null],
    ['jobs', '../../a.svg', null],
    ['jobs', '../../jobs/a.svg', null],
    ['jobs', '..', ''],
  ])('from %j, %s is %j', (folder, path, joined) => {
    expect(joinPath(folder, path)).toBe(joined);
  });

  it.each(['/etc/passwd', '~/x.svg', 'C:\\x.svg', 'c:/x.svg', 'file:///x.svg', 'a\\b.svg', '//host/share'])(
    '%s is refused',
    (path) => {
      expect(pathProblem(path)).not.toBeNull();
    },
  );
});

describe('a shop', () => {
  const machine = example(MACHINE);

  it('is a whole folder when it names no folders of its own', () => {
    const files = { 'bench-60w.machine.yaml': machine, 'sub/other.material.yaml': 'x', 'x.txt': '' };
    const { sources, problems } = collectShop(memoryAccess(files), true);
    expect(sources.map((source) => source.name)).toEqual(['bench-60w.machine.yaml', 'sub/other.material.yaml']);
    expect(problems).toEqual([]);
  });

  it('is only what its settings name', () => {
    const files = {
      '.kerflint.yaml': 'kerflint: 1\nmachines: [shop]\n',
      'shop/bench-60w.machine.yaml': machine,
      'shop/x.material.yaml': 'x',
      'job/bench-80w.machine.yaml': machine,
    };
    for (const whole of [true, false]) {
      expect(collectShop(memoryAccess(files), whole).sources.map((source) => source.name)).toEqual([
        'shop/bench-60w.machine.yaml',
      ]);
    }
  });

  it('is nothing in a checkout without settings', () => {
    expect(collectShop(memoryAccess({ 'bench-60w.machine.yaml': machine }), false).sources).toEqual([]);
  });

  it.each<[string, string, string]>([
    ['a folder outside', 'machines: [../other]', 'lies outside this folder'],
    ['an absolute folder', 'machines: [/etc]', 'is not a relative path'],
    ['a folder that is not there', 'materials: [nowhere]', 'there is no folder "nowhere"'],
    ['a misspelt key', 'machnes: [shop]', 'did you mean machines?'],
  ])('cannot name %s', (_, line, text) => {
    const { problems } = collectShop(memoryAccess({ '.kerflint.yaml': `kerflint: 1\n${line}\n` }), false);
    expect(problems[0]).toMatchObject({ place: { file: '.kerflint.yaml', line: 2 } });
    expect(problems[0]!.args.text).toContain(text);
  });

  it('is not found through links', () => {
    const settings = 'kerflint: 1\nmachines: [shop]\n';
    const linked = collectShop(memoryAccess({ '.kerflint.yaml': settings, shop: { link: 'folder' } }), true);
    expect(linked.sources).toEqual([]);
    expect(linked.problems[0]!.code).toBe('outside-root');
    const file = collectShop(
      memoryAccess({ '.kerflint.yaml': settings, 'shop/a.machine.yaml': { link: 'file' }, 'shop/b.txt': '' }),
      true,
    );
    expect(file.sources).toEqual([]);
    const own = collectShop(memoryAccess({ '.kerflint.yaml': { link: 'file' }, 'shop/a.machine.yaml': machine }), true);
    expect(own.problems[0]!.args.text).toContain('is a link or a folder');
  });
});

describe('a file that all jobs may rest on', () => {
  it.each(['labels/bench-60w.machine.yaml', 'shop/a.material.yaml', 'shop/a.bench.yaml', '.kerflint.yaml'])(
    'gives all jobs below the root, by its name alone: %s',
    (path) => {
      const access = memoryAccess({ ...shed, [path]: shed[path] ?? 'x' });
      const found = discoverJobs(access, READERS, [path], false);
      expect(found.unmatched).toEqual([]);
      expect(found.jobs.map((job) => job.name)).toEqual(['gate/gate', 'labels/labels']);
      // What stands beside those jobs and was not judged is told as for the whole folder.
      const { leftOut, passedBy } = discoverJobs(access, READERS, [''], false);
      expect(found).toMatchObject({ leftOut, passedBy });
    },
  );

  it('may be there before any job is', () => {
    const found = discoverJobs(memoryAccess({ 'a.machine.yaml': 'x' }), READERS, ['a.machine.yaml'], false);
    expect(found).toMatchObject({ jobs: [], unmatched: [], leftOut: [] });
  });

  it('is refused under a name that is not read', () => {
    const [one] = discoverJobs(memoryAccess({ 'a.Machine.YAML': 'x' }), READERS, ['a.Machine.YAML'], false).unmatched;
    expect(one!.text).toMatch(/a\.Machine\.YAML looks like a machine profile, whose name ends in \.machine\.yaml/);
  });
});

describe('excludes of the settings', () => {
  const excluded = excludedBy(['gate', 'labels/left-*', '**/*.draft.svg']);

  it.each<[string, boolean]>([
    ['gate/gate.job.yaml', true],
    ['gate/deep/er/x.svg', true],
    ['gates/gate.job.yaml', false],
    ['labels/left-over.nc', true],
    ['labels/labels.gcode', false],
    ['a/b/c.draft.svg', true],
    ['.hidden/x.draft.svg', true],
  ])('%s: %s', (path, out) => {
    expect(excluded(path)).toBe(out);
  });

  it('leave the jobs out and name them', () => {
    const found = discoverJobs(memoryAccess(shed), READERS, [''], true, excluded);
    expect(found.jobs.map((job) => job.name)).toEqual(['labels/labels']);
    // The folder `gate` as one, and one file.
    expect(found.passedBy.excluded).toBe(2);
    expect(found.leftOut).toEqual([]);
  });

  it('tell "all are excluded" from "there is nothing"', () => {
    const [all] = discoverJobs(memoryAccess(shed), READERS, ['gate'], false, excluded).unmatched;
    expect(all!.text).toContain('gate is excluded by the settings');
    const below = discoverJobs(memoryAccess(shed), READERS, [''], false, excludedBy(['*/*'])).unmatched;
    expect(below[0]!.text).toMatch(/holds no .* besides what the settings exclude \(8\)/);
    const [one] = discoverJobs(memoryAccess(shed), READERS, ['gate/gate.gcode'], false, excluded).unmatched;
    expect(one!.text).toContain('excluded by the settings');
  });

  it('do not keep a sidecar from naming an excluded file', () => {
    const found = discoverJobs(memoryAccess(shed), READERS, [''], false, excludedBy(['shared']));
    expect(found.jobs.find((job) => job.name === 'labels/labels')!.artwork!.name).toBe('shared/labels.svg');
  });
});

describe('a large checkout', () => {
  const many = (files: number, folders: number) => ({
    list: (folder: string) => ({
      entries: Array.from({ length: folder === '' ? folders : files }, (_, i) =>
        folder === '' ? { name: `bed-${i}`, kind: 'folder' as const } : { name: `${i}.svg`, kind: 'file' as const },
      ),
      problem: null,
    }),
    stat: () => ({ kind: 'folder' as const, size: 0 }),
    open: (path: string) => textSource(path, ''),
  });

  it('of more than 100,000 entries is searched to its end', () => {
    const { leftOut, unmatched } = discover(many(400, 300), READERS, [''], false);
    expect(unmatched).toEqual([]);
    expect(leftOut).toHaveLength(120_000);
    expect(leftOut.some(({ kind }) => kind === 'folder')).toBe(false);
  });

  it('of more files than can be kept makes the run incomplete, and names the folder where the search ended', () => {
    const { leftOut, unmatched } = discover(many(100_000, 12), READERS, [''], false);
    expect(unmatched).toEqual([]);
    expect(leftOut.filter(({ weighs }) => weighs === 'always')).toEqual([
      { path: 'bed-0', kind: 'folder', reason: expect.stringContaining('too many files'), weighs: 'always' },
    ]);
    expect(leftOut).toHaveLength(11 * 100_000 + 1);
  });
});
