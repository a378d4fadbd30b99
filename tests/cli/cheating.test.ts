import { mkdirSync, readFileSync, renameSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { JobResult, RunResult } from '../../src/findings/result.ts';
import { demo, folder, kerflint, REPOSITORY } from './harness.ts';

const MACHINE = readFileSync(join(REPOSITORY, 'examples/machines/shed-60w.machine.yaml'), 'utf8');
const VINYL = readFileSync(join(REPOSITORY, 'data/materials/vinyl.material.yaml'), 'utf8');
const HARMLESS = VINYL.replace('class: never', 'class: usual');

/** A checkout that a stranger may have changed, and the shop's own folder apart from it. */
function pullRequest(): { checkout: string; shop: string } {
  return { checkout: demo(), shop: folder({ 'shed-60w.machine.yaml': MACHINE }) };
}

async function check(checkout: string, ...argv: string[]): Promise<RunResult & { code: number }> {
  const told = await kerflint(checkout, ['check', '--format', 'json', '--today', '2026-11-25', ...argv]);
  return { ...JSON.parse(told.stdout === '' ? '{}' : told.stdout), code: told.code };
}

function open(job: JobResult | undefined): string[] {
  return (job?.findings ?? [])
    .filter((one) => one.status === 'open' && one.severity === 'error')
    .map((one) => one.rule);
}

function edit(path: string, change: (text: string) => string): void {
  writeFileSync(path, change(readFileSync(path, 'utf8')));
}

const HUB = 'weather-vane-hub.job.yaml';
const LABELS = 'plant-labels.job.yaml';

describe.each([
  ['with --shop', []],
  ['with --shop and --untrusted', ['--untrusted']],
])('a pull request, checked %s,', (_, untrusted) => {
  it('gains nothing by a stronger machine of its own', async () => {
    const { checkout, shop } = pullRequest();
    const honest = await check(checkout, HUB, '--shop', shop, ...untrusted);
    const stronger = MACHINE.replace('rated: 60 W', 'rated: 600 W').replace(/measured: 54 W/, 'measured: 540 W');
    writeFileSync(join(checkout, 'shed-60w.machine.yaml'), stronger);
    writeFileSync(join(checkout, 'machines/shed-60w.machine.yaml'), stronger);
    const cheated = await check(checkout, HUB, '--shop', shop, ...untrusted);
    expect(honest.code).toBe(1);
    expect(cheated.code).toBe(1);
    expect(cheated.jobs[0]?.cuts).toEqual(honest.jobs[0]?.cuts);
  });

  it('gains nothing by a harmless vinyl of its own', async () => {
    const { checkout, shop } = pullRequest();
    writeFileSync(join(checkout, 'vinyl.material.yaml'), HARMLESS);
    const result = await check(checkout, LABELS, '--shop', shop, ...untrusted);
    expect(open(result.jobs[0])).toContain('material/hazardous');
  });

  it('gains nothing by another name for vinyl', async () => {
    const { checkout, shop } = pullRequest();
    const renamed = HARMLESS.replace('id: vinyl', 'id: garden-film')
      .replace('name: vinyl', 'name: garden film')
      .replace(/aliases: .*/, 'aliases: [vinyl]');
    writeFileSync(join(checkout, 'garden-film.material.yaml'), renamed);
    edit(join(checkout, LABELS), (text) => text.replace('material: vinyl', 'material: garden-film'));
    const result = await check(checkout, LABELS, '--shop', shop, ...untrusted);
    expect(result.code).not.toBe(0);
    expect([...open(result.jobs[0]), ...(result.jobs[0]?.incomplete ?? [])].join()).toMatch(
      /material\/hazardous|not known|untrusted|stranger|shop/,
    );
  });

  it('gains nothing by settings that switch rules off, soften them or exclude jobs', async () => {
    const { checkout, shop } = pullRequest();
    const before = await check(checkout, '--shop', shop, ...untrusted);
    writeFileSync(
      join(checkout, '.kerflint.yaml'),
      'kerflint: 1\nmachines: [machines]\nexclude: ["plant-labels*", "gate-sign*"]\nrules: { cut/short-of-through: "off", toolpath/dwell-burn: note }\n',
    );
    const after = await check(checkout, '--shop', shop, ...untrusted);
    expect(after.jobs.map((job) => [job.name, open(job)])).toEqual(before.jobs.map((job) => [job.name, open(job)]));
    expect(after.code).toBe(1);
  });

  it('gains nothing by a machine of the checkout that is a link into another folder', async () => {
    const { checkout, shop } = pullRequest();
    const elsewhere = folder({ 'shed-60w.machine.yaml': MACHINE.replace('rated: 60 W', 'rated: 600 W') });
    renameSync(join(checkout, 'machines'), join(checkout, 'old'));
    symlinkSync(elsewhere, join(checkout, 'machines'));
    const result = await check(checkout, HUB, '--shop', shop, ...untrusted);
    expect(open(result.jobs[0])).toContain('cut/short-of-through');
  });
});

describe('a stranger', () => {
  it('cannot waive', async () => {
    const { checkout, shop } = pullRequest();
    edit(
      join(checkout, LABELS),
      (text) => `${text}\nwaive:\n  - { rule: material/hazardous, reason: "trust me", until: 2027-03-01 }\n`,
    );
    edit(join(checkout, 'gate-sign.gcode'), (text) =>
      text.replace('G4 P1.5', '(kerflint-waive toolpath/dwell-burn: trust me)\nG4 P1.5'),
    );
    const trusted = await check(checkout, LABELS, '--shop', shop);
    expect(open(trusted.jobs[0])).not.toContain('material/hazardous');
    const result = await check(checkout, LABELS, 'gate-sign.job.yaml', '--shop', shop, '--untrusted');
    expect(result.jobs.flatMap(open)).toEqual(expect.arrayContaining(['material/hazardous', 'toolpath/dwell-burn']));
    expect(result.summary.waived).toBe(0);
  });

  it('cannot make a root that hides where the jobs lie', async () => {
    const { checkout, shop } = pullRequest();
    mkdirSync(join(checkout, '.git'));
    mkdirSync(join(checkout, 'deep'));
    writeFileSync(join(checkout, 'deep/.kerflint.yaml'), 'kerflint: 1\n');
    for (const name of ['plant-labels.job.yaml', 'plant-labels.svg'])
      renameSync(join(checkout, name), join(checkout, 'deep', name));
    const result = await check(join(checkout, 'deep'), '--shop', shop, '--untrusted');
    expect(result.jobs.map((job) => job.sidecar)).toEqual(['deep/plant-labels.job.yaml']);
  });
});

describe('the shop folder', () => {
  it('is not read through links that lie in it', async () => {
    const { checkout } = pullRequest();
    const shop = folder();
    symlinkSync(join(checkout, 'machines/shed-60w.machine.yaml'), join(shop, 'shed-60w.machine.yaml'));
    const result = await check(checkout, HUB, '--shop', shop, '--untrusted');
    expect(result.code).toBe(3);
  });
});
