// What a run leaves behind when it is killed, when files change under its hands, when it may not write, and when it is not alone. The built
// program, since only a process can be killed; where, is counted in its own steps and not in time.
import { spawn, spawnSync } from 'node:child_process';
import { chmodSync, cpSync, existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { demo, folder, REPOSITORY } from './harness.ts';

const PROGRAM = join(REPOSITORY, 'dist/kerflint.js');
const MEDDLE = join(REPOSITORY, 'tests/cli/meddle.cjs');
const DAY = ['--today', '2026-11-25'];
const TRAY = 'seed-tray-divider';
const LABELS = 'plant-labels.job.yaml';

function run(cwd: string, argv: readonly string[], env: Record<string, string> = {}) {
  const done = spawnSync(process.execPath, ['--require', MEDDLE, PROGRAM, ...argv], {
    cwd,
    encoding: 'utf8',
    env: { PATH: process.env['PATH'] ?? '', HOME: cwd, ...env },
  });
  return { code: done.status, signal: done.signal, stdout: done.stdout, stderr: done.stderr };
}

/** All files below a folder by their path. */
type Files = Record<string, string>;

function files(root: string): Files {
  const names = readdirSync(root, { recursive: true, withFileTypes: true }).filter((one) => one.isFile());
  return Object.fromEntries(
    names.map((one) => {
      const path = join(one.parentPath, one.name);
      return [path.slice(root.length + 1), readFileSync(path, 'utf8')];
    }),
  );
}
/** What a killed run may leave: hidden files and folders of its own, and its lock. */
const isRest = (path: string) =>
  /(?:^|\/)\.[^/]*\.tmp(?:\/|$)|\.lock(?:\.clearing)?$|(?:^|\/)\.answers-\w+\//.test(path);
const withoutRests = (all: Files): Files => Object.fromEntries(Object.entries(all).filter(([path]) => !isRest(path)));

interface Writing {
  what: string;
  prepare?: (cwd: string) => void;
  argv: string[];
}

const REPORTS = ['json=out.json', 'junit=out.xml', 'csv=new/out.csv', 'drawing=out.drawing.json'];
/** The labels are the quickest job to judge. */
const WRITINGS: Writing[] = [
  {
    what: 'reports and a drawing',
    prepare: (cwd) => {
      for (const name of ['out.json', 'out.xml']) writeFileSync(join(cwd, name), 'old');
    },
    argv: ['check', LABELS, ...DAY, ...REPORTS.flatMap((one) => ['--format', one])],
  },
  {
    what: 'a baseline that is written anew',
    prepare: (cwd) =>
      writeFileSync(join(cwd, 'b.json'), '{"kerflint":1,"findings":{"other.gcode":{"cut/marginal":2}}}\n'),
    argv: ['check', LABELS, ...DAY, '--baseline', 'b.json', '--write-baseline'],
  },
  { what: 'answers', argv: ['check', LABELS, ...DAY, '--format', 'reply=answers'] },
  {
    what: 'a sidecar',
    prepare: (cwd) => writeFileSync(join(cwd, 'spare.gcode'), 'G1 X1\n'),
    argv: ['init', 'spare.gcode', '--machine', 'shed-60w', '--material', 'birch-plywood', '--thickness', '3 mm'],
  },
  { what: 'a mended copy', argv: ['fix', 'gate-sign.job.yaml', ...DAY] },
  { what: 'a job that is mended in place', argv: ['fix', 'gate-sign.job.yaml', ...DAY, '--in-place'] },
];

/** Where a run is killed: amid each writing into a file, ahead of what moves, links or removes one, and after the last step. */
function killsOf(steps: readonly string[]): number[] {
  const kills = steps.flatMap((name, i) => {
    if (name === 'writeFileSync') return [2 * i + 1];
    // What a new folder changes is seen amid the writing into it.
    return name.startsWith('mkd') ? [] : [2 * i];
  });
  return [...kills, 2 * steps.length - 1];
}

/** Nothing is gone, and each file is whole: as it was or as it will be. */
function holdWhole(now: Files, before: Files, after: Files, kill: number): void {
  for (const [path, text] of Object.entries(withoutRests(now)))
    expect([before[path], after[path]], `${path} at step ${kill}`).toContain(text);
  expect(Object.keys(now), `step ${kill}`).toEqual(expect.arrayContaining(Object.keys(before)));
}

describe('a run that is killed while it writes', () => {
  it.each(WRITINGS.map((one) => [one.what, one] as const))(
    '%s leaves each file as it was or as it will be, and the next run does all of it',
    (_, { prepare, argv }) => {
      const made = (env: Record<string, string>) => {
        const cwd = demo();
        prepare?.(cwd);
        const before = files(cwd);
        return { cwd, before, done: run(cwd, argv, env) };
      };
      const log = join(folder(), 'steps');
      const whole = made({ MEDDLE_LOG: log });
      expect([whole.done.signal, whole.done.stderr.includes('fault')]).toEqual([null, false]);
      const after = files(whole.cwd);
      expect(Object.keys(after).filter(isRest)).toEqual([]);
      expect(after).not.toEqual(whole.before);
      const steps = readFileSync(log, 'utf8').split('\n').slice(0, -1);
      expect(steps).toContain('renameSync');
      const lastRename = 2 * steps.lastIndexOf('renameSync');
      for (const kill of killsOf(steps)) {
        const { cwd, before, done } = made({ MEDDLE_KILL: String(kill) });
        expect(done.signal, `step ${kill}`).toBe('SIGKILL');
        const left = files(cwd);
        holdWhole(left, before, after, kill);
        // Ahead of the last step that counts; and wherever a lock was left, which nobody but the next run takes away.
        if (kill !== lastRename && !Object.keys(left).some((path) => path.endsWith('.lock'))) continue;
        const again = run(cwd, argv);
        expect([again.code, withoutRests(files(cwd))], `after step ${kill}: ${again.stderr}`).toEqual([
          whole.done.code,
          after,
        ]);
        expect(Object.keys(files(cwd)).filter((path) => path.endsWith('.lock'))).toEqual([]);
      }
    },
  );

  it('entries of a cache: the next run says the same as without', () => {
    const cwd = demo();
    const check = (...argv: string[]) => ['check', LABELS, ...DAY, '--format', 'json', ...argv];
    const honest = run(cwd, check()).stdout;
    const log = join(folder(), 'steps');
    run(cwd, check('--cache', join(folder(), 'cache')), { MEDDLE_LOG: log });
    for (const kill of killsOf(readFileSync(log, 'utf8').split('\n').slice(0, -1))) {
      const cache = ['--cache', join(folder(), 'cache')];
      expect(run(cwd, check(...cache), { MEDDLE_KILL: String(kill) }).signal).toBe('SIGKILL');
      expect(run(cwd, check(...cache)).stdout).toBe(honest);
    }
  });
});

describe('a file that is changed while it is read', () => {
  const argv = ['check', `${TRAY}.job.yaml`, ...DAY, '--format', 'json'];
  const verdict = (cwd: string) => run(cwd, argv);
  let honest: ReturnType<typeof verdict> | undefined;
  const cases = [
    ...['shorten', 'lengthen', 'delete', 'replace', 'rewrite'].map((how) => [how, `${TRAY}.gcode`] as const),
    ...['shorten', 'replace'].flatMap((how) => [`${TRAY}.svg`, `${TRAY}.job.yaml`].map((file) => [how, file] as const)),
  ];

  it.each(cases)('(%s, %s) is never judged as half of each', (how, file) => {
    honest ??= verdict(demo());
    const told: (number | null)[] = [];
    for (const read of [1, 2]) {
      const cwd = demo();
      const env = { MEDDLE_FILE: join(cwd, file), MEDDLE_READ: String(read), MEDDLE_HOW: how };
      const done = run(cwd, argv, env);
      expect(done.signal).toBe(null);
      expect(`${done.stdout}${done.stderr}`).not.toMatch(/its own fault|TypeError/);
      told.push(done.code);
      if (done.code === 3 || done.code === 2) continue;
      // Else all of it was read before that, or after it: the answer is that of one of the two files.
      const answers = [honest.stdout, ...(existsSync(join(cwd, file)) ? [verdict(cwd).stdout] : [])];
      const findings = (text: string) =>
        JSON.parse(text).jobs.map((job: { findings: { message: string }[] }) => job.findings.map((one) => one.message));
      expect(answers.map(findings), `read ${read}`).toContainEqual(findings(done.stdout));
    }
    // Some of these moments lie in the midst of a program; of one that was replaced or deleted the old bytes can still be read to the end.
    if (file.endsWith('.gcode') && !['delete', 'replace'].includes(how)) expect(told).toContain(3);
  });
});

/** How to run a program as somebody who is not root and owns nothing here; null where that cannot be done. */
function asNobody(): string[] | null {
  if (process.getuid?.() !== 0) return [];
  const prefix = ['setpriv', '--reuid=65534', '--regid=65534', '--clear-groups'];
  const tried = spawnSync(prefix[0]!, [...prefix.slice(1), process.execPath, PROGRAM, 'rules'], { encoding: 'utf8' });
  return tried.status === 0 ? prefix : null;
}
const nobody = asNobody();
if (nobody === null) console.warn('Read-only folders were not tried: no user but root can run the program here.');

describe.runIf(nobody !== null)('a user who may write nowhere', () => {
  const as = (cwd: string, ...argv: string[]) => {
    const [program, ...args] = [...nobody!, process.execPath, PROGRAM, ...argv];
    const done = spawnSync(program!, args, {
      cwd,
      encoding: 'utf8',
      env: { PATH: process.env['PATH'] ?? '', HOME: cwd, TMPDIR: cwd },
    });
    return { code: done.status, stdout: done.stdout, stderr: done.stderr };
  };
  /** A checkout that nobody but its owner may change, and its owner only after a chmod. */
  const readOnly = () => {
    const cwd = demo();
    for (const each of [cwd, join(cwd, 'machines')]) chmodSync(each, 0o555);
    return cwd;
  };

  it('checks as anybody else does', () => {
    const cwd = readOnly();
    const argv = ['check', '.', ...DAY, '--format', 'json'];
    expect(as(cwd, ...argv)).toEqual({ code: 1, stdout: run(demo(), argv).stdout, stderr: '' });
  });

  it.each([
    ['a report', ['--format', 'json=out.json']],
    ['a report in a new folder', ['--format', 'json=new/out.json']],
    ['a baseline', ['--baseline', 'b.json', '--write-baseline']],
    ['answers', ['--format', 'reply=answers']],
    ['a drawing', ['--format', 'drawing=out.drawing.json']],
  ])('is told by name what cannot be written, and nothing is: %s', (_, argv) => {
    const cwd = readOnly();
    const before = files(cwd);
    const done = as(cwd, 'check', LABELS, ...DAY, ...argv);
    expect(done.code).toBe(2);
    expect(done.stderr).toMatch(
      /(?:out\.(?:drawing\.)?json|b\.json(?:\.lock)?|answers)\S* cannot be written \(EACCES\)|answers.*EACCES/,
    );
    expect(files(cwd)).toEqual(before);
  });

  it.each([
    ['a copy', 'gate-sign.fixed', []],
    ['the job itself', 'gate-sign.gcode', ['--in-place']],
  ])('is told that nothing is mended: %s', (_, name, argv) => {
    const cwd = readOnly();
    const before = files(cwd);
    const done = as(cwd, 'fix', 'gate-sign.job.yaml', ...DAY, ...argv);
    expect([done.code, done.stderr]).toEqual([2, expect.stringMatching(`${name} cannot be written \\(EACCES\\)`)]);
    expect(files(cwd)).toEqual(before);
  });

  it('does without a cache that cannot be written, and without a home', () => {
    const cwd = readOnly();
    const closed = folder();
    chmodSync(closed, 0o555);
    const done = as(cwd, 'check', LABELS, ...DAY, '--cache', join(closed, 'cache'), '--format', 'json');
    expect(done.code).toBe(1);
    expect(done.stderr).toMatch(/results are not kept: .*EACCES/);
  });

  it('is told what may not be read', () => {
    const cwd = demo();
    for (const each of readdirSync(cwd)) chmodSync(join(cwd, each), 0o755);
    chmodSync(join(cwd, 'seed-tray-divider.gcode'), 0o000);
    chmodSync(cwd, 0o755);
    const done = as(cwd, 'check', 'seed-tray-divider.job.yaml', ...DAY);
    if (process.getuid?.() === 0 || nobody!.length === 0)
      expect([done.code, done.stdout]).toEqual([3, expect.stringContaining('may not be read (permission)')]);
  });
});

describe('several runs on one file', () => {
  const start = (cwd: string, argv: string[]) =>
    new Promise<number | null>((resolve, reject) => {
      const child = spawn(process.execPath, [PROGRAM, ...argv], { cwd, stdio: 'ignore' });
      child.on('error', reject);
      child.on('close', resolve);
    });

  it('lose, of a baseline, nothing that one of them has counted', async () => {
    const cwd = demo();
    mkdirSync(join(cwd, 'more'));
    const names = ['a', 'b', 'c', 'd'];
    for (const name of names) {
      mkdirSync(join(cwd, 'more', name));
      for (const kind of ['gcode', 'svg', 'job.yaml'])
        cpSync(join(cwd, `weather-vane-hub.${kind}`), join(cwd, 'more', name, `weather-vane-hub.${kind}`));
    }
    const codes = await Promise.all(
      names.map((name) => start(cwd, ['check', `more/${name}`, ...DAY, '--baseline', 'b.json', '--write-baseline'])),
    );
    expect(codes.every((code) => code === 0 || code === 1)).toBe(true);
    const { findings } = JSON.parse(readFileSync(join(cwd, 'b.json'), 'utf8'));
    const counted = names.filter((name) => Object.keys(findings).some((file) => file.startsWith(`more/${name}/`)));
    expect(counted).toEqual(names);
    expect(readdirSync(cwd).filter(isRest)).toEqual([]);
  });

  it('nor, on one bench file, what one of them has measured', async () => {
    const cwd = demo();
    writeFileSync(join(cwd, '.kerflint.yaml'), 'kerflint: 1\nmachines: [machines]\n');
    // The same results would not be counted twice.
    const names = ['3', '4', '5'];
    for (const name of names) {
      expect(
        run(cwd, ['coupon', '--material', 'birch-plywood', '--thickness', `${name} mm`, '--name', name]).code,
      ).toBe(0);
      const sheet = join(cwd, `${name}.results.yaml`);
      let tongue = 0;
      const filled = readFileSync(sheet, 'utf8').replace(
        /(tongue: .*through: )\}/g,
        (_, ahead) => `${ahead}${tongue++ < 6 ? 'yes' : 'no'} }`,
      );
      writeFileSync(sheet, filled);
    }
    const codes = await Promise.all(names.map((name) => start(cwd, ['calibrate', `${name}.results.yaml`, '--write'])));
    expect(codes).toEqual([0, 0, 0]);
    const bench = readFileSync(join(cwd, 'machines/shed-60w.bench.yaml'), 'utf8');
    expect(bench.match(/material: birch-plywood/g)).toHaveLength(36);
    expect(readdirSync(join(cwd, 'machines')).filter(isRest)).toEqual([]);
  });

  it('do not wait for one that was killed, nor take the lock of one that lives', async () => {
    const cwd = demo();
    const { pid } = spawnSync(process.execPath, ['-e', '']);
    const host = spawnSync('hostname', { encoding: 'utf8' }).stdout.trim();
    writeFileSync(join(cwd, 'b.json.lock'), `${host} ${pid}`);
    expect(await start(cwd, ['check', LABELS, ...DAY, '--baseline', 'b.json', '--write-baseline'])).toBe(1);
    expect(existsSync(join(cwd, 'b.json.lock'))).toBe(false);
    writeFileSync(join(cwd, 'b.json.lock'), `${host} ${process.pid}`);
    const before = readFileSync(join(cwd, 'b.json'), 'utf8');
    const told = run(cwd, ['check', LABELS, ...DAY, '--baseline', 'b.json', '--prune-baseline']);
    expect([told.code, told.stderr]).toEqual([2, expect.stringContaining(`is held by another run`)]);
    expect(readFileSync(join(cwd, 'b.json'), 'utf8')).toBe(before);
  });
});
