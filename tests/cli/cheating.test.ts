import { mkdirSync, readFileSync, renameSync, rmdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import type { RunResult } from '../../src/findings/result.ts';
import { folder, kerflint, type Told } from './harness.ts';
import { gained, HUB, MACHINE, pullRequest, TRICKS, type Trick } from './tricks.ts';

async function check(checkout: string, ...argv: string[]): Promise<Told & { result: RunResult }> {
  const told = await kerflint(checkout, ['check', '--format', 'json', '--today', '2026-11-25', ...argv]);
  return { ...told, result: told.stdout === '' ? null : JSON.parse(told.stdout) };
}

type How = 'untrusted beside a shop' | 'trusted beside a shop' | 'trusted by itself';

const OPTIONS: Record<How, (shop: string) => string[]> = {
  'untrusted beside a shop': (shop) => ['--shop', shop, '--untrusted'],
  'trusted beside a shop': (shop) => ['--shop', shop],
  'trusted by itself': () => [],
};

/** Runs over the demo as it is. */
const honest = new Map<How, RunResult>();

beforeAll(async () => {
  for (const how of Object.keys(OPTIONS) as How[]) {
    const { checkout, shop } = pullRequest();
    const { code, result } = await check(checkout, ...OPTIONS[how](shop));
    expect(code).toBe(1);
    honest.set(how, result);
  }
});

/** What of the honest run is no longer held once the trick was brought. */
async function gain(trick: Trick, how: How) {
  const { checkout, shop } = pullRequest();
  trick.bring(checkout);
  const baseline = trick.baseline === undefined ? [] : ['--baseline', trick.baseline];
  const cheated = await check(checkout, ...OPTIONS[how](shop), ...baseline);
  return { ...cheated, gained: cheated.code === 2 ? [] : gained(honest.get(how)!, cheated.result) };
}

const tricks = TRICKS.map((trick) => [trick.what, trick] as const);

describe('a stranger’s pull request gains nothing by', () => {
  it.each(tricks)('%s', async (_, trick) => {
    const cheated = await gain(trick, 'untrusted beside a shop');
    expect(cheated.gained).toEqual([]);
    expect([1, 3]).toContain(cheated.code);
    expect(cheated.result.summary).toMatchObject({ jobs: 4, waived: 0, baselined: 0 });
  });

  it.each(tricks)('%s, where no shop folder is given', async (_, trick) => {
    const { checkout } = pullRequest();
    trick.bring(checkout);
    const baseline = trick.baseline === undefined ? [] : ['--baseline', trick.baseline];
    const { code, result } = await check(checkout, '--untrusted', ...baseline);
    expect(code).toBe(3);
    expect(result.jobs.map((job) => job.verdict)).not.toContain('pass');
    expect(result.jobs).toHaveLength(4);
  });
});

// Where the checkout is trusted the same things are what people work with: that they do something there shows that the tests
// above could fail.
describe('a checkout that is trusted', () => {
  it.each(tricks)('beside a shop folder is judged by the shop, whatever it brings: %s', async (_, trick) => {
    const cheated = await gain(trick, 'trusted beside a shop');
    expect(cheated.gained.length > 0).toBe(trick.serves === 'shop');
  });

  it.each(tricks)('without a shop folder is judged by its own files: %s', async (_, trick) => {
    const cheated = await gain(trick, 'trusted by itself');
    expect(cheated.gained.length > 0).toBe(trick.serves !== 'nobody');
  });
});

describe('a stranger', () => {
  it('cannot say by which words a machine switches its air: the words do not reach a fix', async () => {
    const { checkout, shop } = pullRequest();
    const words = MACHINE.replace('air: {', 'air: { on: M8, off: M9,');
    writeFileSync(join(checkout, 'shed-60w.machine.yaml'), words);
    writeFileSync(join(checkout, 'machines/shed-60w.machine.yaml'), words);
    // A program that switches its air on too late.
    const program = join(checkout, 'gate-sign.gcode');
    const late = readFileSync(program, 'utf8').replace('M8\n', '').replace('(outline)\n', '(outline)\nM8\n');
    writeFileSync(program, late);
    const fix = (folder: string) => kerflint(checkout, ['fix', 'gate-sign.job.yaml', '--dry-run', '--shop', folder]);
    expect((await fix(shop)).stdout).toContain('the machine’s profile does not say how the air is switched');
    const own = folder({ 'shed-60w.machine.yaml': words });
    expect((await fix(own)).stdout).toContain('[air]');
  });

  it('cannot make a root that hides where the jobs lie', async () => {
    const { checkout, shop } = pullRequest();
    mkdirSync(join(checkout, 'deep'));
    writeFileSync(join(checkout, 'deep/.kerflint.yaml'), 'kerflint: 1\n');
    for (const name of ['plant-labels.job.yaml', 'plant-labels.svg'])
      renameSync(join(checkout, name), join(checkout, 'deep', name));
    const { result } = await check(join(checkout, 'deep'), '--shop', shop, '--untrusted');
    expect(result.jobs.map((job) => job.sidecar)).toEqual(['deep/plant-labels.job.yaml']);
  });
});

describe('the shop folder', () => {
  it('is not read through links that lie in it', async () => {
    const { checkout } = pullRequest();
    const shop = folder();
    symlinkSync(join(checkout, 'machines/shed-60w.machine.yaml'), join(shop, 'shed-60w.machine.yaml'));
    expect((await check(checkout, HUB, '--shop', shop, '--untrusted')).code).toBe(3);
  });

  const STRONGER = { 'shed-60w.machine.yaml': MACHINE.replace('rated: 60 W', 'rated: 600 W') };
  const LINKS: [string, (checkout: string) => string][] = [
    [
      'into the checkout',
      (checkout) => {
        symlinkSync('machines', join(checkout, 'shop'));
        return 'shop';
      },
    ],
    [
      'out of the checkout',
      (checkout) => {
        symlinkSync(folder(STRONGER), join(checkout, 'shop'));
        return 'shop';
      },
    ],
    [
      'further up',
      (checkout) => {
        symlinkSync(folder({ 'inner/shed-60w.machine.yaml': MACHINE }), join(checkout, 'shop'));
        return 'shop/inner';
      },
    ],
    [
      'by way of a link outside',
      (checkout) => {
        symlinkSync('machines', join(checkout, 'shop'));
        const outside = folder();
        symlinkSync(join(checkout, 'shop'), join(outside, 'shop'));
        return join(outside, 'shop');
      },
    ],
  ];

  it.each(LINKS)('of an untrusted run is not given by a link of the checkout: %s', async (_, link) => {
    const { checkout } = pullRequest();
    const shop = link(checkout);
    const { code, stdout, stderr } = await check(checkout, HUB, '--shop', shop, '--untrusted');
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toMatch(/leads through the link .*shop, which lies among the jobs/);
    // Of one's own checkout a link is as good as what it points to.
    expect((await check(checkout, HUB, '--shop', shop)).code).not.toBe(2);
  });

  it('may be named by a link that lies elsewhere: whoever names it trusts it', async () => {
    const { checkout, shop } = pullRequest();
    const outside = folder();
    symlinkSync(shop, join(outside, 'shop'));
    expect((await check(checkout, HUB, '--shop', join(outside, 'shop'), '--untrusted')).code).toBe(1);
  });

  it('may be a checkout beside that of the jobs, also where both lie in one folder', async () => {
    const { checkout, shop } = pullRequest();
    const workspace = folder();
    renameSync(checkout, join(workspace, 'designs'));
    renameSync(shop, join(workspace, 'shop'));
    expect((await check(join(workspace, 'designs'), HUB, '--shop', '../shop', '--untrusted')).code).toBe(1);
    expect((await check(workspace, 'designs', '--shop', 'shop', '--untrusted')).code).toBe(1);
  });

  /** Brings a stronger machine where somebody named the shop, and gives working folder, path to check and shop. */
  const AMONG_JOBS: [string, (checkout: string) => { cwd: string; path: string; shop: string }][] = [
    ['in the checkout', (checkout) => ({ cwd: checkout, path: HUB, shop: 'machines' })],
    ['the checkout itself', (checkout) => ({ cwd: checkout, path: HUB, shop: '.' })],
    [
      'in the checkout, by a link from outside',
      (checkout) => {
        const outside = folder();
        symlinkSync(join(checkout, 'machines'), join(outside, 'shop'));
        return { cwd: checkout, path: HUB, shop: join(outside, 'shop') };
      },
    ],
    [
      'a submodule of the checkout',
      (checkout) => {
        renameSync(join(checkout, 'machines'), join(checkout, 'shop'));
        writeFileSync(join(checkout, 'shop/.git'), 'gitdir: ../.git/modules/shop\n');
        return { cwd: checkout, path: HUB, shop: 'shop' };
      },
    ],
    [
      'in the repository of which the jobs are a submodule',
      (checkout) => {
        const around = folder({ '.git/HEAD': 'ref: refs/heads/main\n', 'shop/shed-60w.machine.yaml': MACHINE });
        rmdirSync(join(checkout, '.git'));
        renameSync(checkout, join(around, 'designs'));
        writeFileSync(join(around, 'designs/.git'), 'gitdir: ../.git/modules/designs\n');
        return { cwd: join(around, 'designs'), path: HUB, shop: '../shop' };
      },
    ],
    [
      'around the checkout',
      (checkout) => {
        const around = folder();
        renameSync(checkout, join(around, 'designs'));
        return { cwd: join(around, 'designs'), path: HUB, shop: '..' };
      },
    ],
    [
      'in the folder of jobs, where nothing is checked out',
      (checkout) => {
        rmdirSync(join(checkout, '.git'));
        return { cwd: checkout, path: '.', shop: 'machines' };
      },
    ],
  ];

  it.each(AMONG_JOBS)('of an untrusted run does not come with the jobs: %s', async (_, place) => {
    const { cwd, path, shop } = place(pullRequest().checkout);
    const { code, stdout, stderr } = await check(cwd, path, '--shop', shop, '--untrusted');
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toMatch(/--shop .* (?:lies in|holds) the checkout of the jobs that are not trusted/);
    expect((await kerflint(cwd, ['config', path, '--shop', shop, '--untrusted'])).code).toBe(2);
    // The same folder is as good as any where it is said that nobody else can change it, and where the jobs are trusted.
    expect((await check(cwd, path, '--shop', shop, '--untrusted', '--shop-in-checkout')).code).toBe(1);
    expect((await check(cwd, path, '--shop', shop)).code).toBe(1);
  });

  it('whose settings name a folder by a link out of it is wrong', async () => {
    const { checkout } = pullRequest();
    const shop = folder({ '.kerflint.yaml': 'kerflint: 1\nmachines: [linked]\n' });
    symlinkSync(folder(STRONGER), join(shop, 'linked'));
    const { code, stderr } = await check(checkout, HUB, '--shop', shop, '--untrusted');
    expect(code).toBe(2);
    expect(stderr).toMatch(/"linked" lies outside this folder/);
  });
});
