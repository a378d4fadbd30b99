// What people do on the offline page, in Debian's Chromium and from disk: drop, describe, answer, save, go back. The command line is the
// judge of what is written; axe-core (Deque) of its accessibility.
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { folder, kerflint } from '../cli/harness.ts';
import { violationsNow } from './accessibility.ts';
import { chromiumIsThere, launch, needsChromium } from './chromium.ts';
import { apartFromJudgedBy, type Opened, open, shot } from './opened.ts';

const TODAY = '2026-11-25';
/** A border that is only drawn, and four labels that are cut out: 20 % at 100 mm/s and 80 % at 10 mm/s. */
const LABELS = [
  'G21',
  'G90',
  'M4 S200',
  '(border)',
  'G0 X10 Y10',
  'G1 X60 Y10 F6000',
  'G1 X60 Y60',
  '(labels)',
  ...[70, 85, 100, 115].flatMap((x) => [`G0 X${x} Y10`, 'S800', `G1 X${x + 10} F600`, 'G1 Y20', `G1 X${x}`, 'G1 Y10']),
  'M5',
  'M2',
  '',
].join('\n');
const PLATE =
  '<svg xmlns="http://www.w3.org/2000/svg" width="90mm" height="90mm" viewBox="0 0 90 90" fill="none"><path d="M5 5h40v40h-40z" stroke="#0b7285"/></svg>';
