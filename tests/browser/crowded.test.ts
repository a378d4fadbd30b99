// Five jobs with more of everything than there is room for: no text lies on another in any figure, and none is wider than its window.
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { folder, kerflint, REPOSITORY } from '../cli/harness.ts';
import { chromiumIsThere, launch, needsChromium } from './chromium.ts';
import { open, shot } from './opened.ts';

const CROWDED = join(REPOSITORY, 'fixtures/crowded');
const JOBS = readdirSync(CROWDED)
  .filter((name) => name.endsWith('.job.yaml'))
  .map((name) => name.slice(0, -'.job.yaml'.length));
const WIDTHS = [1280, 360];
const WITH_SCRIPT = [true, false];
const CASES = JOBS.flatMap((job) =>
  WIDTHS.flatMap((width) => WITH_SCRIPT.map((scripted) => [job, width, scripted ? 'with' : 'without'] as const)),
);
/** Boxes of letters hold their ascenders: they may touch by this much, px, before ink meets ink. */
const TOUCH_PX = 1;

needsChromium();

it('there are five crowded jobs', () => {
  expect(JOBS).toHaveLength(5);
});

describe.runIf(chromiumIsThere())('a crowded job', () => {
  let browser: Browser;
  const reports = new Map<string, string>();
  beforeAll(async () => {
    browser = await launch();
  });
  afterAll(() => browser.close());

  const reportOf = async (job: string): Promise<string> => {
    const at = folder();
    const file = join(at, 'report.html');
    await kerflint(CROWDED, ['check', `${job}.job.yaml`, '--today', '2026-11-25', '--format', `html=${file}`]);
    reports.set(job, file);
    return file;
  };

  it.each(CASES)(
    '%s at %i px, %s its script, has no label on another, and is no wider than its window',
    async (job, width, how) => {
      const { page } = await open(browser, await reportOf(job), {
        viewport: { width, height: 900 },
        javaScriptEnabled: how === 'with',
      });
      await page.evaluate(OPEN_ALL);
      await page.screenshot({ path: shot(`crowded-${job}-${width}-${how}`), fullPage: true });
      expect(await overlaps(page)).toEqual([]);
      expect(await page.evaluate('document.documentElement.scrollWidth - document.documentElement.clientWidth')).toBe(
        0,
      );
      expect(await wider(page)).toEqual([]);
      await page.close();
    },
  );

  it.each(JOBS)('%s has no label on another while one looks closer, or at the bed', async (job) => {
    const { page } = await open(browser, await reportOf(job), { viewport: { width: 1280, height: 900 } });
    for (const name of ['The job', 'Zoom in', 'Zoom in', 'Zoom in', 'Zoom in', 'Next piece', 'Whole bed']) {
      const button = page.getByRole('button', { name });
      if ((await button.count()) > 0) await button.click();
      expect(await overlaps(page), name).toEqual([]);
    }
    await page.close();
  });

  /** Pairs of texts of one figure whose boxes lie on each other. */
  function overlaps(page: Page): Promise<string[]> {
    return page.evaluate(`(() => {
      const found = [];
      for (const svg of document.querySelectorAll('svg.pic')) {
        if (svg.parentElement.closest('svg')) continue;
        const layers = svg.closest('.view')?.querySelectorAll(':scope > svg') ?? [svg];
        if (layers[0] !== svg) continue;
        const window = svg.getBoundingClientRect();
        const texts = [...layers].flatMap((layer) => [...layer.querySelectorAll('text')])
          .map((text) => ({ says: text.textContent, box: text.getBoundingClientRect() }))
          .filter(({ box }) => box.width > 0 && box.right > window.left && box.left < window.right && box.bottom > window.top && box.top < window.bottom);
        for (const [i, a] of texts.entries())
          for (const b of texts.slice(i + 1)) {
            const across = Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left);
            const down = Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top);
            // The letters take about two thirds of the height of their box.
            const ink = Math.min(a.box.height, b.box.height) * 0.34;
            if (across > ${TOUCH_PX} && down > ink) found.push(svg.getAttribute('aria-label') + ': "' + a.says + '" on "' + b.says + '"');
          }
      }
      return found;
    })()`) as Promise<string[]>;
  }

  /** Texts of figures that reach beyond their picture. */
  function wider(page: Page): Promise<string[]> {
    return page.evaluate(`[...document.querySelectorAll('svg.pic text')].filter((text) => {
      const box = text.getBoundingClientRect();
      const around = text.ownerSVGElement.getBoundingClientRect();
      return box.width > 0 && text.closest('.view') === null && (box.left < around.left - 1 || box.right > around.right + 1);
    }).map((text) => text.textContent)`) as Promise<string[]>;
  }
});

/** What is folded is looked at as well. */
const OPEN_ALL = `for (const one of document.querySelectorAll('details')) one.open = true`;
