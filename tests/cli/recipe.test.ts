import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { demo, kerflint } from './harness.ts';

const SHEET = ['recipe', '--material', 'birch-plywood', '--thickness'];
const read = (...parts: string[]) => readFileSync(join(...parts), 'utf8');

const SIDECAR = `# from the shed's wiki
kerflint: 1
machine: shed-60w
lens: 2in # fitted on Saturday
material: birch-plywood
thickness: 4.0 mm ± 0.2 mm
zero: sheet-corner
artwork: plant-labels.svg
tasks:
  - name: border
    aim: through
    power: # fill in
    speed:
`;

describe('kerflint recipe', () => {
  it('prints the recipe in its first line, and writes JSON and a card of the same', async () => {
    const shop = demo();
    const told = await kerflint(shop, [
      ...SHEET,
      '6 mm',
      '--format',
      'text',
      '--format',
      'json=r.json',
      '--format',
      'svg=r.svg',
    ]);
    expect(told).toMatchObject({ code: 0, stderr: '' });
    const { recipe, standing } = JSON.parse(read(shop, 'r.json'));
    expect(standing).toBe('sure');
    expect(told.stdout.split('\n')[0]).toMatch(`${recipe.speedMmPerS} mm/s, ${recipe.passes} pass`);
    expect(read(shop, 'r.svg')).toMatch(`${recipe.speedMmPerS} mm/s`);
  });

  it('ends with 0 where there is a recipe, 1 where the sheet is out of reach or never cut, 2 for what is not known', async () => {
    const shop = demo();
    const code = async (...argv: string[]) => (await kerflint(shop, argv)).code;
    expect(await code(...SHEET, '24 mm')).toBe(0);
    expect(await code(...SHEET, '60 mm')).toBe(1);
    expect(await code('recipe', '--material', 'pvc', '--thickness', '3 mm')).toBe(1);
    expect(await code('recipe', '--material', 'slate', '--thickness', '5 mm')).toBe(1);
    expect(await code('recipe', '--material', 'brich-plywood', '--thickness', '3 mm')).toBe(2);
    expect(await code(...SHEET, '3 mm', '--machine', 'none')).toBe(2);
    expect(await code(...SHEET, '3 mm', '--lens', '9in')).toBe(2);
    expect(await code(...SHEET, '3')).toBe(2);
    expect(await code(...SHEET, '3 mm', '--aim', 'surface')).toBe(2);
    expect(await code(...SHEET, '3 mm', '--task', 'border')).toBe(2);
  });

  it('draws no card of what is never cut', async () => {
    const told = await kerflint(demo(), [
      'recipe',
      '--material',
      'pvc',
      '--thickness',
      '3 mm',
      '--format',
      'svg=r.svg',
    ]);
    expect(told).toMatchObject({ code: 2, stdout: '' });
    expect(told.stderr).toMatch(/has no recipe to draw/);
  });

  it("fills in a task's empty keys, so that the check finds no error and proposes nothing any more", async () => {
    const shop = demo();
    writeFileSync(join(shop, 'labels.job.yaml'), SIDECAR);
    const told = await kerflint(shop, ['recipe', '--job', 'labels.job.yaml', '--task', 'border']);
    expect(told.code).toBe(0);
    expect(told.stderr).toMatch(/^kerflint: filled in power, speed, passes, focus, air in labels\.job\.yaml\./);
    const text = read(shop, 'labels.job.yaml');
    expect(text).toMatch(/^ {4}power: 85 % # fill in$/m);
    expect(text).toMatch(/^# from the shed's wiki$/m);
    expect(text).toMatch(/^lens: 2in # fitted on Saturday$/m);
    const checked = await kerflint(shop, ['check', 'labels.job.yaml', '--format', 'json']);
    const [{ findings }] = JSON.parse(checked.stdout).jobs;
    const rules = findings.map(({ rule }: { rule: string }) => rule);
    expect(findings.filter(({ severity }: { severity: string }) => severity === 'error')).toEqual([]);
    for (const rule of ['cut/proposed', 'cut/marginal', 'cut/out-of-reach']) expect(rules).not.toContain(rule);

    const again = await kerflint(shop, ['recipe', '--job', 'labels.job.yaml']);
    expect(again.stderr).toMatch(/has no empty key for it; nothing was changed/);
    expect(read(shop, 'labels.job.yaml')).toBe(text);
  });

  it('keeps to what the task and its job have fixed, and to the lens that the job names', async () => {
    const shop = demo();
    writeFileSync(join(shop, 'labels.job.yaml'), SIDECAR.replace('speed:', 'speed: 9 mm/s'));
    const told = await kerflint(shop, ['recipe', '--job', 'labels.job.yaml', '--format', 'json']);
    const { recipe } = JSON.parse(told.stdout);
    expect(recipe).toMatchObject({ speedMmPerS: 9, lens: '2in' });
    expect(read(shop, 'labels.job.yaml')).toMatch(/^ {4}speed: 9 mm\/s$/m);
  });

  it('takes from the options what the sidecar leaves out, and stops where they contradict it', async () => {
    const shop = demo();
    writeFileSync(join(shop, 'labels.job.yaml'), SIDECAR.replace('thickness: 4.0 mm ± 0.2 mm\n', ''));
    const asked = ['recipe', '--job', 'labels.job.yaml'];
    expect((await kerflint(shop, asked)).stderr).toMatch(/its thickness is not stated/);
    expect((await kerflint(shop, [...asked, '--material', 'mdf', '--thickness', '4 mm'])).stderr).toMatch(
      /its material is birch-plywood/,
    );
    expect((await kerflint(shop, [...asked, '--thickness', '4 mm', '--lens', '4in'])).stderr).toMatch(
      /its lens is 2in/,
    );
    expect(read(shop, 'labels.job.yaml')).not.toContain('85 %');
    expect((await kerflint(shop, [...asked, '--thickness', '4 mm'])).code).toBe(0);
    expect(read(shop, 'labels.job.yaml')).toContain('85 %');
  });

  it('changes nothing where the sheet is out of reach, and names the tasks there are', async () => {
    const shop = demo();
    const thick = SIDECAR.replace('4.0 mm ± 0.2 mm', '60 mm');
    writeFileSync(join(shop, 'labels.job.yaml'), thick);
    expect((await kerflint(shop, ['recipe', '--job', 'labels.job.yaml'])).code).toBe(1);
    expect(read(shop, 'labels.job.yaml')).toBe(thick);
    const other = await kerflint(shop, ['recipe', '--job', 'labels.job.yaml', '--task', 'rim']);
    expect(other).toMatchObject({ code: 2, stdout: '' });
    expect(other.stderr).toMatch(/no task is called "rim"; it has "border"/);
  });
});
