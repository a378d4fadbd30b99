// "What if" on the offline page, in Debian's Chromium and from disk. The command line is the judge of the numbers: it is given files with the
// same settings. axe-core (Deque) judges the accessibility.
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, BrowserContextOptions, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { folder, kerflint, REPOSITORY } from '../cli/harness.ts';
import { violationsNow } from './accessibility.ts';
import { chromiumIsThere, launch, needsChromium } from './chromium.ts';
import { type Opened, open, shot } from './opened.ts';

const TODAY = '2026-11-25';
const example = (name: string) => readFileSync(join(REPOSITORY, 'examples', name), 'utf8');
const SHOP = {
  '.kerflint.yaml': 'kerflint: 1\nmachines: [.]\n',
  'shed-60w.machine.yaml': example('machines/shed-60w.machine.yaml'),
};
/** The hub of the demo: acrylic that is cut too fast. */
const hub = (program: (text: string) => string, sidecar: (text: string) => string): string =>
  folder({
    ...SHOP,
    'weather-vane-hub.svg': example('weather-vane-hub.svg'),
    'hub.gcode': program(example('weather-vane-hub.gcode')),
    'hub.job.yaml': sidecar(example('weather-vane-hub.job.yaml').replace('weather-vane-hub.gcode', 'hub.gcode')),
  });
const same = (text: string) => text;

needsChromium();

describe.runIf(chromiumIsThere())('what if', () => {
  let browser: Browser;
  let home: string;
  beforeAll(async () => {
    browser = await launch();
    // The folder of a test is gone after it; the page is written once for all.
    home = mkdtempSync(join(tmpdir(), 'kerflint-what-if-'));
    await kerflint(home, ['page', '--out', 'kerflint.html']);
  });
  afterAll(async () => {
    rmSync(home, { recursive: true });
    await browser.close();
  });

  const checked = async (at: string, options: BrowserContextOptions = {}): Promise<Opened & { place: Locator }> => {
    const opened = await open(browser, join(home, 'kerflint.html'), options);
    const { page } = opened;
    await page.getByLabel('Today').fill(TODAY);
    await page.getByLabel('A whole folder').setInputFiles(at);
    await page.getByText('Nothing leaves this page').waitFor();
    await page.getByRole('button', { name: 'Check', exact: true }).click();
    const place = page.locator('.what-if').first();
    await place.locator('.compared, .soft').first().waitFor();
    return { ...opened, place };
  };
  const turned = (place: Locator, row: string) =>
    place
      .getByRole('row', { name: new RegExp(`^${row}`) })
      .getByRole('cell')
      .last()
      .textContent();
  const savedJson = async (page: Page): Promise<ReturnType<typeof JSON.parse>> => {
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Save what you turned as JSON' }).click(),
    ]);
    return JSON.parse(readFileSync(await download.path(), 'utf8'));
  };
  /** Until the answer to the last turn is there. */
  const says = (place: Locator, text: RegExp) =>
    place.getByRole('status').filter({ hasText: text }).waitFor({ state: 'attached' });

  it('gives the JSON of the command line for a program with the same settings', async () => {
    const { page, place, complaints, requests } = await checked(hub(same, same));
    const before = await turned(place, 'Likely to part');
    const speed = place.getByRole('slider', { name: 'Speed' });
    await speed.focus();
    // 4.5 mm/s, and one step of 0.1 mm/s at a time: 4.1 mm/s.
    for (let step = 0; step < 4; step++) await page.keyboard.press('ArrowLeft');
    await expect.poll(() => speed.getAttribute('aria-valuetext')).toBe('4.1 mm/s');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Home');
    await expect.poll(() => place.getByRole('slider', { name: 'Power' }).getAttribute('aria-valuetext')).toBe('10 %');
    await page.keyboard.press('End');
    await says(place, /likely to part, was/);
    expect(await turned(place, 'Likely to part')).not.toBe(before);
    await place.getByText(/^A check of it says: Do not run/).waitFor();

    const files = hub(
      (text) => text.replaceAll(/F270\b/g, 'F246'),
      (text) => text.replaceAll('4.5 mm/s', '4.1 mm/s'),
    );
    const { stdout } = await kerflint(files, ['check', '.', '--today', TODAY, '--format', 'json']);
    const [asked] = JSON.parse(stdout).jobs;
    const [tried] = (await savedJson(page)).jobs;
    // Remedies are sought on both sides, but the place of a finding in a turned program is its line as it was read.
    for (const key of ['cuts', 'time', 'waste', 'verdict', 'headline', 'lens', 'material', 'thicknessMm'] as const) {
      expect(tried[key], key).toEqual(asked[key]);
    }
    expect(tried.cuts[0].passes[0].speedMmPerS).toBe(4.1);
    expect({ complaints, requests }).toEqual({ complaints: [], requests: [] });
    await page.close();
  });

  it('tries what is proposed in one click, which then passes, and leads back in another', async () => {
    const { page, place } = await checked(hub(same, same));
    const rows = await place.locator('.compared').textContent();
    const back = place.getByRole('button', { name: "Back to the file's settings" });
    await expect.poll(() => back.isDisabled()).toBe(true);
    await place.getByRole('button', { name: /^Try: Make 3 passes/ }).click();
    await place.getByText(/^A check of it says: Found no error in what was checked/).waitFor();
    expect((await turned(place, 'Likely to part'))!.startsWith('9')).toBe(true);
    const section = place.locator('figure').last();
    await expect.poll(() => section.locator('svg').getAttribute('aria-label')).toMatch(/pass 3/);
    await place.screenshot({ path: shot('what-if-proposed') });
    await back.click();
    await says(place, /^6 % likely to part\./);
    expect(await place.locator('.compared').textContent()).toBe(rows);
    await page.close();
  });

  it('turns lens, sheet and material, and has no knob for what must never be cut', async () => {
    const { page, place } = await checked(hub(same, same));
    await place.getByLabel('Lens', { exact: true }).selectOption('4in');
    await place.getByRole('slider', { name: 'Thickness of the sheet' }).press('Home');
    await says(place, /over 99 % likely to part, was 6 %/i);
    expect(await turned(place, 'Lens')).toBe('4in');
    expect(await turned(place, 'Sheet')).toBe('1.5 mm cast acrylic');
    await place.getByLabel('Material', { exact: true }).selectOption('vinyl');
    await says(place, /^Vinyl must not be cut\./);
    expect(await place.getByRole('slider').count()).toBe(0);
    await page.close();

    const never = await checked(
      folder({
        ...SHOP,
        'plant-labels.job.yaml': example('plant-labels.job.yaml'),
        'plant-labels.svg': example('plant-labels.svg'),
      }),
    );
    await expect.poll(() => never.place.textContent()).toBe('Other settings cannot be tried: vinyl must not be cut.');
    await never.page.close();
  });

  it.each([
    ['light', { colorScheme: 'light' }],
    ['dark', { colorScheme: 'dark', reducedMotion: 'reduce' }],
    ['phone', { viewport: { width: 360, height: 740 } }],
  ] as const)(
    'has no violation that axe-core finds while something is turned, no wider than the screen: %s',
    async (name, options) => {
      const { page, place } = await checked(hub(same, same), { ...options, bypassCSP: true });
      await place.getByRole('button', { name: /^Try: Make 3 passes/ }).click();
      await says(place, /was 6 %/);
      expect(await violationsNow(page)).toEqual([]);
      const wider = await page.evaluate('document.documentElement.scrollWidth - document.documentElement.clientWidth');
      expect(wider).toBe(0);
      await place.screenshot({ path: shot(`what-if-${name}`) });
      await page.close();
    },
  );
});