/** Lines for editors name the folder of the schemas, which a page does not know. */
const withoutEditorLine = (text: string) => text.replace(/^# yaml-language-server:.*\n/, '');

needsChromium();

describe.runIf(chromiumIsThere())('work on the offline page', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await launch();
  });
  afterAll(() => browser.close());

  const openPage = async (options: BrowserContextOptions = {}, before?: string): Promise<Opened> => {
    const at = folder();
    await kerflint(at, ['page', '--out', 'kerflint.html']);
    const opened = await open(browser, join(at, 'kerflint.html'), options);
    if (before !== undefined) {
      await opened.page.addInitScript(before);
      await opened.page.reload();
    }
    await opened.page.getByLabel('Today').fill(TODAY);
    return opened;
  };

  const give = async (page: Page, ...paths: string[]): Promise<void> => {
    await page.getByLabel('Files').setInputFiles(paths);
    await page.getByText('Nothing leaves this page').waitFor();
  };
  const material = (page: Page) => page.getByRole('combobox', { name: 'Material' });
  const rated = (page: Page) => page.getByLabel('Rated power');
  const describeMachine = async (page: Page): Promise<void> => {
    await rated(page).fill('60 W');
    await page.getByLabel(/^Focal length/).fill('2 in');
    await page.getByLabel('Bed', { exact: true }).fill('600 x 400 mm');
    await page.getByLabel('S at full power').fill('1000');
  };
  const describeAll = async (page: Page): Promise<void> => {
    await describeMachine(page);
    await material(page).fill('birch-plywood');
    await page.getByLabel(/^Thickness/).fill('3 mm');
  };
  const press = (page: Page, name: string) => page.getByRole('button', { name, exact: true }).click();
  const saved = async (page: Page, name: string): Promise<{ name: string; text: string }> => {
    const [download] = await Promise.all([page.waitForEvent('download'), press(page, name)]);
    return { name: download.suggestedFilename(), text: readFileSync(await download.path(), 'utf8') };
  };
  const report = (page: Page) => page.getByRole('button', { name: 'Other files' }).waitFor();

  /** As on another day: without the history of this visit. */
  const openAnew = async (page: Page): Promise<void> => {
    const url = page.url();
    await page.goto('about:blank');
    await page.goto(url);
  };

  /** A drag as the system hands it to the browser, through its own protocol. */
  const drag = async (page: Page, data: { files: string[]; items?: object[] }): Promise<void> => {
    const session = await page.context().newCDPSession(page);
    for (const type of ['dragEnter', 'dragOver', 'drop'] as const) {
      await session.send('Input.dispatchDragEvent', {
        type,
        x: 300,
        y: 300,
        data: { items: (data.items ?? []) as never, files: data.files, dragOperationsMask: 1 },
      });
    }
  };

  it('takes files and folders that are dropped on it, and says what it refuses', async () => {
    const at = folder({ 'labels.gcode': LABELS });
    mkdirSync(join(at, 'more/deep'), { recursive: true });
    writeFileSync(join(at, 'more/deep/plate.svg'), PLATE);
    const { page, complaints, requests } = await openPage();
    const list = page.locator('#files-list li');
    await drag(page, { files: [join(at, 'labels.gcode')] });
    await page.getByText('1 file is here').waitFor();
    expect(await list.allTextContents()).toEqual([`labels.gcode, ${LABELS.length} bytes`]);
    await drag(page, { files: [join(at, 'more')] });
    await page.getByText('2 files are here').waitFor();
    expect((await list.allTextContents())[1]).toMatch(/^deep\/plate\.svg, /);
    await drag(page, { files: [], items: [{ mimeType: 'text/plain', data: 'no file' }] });
    await page.getByText('What was dropped is no file').waitFor();
    expect({ complaints, requests }).toEqual({ complaints: [], requests: [] });
    await page.close();
  });

  it('has the work done by a worker that runs its own text', async () => {
    const at = folder({ 'labels.gcode': LABELS });
    const { page, complaints } = await openPage();
    expect(page.workers().map((worker) => worker.url().slice(0, 5))).toEqual(['blob:']);
    await give(page, join(at, 'labels.gcode'));
    await describeAll(page);
    await press(page, 'Check');
    await page.getByRole('heading', { name: 'What are these lines for?' }).waitFor();
    expect(complaints).toEqual([]);
    await page.close();
  });

  it('works where the browser starts no worker', async () => {
    const at = folder({ 'labels.gcode': LABELS });
    const { page, complaints } = await openPage({}, 'delete window.Worker');
    expect(page.workers()).toEqual([]);
    await give(page, join(at, 'labels.gcode'));
    await describeAll(page);
    await press(page, 'Check');
    await press(page, 'All of them must part the sheet');
    await report(page);
    expect(complaints).toEqual([]);
    await page.close();
  });

  it('takes all that must part as the command line does: the same JSON, to the byte', async () => {
    const at = folder({ 'labels.gcode': LABELS });
    const { page } = await openPage();
    await give(page, join(at, 'labels.gcode'));
    await describeAll(page);
    const profile = await saved(page, 'Save the profile');
    await press(page, 'Check');
    await press(page, 'All of them must part the sheet');
    await report(page);
    writeFileSync(join(at, profile.name), profile.text);
    const filled = ['--machine', 'co2-60w', '--material', 'birch-plywood', '--thickness', '3 mm', '--shop', '.'];
    const { stdout } = await kerflint(at, ['check', '.', '--today', TODAY, '--format', 'json', ...filled]);
    expect((await saved(page, 'Save the result as JSON')).text).toBe(apartFromJudgedBy(stdout));
    expect(JSON.parse(stdout).verdict).toBe('fail');
    const sidecar = await saved(page, 'Save the sidecar of labels.gcode');
    const drafted = await kerflint(at, ['init', 'labels.gcode', ...filled, '--stdout']);
    expect(sidecar.text).toBe(withoutEditorLine(drafted.stdout));
    expect(sidecar.text).toContain('program: { comment: labels }');
    await page.close();
  });

  it('judges a line that is only decoration as a line, and writes profile and sidecar that check accepts', async () => {
    const at = folder({ 'labels.gcode': LABELS });
    const { page, complaints } = await openPage();
    await give(page, join(at, 'labels.gcode'));
    await describeAll(page);
    const profile = await saved(page, 'Save the profile');
    await press(page, 'Check');
    const questions = page.locator('fieldset.recipe');
    await questions.first().waitFor();
    expect(await questions.locator('legend').allTextContents()).toEqual([
      '1 cut, 100 mm, once at 12 W, 100 mm/s: must it part the sheet?',
      '4 cuts, 160 mm, once at 48 W, 10 mm/s: must these part the sheet?',
    ]);
    await page.screenshot({ path: shot('page-questions'), fullPage: true });
    await questions.nth(0).getByLabel('No: only a line').check();
    await press(page, 'Check with these answers');
    await expect.poll(() => questions.nth(1).getAttribute('aria-invalid')).toBe('true');
    await expect.poll(() => questions.nth(1).getByText('Say what these lines are for.').isVisible()).toBe(true);
    await questions.nth(1).getByLabel('Yes: part it').check();
    await press(page, 'Check with these answers');
    await report(page);
    const sidecar = await saved(page, 'Save the sidecar of labels.gcode');
    expect([profile.name, sidecar.name]).toEqual(['co2-60w.machine.yaml', 'labels.job.yaml']);
    for (const { name, text } of [profile, sidecar]) writeFileSync(join(at, name), text);
    const { stdout, code } = await kerflint(at, ['check', '.', '--shop', '.', '--today', TODAY, '--format', 'json']);
    expect((await saved(page, 'Save the result as JSON')).text).toBe(apartFromJudgedBy(stdout));
    const result = JSON.parse(stdout);
    expect({ code, verdict: result.verdict, incomplete: result.jobs[0].incomplete }).toEqual({
      code: 0,
      verdict: 'pass',
      incomplete: [],
    });
    expect(complaints).toEqual([]);
    await page.close();
  });

  it('writes the bytes of init: the profile, and the sidecar of artwork', async () => {
    const at = folder({ 'plate.svg': PLATE });
    const { page } = await openPage();
    await give(page, join(at, 'plate.svg'));
    await describeAll(page);
    await page.getByLabel('Source').selectOption('diode');
    await rated(page).fill('10');
    await page.getByLabel(/^Focal length/).fill('40 mm');
    await page.getByLabel('Its name in jobs').fill('shelf-diode');
    const profile = await saved(page, 'Save the profile');
    const facts = ['--source', 'diode', '--rated', '10 W', '--lens', '40 mm', '--bed', '600 x 400 mm'];
    const machine = ['--machine', 'shelf-diode'];
    const asInit = await kerflint(at, ['init', ...machine, ...facts, '--power-word', 'S 1000', '--stdout']);
    expect(asInit.code).toBe(0);
    expect(profile.text).toBe(withoutEditorLine(asInit.stdout));
    await press(page, 'Check');
    await report(page);
    const sidecar = await saved(page, 'Save the sidecar of plate.svg');
    writeFileSync(join(at, profile.name), profile.text);
    const sheet = ['--material', 'birch-plywood', '--thickness', '3 mm', '--shop', '.', '--stdout'];
    const { stdout } = await kerflint(at, ['init', 'plate.svg', ...machine, ...sheet]);
    expect(sidecar.text).toBe(withoutEditorLine(stdout));
    await page.close();
  });

  it('shows what is taken for the rest of the machine, and another beam for a diode', async () => {
    const { page } = await openPage();
    await rated(page).fill('10');
    await page.getByLabel(/^Focal length/).fill('40');
    await page.getByLabel('Bed', { exact: true }).fill('400 x 400');
    const taken = page.locator('#taken-summary');
    await expect
      .poll(() => taken.textContent())
      .toBe('Taken where nobody has measured: beam.diameter 5 mm and 13 more');
    await page.getByLabel('Source').selectOption('diode');
    await expect.poll(() => taken.textContent()).toMatch(/^Taken where nobody has measured: beam\.diameter 5 mm/);
    await page.getByLabel(/^Focal length/).fill('32 mm');
    await expect.poll(() => taken.textContent()).toMatch(/beam\.diameter 4 mm/);
    await expect.poll(() => page.locator('#taken-rows').textContent()).toContain('0.45 um');
    await page.close();
  });

  it('says what is wrong beside its field, on a phone too, and takes the focus there', async () => {
    const at = folder({ 'plate.svg': PLATE });
    const { page, complaints } = await openPage({ viewport: { width: 360, height: 740 } });
    await press(page, 'Check');
    await expect.poll(() => page.locator('#files-error').textContent()).toMatch(/^Drop or choose files/);
    await give(page, join(at, 'plate.svg'));
    await press(page, 'Check');
    const seen = async (field: string) => {
      const error = page.locator(`#${field}-error`);
      await error.waitFor();
      await expect.poll(() => page.locator(`#${field}`).getAttribute('aria-invalid')).toBe('true');
      const focused = (await page.evaluate('document.activeElement.id')) as string;
      const box = (await error.boundingBox())!;
      expect({ field, focused, inside: box.x >= 0 && box.x + box.width <= 360 && box.y >= 0 && box.y < 740 }).toEqual({
        field,
        focused: field,
        inside: true,
      });
      return error.textContent();
    };
    expect(await seen('rated')).toBe('Give the power that the seller states, such as 40 W.');
    await describeAll(page);
    await rated(page).fill('sixty');
    await page.getByLabel('Bed', { exact: true }).fill('20 x 12');
    await press(page, 'Check');
    expect(await seen('rated')).toMatch(/^"sixty" is not a power/);
    expect(await page.locator('#bed-error').textContent()).toMatch(/^"20 x 12" has no unit/);
    await describeAll(page);
    await page.getByLabel(/^Thickness/).fill('3');
    await press(page, 'Check');
    expect(await seen('thickness')).toMatch(/^"3" has no unit/);
    await page.getByLabel(/^Thickness/).fill('3 mm');
    await material(page).fill('plywood');
    await press(page, 'Check');
    expect(await seen('material')).toBe(
      '"plywood" does not say which plywood it is. Choose:birch plywood (birch throughout, glued for indoors)poplar plywood (poplar throughout: soft and light)construction plywood (glued for outdoors: glue, filler and patches stop the beam; extract)',
    );
    await page.screenshot({ path: shot('page-errors-phone'), fullPage: true });
    await page.getByRole('button', { name: /^birch plywood/ }).click();
    await expect.poll(() => material(page).inputValue()).toBe('birch-plywood');
    await expect.poll(() => page.locator('#material-error').isVisible()).toBe(false);
    await press(page, 'Check');
    await report(page);
    expect(complaints).toEqual([]);
    await page.close();
  });

  it('finds materials by any of their names, with their hazard, by keyboard', async () => {
    const { page } = await openPage();
    await material(page).fill('Sperrholz Birke');
    const options = page.getByRole('listbox', { name: 'Materials' }).getByRole('option');
    await options.first().waitFor();
    expect(await options.first().textContent()).toBe('birch plywood birch-plywood, also Sperrholz Birkeusual');
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('Enter');
    await expect.poll(() => material(page).inputValue()).toBe('birch-plywood');
    await material(page).fill('PVC');
    await expect.poll(() => options.first().textContent()).toContain('never cut');
    await expect.poll(() => page.locator('#hazard').textContent()).toMatch(/^never cut: /);
    await page.keyboard.press('Escape');
    await expect.poll(() => options.count()).toBe(0);
    await page.close();
  });

  it('remembers the machine only while the box is ticked, and forgets it', async () => {
    const { page } = await openPage();
    await describeMachine(page);
    const kept = () => page.evaluate('localStorage.length');
    expect(await kept()).toBe(0);
    await page.getByLabel('Remember this machine').check();
    await rated(page).fill('55 W');
    expect(await kept()).toBe(1);
    await openAnew(page);
    await expect.poll(() => rated(page).inputValue()).toBe('55 W');
    await expect.poll(() => page.getByLabel('Remember this machine').isChecked()).toBe(true);
    await press(page, 'Forget');
    expect(await kept()).toBe(0);
    await expect.poll(() => page.getByLabel('Remember this machine').isChecked()).toBe(false);
    await openAnew(page);
    await expect.poll(() => rated(page).inputValue()).toBe('');
    await page.close();
  });

  it('remembers a machine by its profile', async () => {
    const at = folder();
    const facts = ['--source', 'co2', '--rated', '40 W', '--lens', '2 in', '--bed', '300 x 200 mm'];
    await kerflint(at, ['init', '--machine', 'den-40w', ...facts]);
    const { page } = await openPage();
    await give(page, join(at, 'machines/den-40w.machine.yaml'));
    await page.getByLabel('Machine', { exact: true }).selectOption('den-40w');
    await page.getByLabel('Remember this machine').check();
    await page.getByText('Kept in this browser').waitFor();
    await openAnew(page);
    await expect.poll(() => page.getByLabel('Machine', { exact: true }).inputValue()).toBe('den-40w');
    await expect.poll(() => page.locator('#files-list').textContent()).toMatch(/^den-40w\.machine\.yaml/);
    await page.close();
  });

  it('says where storage is refused, and goes on', async () => {
    const at = folder({ 'plate.svg': PLATE });
    const refuses = `Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('no', 'SecurityError'); } })`;
    const { page, complaints } = await openPage({}, refuses);
    await expect.poll(() => page.locator('#memory').textContent()).toMatch(/^This browser keeps nothing/);
    await page.getByLabel('Remember this machine').click();
    await expect.poll(() => page.getByLabel('Remember this machine').isChecked()).toBe(false);
    await give(page, join(at, 'plate.svg'));
    await describeAll(page);
    await press(page, 'Check');
    await report(page);
    expect(complaints).toEqual([]);
    await page.close();
  });

  it('leads back from report to questions to form with all that was given', async () => {
    const at = folder({ 'labels.gcode': LABELS });
    const { page } = await openPage();
    await give(page, join(at, 'labels.gcode'));
    await describeAll(page);
    await press(page, 'Check');
    await page.locator('fieldset.recipe').nth(0).getByLabel('No: only a line').check();
    await press(page, 'All of them must part the sheet');
    await report(page);
    await page.goBack();
    await page.getByRole('heading', { name: 'What are these lines for?' }).waitFor();
    await expect
      .poll(() => page.locator('fieldset.recipe').nth(0).getByLabel('No: only a line').isChecked())
      .toBe(true);
    await page.goBack();
    await page.getByRole('heading', { name: 'What will the beam do to the sheet?' }).waitFor();
    await expect.poll(() => rated(page).inputValue()).toBe('60 W');
    await expect.poll(() => page.locator('#status').textContent()).toMatch(/^1 file is here/);
    await page.goForward();
    await page.goForward();
    await report(page);
    await page.goBack();
    await page.goBack();
    await page.reload();
    await expect.poll(() => page.getByLabel(/^Thickness/).inputValue()).toBe('3 mm');
    await page.close();
  });

  it.each([
    ['1280', { viewport: { width: 1280, height: 900 } }],
    ['360', { viewport: { width: 360, height: 740 } }],
  ] as const)(
    'has no violation that axe-core finds in form, errors, list, questions and report, and no wider page: %s',
    async (name, options) => {
      const at = folder({ 'labels.gcode': LABELS });
      const { page } = await openPage({ ...options, bypassCSP: true });
      const look = async (state: string) => {
        await page.screenshot({ path: shot(`page-${state}-${name}`), fullPage: true });
        const wider = 'document.documentElement.scrollWidth - document.documentElement.clientWidth';
        expect({ state, violations: await violationsNow(page), wider: await page.evaluate(wider) }).toEqual({
          state,
          violations: [],
          wider: 0,
        });
      };
      await look('form');
      await give(page, join(at, 'labels.gcode'));
      await press(page, 'Check');
      await look('errors');
      await describeAll(page);
      await material(page).fill('a');
      await page.getByRole('listbox', { name: 'Materials' }).waitFor();
      await look('list');
      await material(page).fill('birch-plywood');
      await page.keyboard.press('Escape');
      await page.locator('#taken summary').click();
      await look('machine');
      await press(page, 'Check');
      await page.locator('fieldset.recipe').first().waitFor();
      await look('questions');
      await press(page, 'All of them must part the sheet');
      await report(page);
      await look('report');
      await page.close();
    },
  );
});
