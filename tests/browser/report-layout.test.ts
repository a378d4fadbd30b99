// How the report is laid out where it is read: on a screen, on a phone, on paper. Chromium measures.
import { copyFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { RunResult } from '../../src/findings/result.ts';
import { fixed, formatChance, formatTime } from '../../src/units/format.ts';
import { demo, folder, kerflint, REPOSITORY } from '../cli/harness.ts';
import { violations } from './accessibility.ts';
import { chromiumIsThere, launch, needsChromium } from './chromium.ts';
import { open, shot } from './opened.ts';

const TODAY = '2026-11-25';
/** A4 less 12 mm on each side, at 96 px an inch. */
const PAPER = { width: 703, height: 1031 };
const CROWDED = ['many-parts', 'many-lenses', 'many-passes', 'long-names', 'big-coordinates'];

needsChromium();

describe.runIf(chromiumIsThere())('the report as it is laid out', () => {
  let browser: Browser;
  let four: string;
  let result: RunResult;
  beforeAll(async () => {
    browser = await launch();
    const at = demo();
    await kerflint(at, [
      'check',
      '.',
      '--today',
      TODAY,
      '--format',
      'html=report.html',
      '--format',
      'json=report.json',
    ]);
    // The folder of a test is gone after it; this report is read by several.
    four = join(mkdtempSync(join(tmpdir(), 'kerflint-layout-')), 'report.html');
    copyFileSync(join(at, 'report.html'), four);
    result = JSON.parse(readFileSync(join(at, 'report.json'), 'utf8')) as RunResult;
  });
  afterAll(async () => {
    rmSync(dirname(four), { recursive: true });
    await browser.close();
  });

  const ofOne = async (job: string): Promise<string> => {
    const at = demo();
    await kerflint(at, ['check', `${job}.job.yaml`, '--today', TODAY, '--format', 'html=report.html']);
    return join(at, 'report.html');
  };

  it('is no higher than 1,200 px a job where it is folded, at 1280 px', async () => {
    const { page } = await open(browser, four, { viewport: { width: 1280, height: 900 } });
    const heights = await numbers(
      page,
      `[...document.querySelectorAll('.job')].map((job) => job.getBoundingClientRect().height)`,
    );
    expect(heights).toHaveLength(4);
    for (const height of heights) expect(height).toBeLessThanOrEqual(1200);
    await page.screenshot({ path: shot('layout-1280'), fullPage: true });
    await page.close();
  });

  it('prints two pages a job at most, the second one its card, each with name and date', async () => {
    for (const [file, jobs] of [
      [four, 4],
      [await ofOne('weather-vane-hub'), 1],
    ] as const) {
      const { page } = await open(browser, file);
      expect(pagesOf(await page.pdf({ preferCSSPageSize: true }))).toBeLessThanOrEqual(2 * jobs);
      await page.setViewportSize(PAPER);
      await page.emulateMedia({ media: 'print' });
      const parts = (await page.evaluate(`[...document.querySelectorAll('.job')].map((job) => {
        const card = job.querySelector('.card');
        return {
          name: job.querySelector('h2').innerText, onCard: card.querySelector('h3').innerText,
          first: card.getBoundingClientRect().top - job.getBoundingClientRect().top,
          card: card.getBoundingClientRect().height, breaks: getComputedStyle(card).breakBefore,
        };
      })`)) as { name: string; onCard: string; first: number; card: number; breaks: string }[];
      expect(parts).toHaveLength(jobs);
      for (const { name, onCard, first, card, breaks } of parts) {
        expect(first).toBeLessThanOrEqual(PAPER.height);
        expect(card).toBeLessThanOrEqual(PAPER.height);
        expect(breaks).toBe('page');
        const [job = ''] = name.split(/\s/);
        for (const head of [name, onCard]) {
          expect(head).toContain(job);
          expect(head).toContain(TODAY);
        }
      }
      await page.close();
    }
  });

  it('shows before and after in the numbers of the JSON, the caution ahead of the change', async () => {
    const job = result.jobs.find(({ name }) => name === 'weather-vane-hub')!;
    const { page } = await open(browser, four);
    const section = page.getByRole('region', { name: 'weather-vane-hub', exact: false }).first();
    const [before, after] = await section.locator('.section').all();
    const numbersOf = ({ time, waste }: Pick<typeof job, 'time' | 'waste'>) => [
      formatTime(time!.totalS),
      fixed(waste!.expected, 2),
      fixed(waste!.atStake, 2),
    ];
    const least = Math.min(...job.cuts.map((cut) => cut.throughProbability!));
    for (const text of [...numbersOf(job), formatChance(least)]) expect(await before!.innerText()).toContain(text);
    const cure = job.cure!;
    for (const text of [...numbersOf(cure), formatChance(cure.throughProbability), 'not in this file'])
      expect((await after!.innerText()).replace('Not', 'not')).toContain(text);
    const whole = await section.innerText();
    expect(whole.indexOf('Never leave a running laser')).toBeGreaterThan(-1);
    expect(whole.indexOf('Never leave a running laser')).toBeLessThan(whole.indexOf('With the change'));
    const card = await section.locator('.card').innerText();
    const [pass] = cure.cuts[0]!.passes;
    expect(card).toContain('Not in this file');
    expect(card).toContain(`${pass!.speedMmPerS} mm/s · ${cure.cuts[0]!.passes.length} passes`);
    expect(card.indexOf('Never leave')).toBeLessThan(card.indexOf('Not in this file'));
    await page.close();
  });

  it('has no change for a job that nothing of its recipe stops', async () => {
    const { page } = await open(browser, await ofOne('gate-sign'));
    expect(await page.locator('.section').count()).toBe(1);
    expect(await page.locator('body').textContent()).not.toContain('ot in this file');
    await page.close();
  });

  it.each(['screen', 'print'] as const)('tells no finding three times: %s', async (media) => {
    for (const file of [four, await ofOne('gate-sign')]) {
      const { page } = await open(browser, file);
      await page.evaluate(`document.querySelectorAll('details').forEach((one) => { one.open = true; })`);
      await page.emulateMedia({ media });
      const text = (await page.locator('body').innerText()).replaceAll(/\s+/g, ' ');
      const messages = await page.locator('.message').allTextContents();
      for (const message of messages) {
        const [first = ''] = message.split(/\. /);
        const told = text.toLowerCase().split(first.toLowerCase()).length - 1;
        expect(told, first).toBeLessThanOrEqual(2);
        if (media === 'screen') expect(told, first).toBeGreaterThanOrEqual(1);
      }
      expect(messages.length).toBeGreaterThan(0);
      await page.close();
    }
  });

  it('has a row on the card for each recipe of a file without a sidecar, and a box to tick for each check', async () => {
    const at = folder({
      'three.gcode':
        'G21 G90\nM8\nG0 X20 Y30\nM4 S800 F600\nG1 X80\nM5\nG0 X20 Y40\nM4 S600 F900\nG1 X80\nM5\nG0 X20 Y50\nM4 S500 F1200\nG1 X80\nM5\nM9\nM2\n',
      'shed-60w.machine.yaml': readFileSync(join(REPOSITORY, 'examples/machines/shed-60w.machine.yaml')),
    });
    const bare = ['--machine', 'shed-60w', '--material', 'birch-plywood', '--thickness', '3 mm', '--shop', '.'];
    await kerflint(at, ['check', 'three.gcode', ...bare, '--format', 'html=report.html']);
    const { page } = await open(browser, join(at, 'report.html'));
    const card = page.locator('.card');
    expect(await card.locator('tbody tr').count()).toBe(3);
    const boxes = card.getByRole('checkbox');
    expect(await boxes.count()).toBeGreaterThan(4);
    await card.getByLabel(/^Extraction/).check();
    expect(await card.getByLabel(/^Extraction/).isChecked()).toBe(true);
    await page.close();
  });

  describe('with more than there is room for', () => {
    const crowded = async (job: string): Promise<string> => {
      const at = folder({});
      const files = join(REPOSITORY, 'fixtures/crowded');
      await kerflint(files, [
        'check',
        `${job}.job.yaml`,
        '--today',
        TODAY,
        '--format',
        `html=${join(at, 'report.html')}`,
      ]);
      return join(at, 'report.html');
    };

    it.each(CROWDED)(
      'no label of section or reach lies on another, and nothing is wider than its window: %s',
      async (job) => {
        const file = await crowded(job);
        for (const width of [1280, 360]) {
          const { page } = await open(browser, file, { viewport: { width, height: 800 } });
          await page.evaluate(`document.querySelectorAll('details').forEach((one) => { one.open = true; })`);
          expect(
            await numbers(page, '[document.documentElement.scrollWidth - document.documentElement.clientWidth]'),
          ).toEqual([0]);
          expect(await page.evaluate(OVERLAPS), `${job} at ${width}`).toEqual([]);
          expect(await page.evaluate(OUTSIDE), `${job} at ${width}`).toEqual([]);
          await page.locator('.job').screenshot({ path: shot(`crowded-${job}-${width}`) });
          await page.close();
        }
      },
    );

    it('a name of 190 characters stretches nothing, whatever bears it', async () => {
      const long = 'x'.repeat(190);
      // Ids of machines and lenses have 64 letters at most.
      const id = 'm'.repeat(64);
      const lens = 'l'.repeat(64);
      const machine = readFileSync(join(REPOSITORY, 'examples/machines/shed-60w.machine.yaml'), 'utf8');
      const at = folder({
        [`${long}.gcode`]: 'G21 G90\nM8\nG0 X20 Y30\nM4 S800 F1500\nG1 X80\nM5\nM9\nM2\n',
        [`${id}.machine.yaml`]: machine.replaceAll('shed-60w', id).replaceAll('2in', lens),
        [`${long}.job.yaml`]: `kerflint: 1\nmachine: ${id}\nlens: ${lens}\nmaterial: birch-plywood\nthickness: 6 mm\ntoolpath: ${long}.gcode\ntasks:\n  - { name: ${long}, aim: through, air: 1 bar }\n`,
      });
      const told = await kerflint(at, ['check', '.', '--shop', '.', '--today', TODAY, '--format', 'html=report.html']);
      expect(told.stderr).toBe('');
      for (const width of [1280, 360]) {
        const { page } = await open(browser, join(at, 'report.html'), { viewport: { width, height: 800 } });
        await page.evaluate(`document.querySelectorAll('details').forEach((one) => { one.open = true; })`);
        expect(await page.locator('.section').count()).toBeGreaterThan(0);
        expect(
          await numbers(page, '[document.documentElement.scrollWidth - document.documentElement.clientWidth]'),
        ).toEqual([0]);
        expect(await page.evaluate(OUTSIDE)).toEqual([]);
        expect(await page.evaluate(OVERLAPS)).toEqual([]);
        await page.close();
      }
    });
  });

  it.each([
    ['all that is folded open', {}, true],
    ['zoomed to 200 %', { viewport: { width: 640, height: 400 }, deviceScaleFactor: 2 }, true],
    ['dark and open', { colorScheme: 'dark' }, true],
  ] as const)('has no violation that axe-core finds: %s', async (_, options, opened) => {
    const text = readFileSync(four, 'utf8');
    const file = four.replace('report.html', 'opened.html');
    writeFileSync(file, opened ? text.replaceAll('<details ', '<details open ') : text);
    expect(await violations(browser, file, options)).toEqual([]);
  });
});

const numbers = (page: Page, expression: string): Promise<number[]> => page.evaluate(expression) as Promise<number[]>;

/** Pages of a PDF: its page objects. */
const pagesOf = (pdf: Buffer): number => [...pdf.toString('latin1').matchAll(/\/Type\s*\/Page[^s]/g)].length;

/** Pairs of words of one section or chart that lie on each other, as Chromium has laid them out. */
const OVERLAPS = `[...document.querySelectorAll('.section svg, .lenses svg, .reach svg')].flatMap((svg) => {
  const texts = [...svg.querySelectorAll('text')].map((text) => ({ text: text.textContent, box: text.getBoundingClientRect() }));
  return texts.flatMap((a, i) => texts.slice(i + 1).filter((b) =>
    a.box.left < b.box.right - 0.5 && b.box.left < a.box.right - 0.5 && a.box.top < b.box.bottom - 2 && b.box.top < a.box.bottom - 2,
  ).map((b) => a.text + ' / ' + b.text));
})`;

/** Words of one section or chart that reach out of it. */
const OUTSIDE = `[...document.querySelectorAll('.section svg, .lenses svg, .reach svg')].flatMap((svg) => {
  const around = svg.getBoundingClientRect();
  return [...svg.querySelectorAll('text')].filter((text) => {
    const box = text.getBoundingClientRect();
    return box.left < around.left - 1 || box.right > around.right + 1 || box.top < around.top - 1 || box.bottom > around.bottom + 1;
  }).map((text) => text.textContent);
})`;
