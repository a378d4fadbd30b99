// The HTML report as people meet it: in Debian's Chromium, from disk. axe-core (Deque) is the judge of its accessibility.
import { readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demo, folder, kerflint, REPOSITORY } from '../cli/harness.ts';
import { violations } from './accessibility.ts';
import { chromiumIsThere, launch, needsChromium } from './chromium.ts';
import { open, shot } from './opened.ts';

const JOBS = ['gate-sign', 'plant-labels', 'seed-tray-divider', 'weather-vane-hub'];
const MEGABYTE = 1024 * 1024;

needsChromium();

describe.runIf(chromiumIsThere())('the HTML report in a browser', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await launch();
  });
  afterAll(() => browser.close());

  const reportOf = async (job: string): Promise<string> => {
    const at = demo();
    const path = job === 'all' ? '.' : `${job}.job.yaml`;
    await kerflint(at, ['check', path, '--today', '2026-11-25', '--format', 'html=report.html']);
    return join(at, 'report.html');
  };

  /** A hundred rings of three hundred moves each, so wavy that simplifying leaves most of them. */
  const reportOfRings = async (): Promise<string> => {
    const ring = (n: number) =>
      Array.from({ length: 300 }, (_, i) => {
        const [angle, r] = [(i / 300) * 2 * Math.PI, 6 + 2 * (i % 2)];
        const x = 20 + (n % 10) * 25 + r * Math.cos(angle);
        const y = 20 + Math.floor(n / 10) * 25 + r * Math.sin(angle);
        return `${i === 0 ? 'G0' : 'G1'} X${x.toFixed(3)} Y${y.toFixed(3)}`;
      }).join('\n');
    const rings = Array.from({ length: 100 }, (_, n) => ring(n)).join('\n');
    const at = folder({
      'rings.gcode': `G21\nG90\nF600\nM3 S800\n${rings}\nM5\nM2\n`,
      'shed-60w.machine.yaml': readFileSync(join(REPOSITORY, 'examples/machines/shed-60w.machine.yaml')),
    });
    const bare = ['--machine', 'shed-60w', '--material', 'birch-plywood', '--thickness', '3 mm', '--shop', '.'];
    await kerflint(at, ['check', 'rings.gcode', ...bare, '--format', 'html=report.html']);
    return join(at, 'report.html');
  };

  for (const job of JOBS) {
    it(`opens ${job} from disk without a complaint or a request, under 2 MB`, async () => {
      const file = await reportOf(job);
      expect(statSync(file).size).toBeLessThan(2 * MEGABYTE);
      const { page, complaints, requests } = await open(browser, file);
      await page.screenshot({ path: shot(job), fullPage: true });
      expect(await page.getByRole('heading', { level: 2, name: job }).count()).toBe(1);
      expect({ complaints, requests }).toEqual({ complaints: [], requests: [] });
      await page.close();
    });
  }

  it('tells verdict, a pinned finding and its source line by role and name', async () => {
    const { page } = await open(browser, await reportOf('gate-sign'));
    await expect
      .poll(() => page.getByRole('heading', { level: 1 }).textContent())
      .toMatch(/^Do not run: the head stands still/);
    const pin = page.getByRole('link', { name: /^Finding 1, error: The head stands still/ });
    await pin.focus();
    await page.keyboard.press('Enter');
    const row = page.locator('#finding-1');
    await expect.poll(() => row.isVisible()).toBe(true);
    expect(page.url()).toMatch(/#finding-1$/);
    await expect.poll(() => row.locator('mark').textContent()).toBe('22 G4 P1.5 (let the smoke clear)');
    await row.getByRole('link', { name: 'show on the map' }).click();
    expect(page.url()).toMatch(/#job-1-pin-1$/);
    await page.close();
  });

  it('zooms by button, key and wheel, pans by drag, and shows the whole sheet again', async () => {
    const { page } = await open(browser, await reportOf('weather-vane-hub'));
    const map = page.getByRole('group', { name: /^Sheet map/ });
    const view = async () => (await map.getAttribute('viewBox'))!.split(' ').map(Number);
    const whole = await view();
    await page.getByRole('button', { name: 'Zoom in' }).click();
    const closer = await view();
    expect(closer[2]).toBeCloseTo(whole[2]! / 1.5, 3);
    await map.focus();
    await page.keyboard.press('+');
    expect((await view())[2]).toBeLessThan(closer[2]!);
    const before = await view();
    await page.keyboard.press('ArrowRight');
    expect((await view())[0]).toBeGreaterThan(before[0]!);
    await map.hover();
    await page.mouse.wheel(0, -240);
    await expect.poll(async () => (await view())[2]).toBeLessThan(before[2]!);
    const wheeled = await view();
    const box = (await map.boundingBox())!;
    await page.mouse.move(box.x + 200, box.y + 200);
    await page.mouse.down();
    await page.mouse.move(box.x + 260, box.y + 240, { steps: 4 });
    await page.mouse.up();
    expect((await view())[0]).toBeLessThan(wheeled[0]!);
    // Drawn at 100 units a mm from the sheet's upper left corner, 150 mm up.
    const [x, y, width, height] = (await view()) as [number, number, number, number];
    const told = /X (\S+) to (\S+), Y (\S+) to (\S+) mm/.exec((await page.locator('.shown').textContent())!)!;
    for (const [i, mm] of [x, x + width, 15000 - y - height, 15000 - y].entries())
      expect(Number(told[i + 1])).toBeCloseTo(mm / 100, 0);
    await page.screenshot({ path: shot('zoomed') });
    await page.keyboard.press('0');
    expect(await view()).toEqual(whole);
    await expect.poll(() => page.locator('.shown').textContent()).toBe('');
    await page.close();
  });

  it('shows a heavy map at the same place while it slides and once it rests', async () => {
    const { page } = await open(browser, await reportOfRings());
    const place = (then: string) =>
      page.evaluate(`(() => {
        ${then}
        const { x, y, width } = document.querySelector('#job-1-path-1').getBoundingClientRect();
        const { transform } = document.querySelector('.view svg').style;
        return { slides: transform !== '', x, y, width };
      })()`) as Promise<{ slides: boolean; x: number; y: number; width: number }>;
    const whole = await place('');
    const sliding = await place(`
      document.querySelector('[data-zoom=in]').click();
      document.querySelector('.view svg').dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowRight' }));`);
    await page.locator('.view svg[style*=transform]').waitFor({ state: 'detached' });
    const resting = await place('');
    expect([whole.slides, sliding.slides, resting.slides]).toEqual([false, true, false]);
    expect(sliding.width / whole.width).toBeCloseTo(1.5, 2);
    for (const key of ['x', 'y', 'width'] as const) expect(Math.abs(resting[key] - sliding[key])).toBeLessThan(1);
    await page.close();
  });

  it('tells of a cut under the pointer and under the keyboard', async () => {
    const { page } = await open(browser, await reportOf('weather-vane-hub'));
    const told = page.locator('.told');
    const rim = page.getByRole('link', { name: /^Cut 2, rim/ });
    await rim.focus();
    await expect
      .poll(() => told.textContent())
      .toMatch(/^Cut 2, rim: 1 pass.*depth .* mm.*weather-vane-hub\.gcode:24$/);
    // The left edge of the first hole's box lies on its outline.
    const box = (await page.locator('#job-1-path-1').boundingBox())!;
    const rimBox = (await page.locator('#job-1-path-2').boundingBox())!;
    await page.mouse.move(rimBox.x + 3, rimBox.y + rimBox.height / 2);
    await expect.poll(() => told.textContent()).toMatch(/^Piece 6 of 6: .*line 24\. Cut 2, rim/);
    await page.mouse.move(box.x + 2, box.y + 6);
    await expect.poll(() => told.textContent()).toMatch(/^Piece \d of 6: .*Cut 1, holes/);
    await page.close();
  });

  it('tells at the top, for each job that must not run, what is wrong, where and what to do', async () => {
    const { page } = await open(browser, await reportOf('all'));
    const jobs = page.getByRole('navigation', { name: 'Jobs, the worst first' }).getByRole('listitem');
    const texts = await jobs.allTextContents();
    expect(texts.map((text) => text.split(' ')[0])).toEqual([
      'weather-vane-hub',
      'gate-sign',
      'plant-labels',
      'seed-tray-divider',
    ]);
    expect(texts[1]).toMatch(
      /Do not run .*Error \d+ gate-sign\.gcode:22:1 The head stands still .* Switch the beam off/,
    );
    expect(texts[3]).not.toMatch(/Error/);
    await jobs
      .nth(1)
      .getByRole('link', { name: /^Error/ })
      .click();
    await expect.poll(() => page.locator('tr:target').textContent()).toContain('gate-sign.gcode:22:1');
    await page.close();
  });

  it('filters the findings by severity, rule and job', async () => {
    const { page } = await open(browser, await reportOf('all'));
    await page.locator('#findings summary').click();
    const rows = page.locator('table.findings tbody tr:visible');
    const all = await rows.count();
    await page.locator('.filters').getByLabel('Severity').selectOption('error');
    const errors = await rows.count();
    expect(errors).toBeGreaterThan(0);
    expect(errors).toBeLessThan(all);
    await page.locator('.filters').getByLabel('Job').selectOption('gate-sign');
    expect(await rows.count()).toBe(1);
    await expect.poll(() => page.locator('.filters output').textContent()).toBe(`1 of ${all} findings`);
    await page.close();
  });

  it('is walked by keyboard in reading order, from the skip link to the cuts', async () => {
    const { page } = await open(browser, await reportOf('weather-vane-hub'));
    await page.keyboard.press('Tab');
    expect(await focused(page)).toBe('To the report');
    const names: string[] = [];
    for (let i = 0; i < 16; i++) {
      await page.keyboard.press('Tab');
      names.push(await focused(page));
    }
    const order = ['Error 1', 'Zoom in', 'Sheet map of weather-vane-hub'].map((name) => names.indexOf(name));
    expect(order).toEqual([...order].sort((a, b) => a - b));
    expect(order).not.toContain(-1);
    expect(names.some((name) => name.startsWith('Cut '))).toBe(true);
    await page.close();
  });

  it.each([
    ['light', { colorScheme: 'light' }],
    ['dark', { colorScheme: 'dark' }],
    ['phone', { viewport: { width: 360, height: 740 } }],
  ] as const)('has no serious violation that axe-core finds: %s', async (name, options) => {
    const file = await reportOf('all');
    expect(await violations(browser, file, options)).toEqual([]);
    const { page } = await open(browser, file, options);
    await page.screenshot({ path: shot(`all-${name}`), fullPage: true });
    const wider = await page.evaluate('document.documentElement.scrollWidth - document.documentElement.clientWidth');
    expect(wider).toBe(0);
    await page.close();
  });

  it('reads without its script: verdict, map, findings and card are there, and no tool that would not work', async () => {
    const { page } = await open(browser, await reportOf('weather-vane-hub'), { javaScriptEnabled: false });
    await expect.poll(() => page.getByRole('heading', { level: 3, name: 'Sheet map' }).isVisible()).toBe(true);
    await expect.poll(() => page.getByRole('heading', { level: 3, name: /^Set-up card/ }).isVisible()).toBe(true);
    await expect.poll(() => page.getByRole('button', { name: 'Zoom in' }).count()).toBe(0);
    await expect.poll(() => page.getByLabel('Severity').isVisible()).toBe(false);
    await page.close();
  });

  it('gives no setting on the card of a material that must never be cut', async () => {
    const { page } = await open(browser, await reportOf('plant-labels'));
    const card = page.getByRole('region', { name: 'Set-up card: plant-labels' });
    await expect.poll(() => card.locator('.stop').textContent()).toMatch(/^Vinyl must not be cut: .*PVC/);
    expect(await card.getByRole('table').count()).toBe(0);
    expect(await card.textContent()).not.toMatch(/mm\/s|\d %|\d W/);
    await page.close();
  });

  it('prints the set-up card on one page of A4', async () => {
    const { page } = await open(browser, await reportOf('seed-tray-divider'));
    // A4 less 12 mm on each side, at 96 px per inch.
    await page.setViewportSize({ width: 703, height: 1031 });
    await page.emulateMedia({ media: 'print' });
    const card = page.locator('.card');
    expect((await card.boundingBox())!.height).toBeLessThan(1031);
    await card.screenshot({ path: shot('card-print') });
    await page.close();
  });
});

function focused(page: Page): Promise<string> {
  return page.evaluate(
    `(() => { const at = document.activeElement; return at.getAttribute('aria-label') ?? at.textContent ?? ''; })()`,
  ) as Promise<string>;
}
