// Pictures that stand alone are drawn by programs of all kinds. resvg (https://github.com/linebender/resvg), which is no browser, must
// show as much ink of them as Chromium does; the words are left out, since each has its own fonts.
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Resvg } from '@resvg/resvg-js';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { chromiumIsThere, launch, needsChromium } from '../browser/chromium.ts';
import { open } from '../browser/opened.ts';
import { folder, kerflint, REPOSITORY } from '../cli/harness.ts';

const DOCS = join(REPOSITORY, 'docs/pictures');
const PICTURES = readdirSync(DOCS).filter((name) => name.endsWith('.svg'));
/** Both draw edges in their own way. */
const MOST_APART = 0.02;
/** On each of the cards and charts there is more ink than this share of their paper: a picture without its lines has less. */
const LEAST_INK = 0.003;

needsChromium();

describe.runIf(chromiumIsThere())('a picture that stands alone', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await launch();
  });
  afterAll(() => browser.close());

  it.each(PICTURES)('%s has as much ink in resvg as in Chromium', async (name) => {
    await expectSameInk(readFileSync(join(DOCS, name), 'utf8'));
  });

  it.each([
    ['recipe', ['recipe', '--machine', 'shed-60w', '--material', 'birch-plywood', '--thickness', '3 mm']],
    ['reach', ['reach', '--machine', 'shed-60w', '--material', 'cast-acrylic']],
  ])('the card of %s has as much ink in resvg as in Chromium', async (_, argv) => {
    const { stdout } = await kerflint(join(REPOSITORY, 'examples'), [...argv, '--format', 'svg']);
    await expectSameInk(stdout);
  });

  async function expectSameInk(svg: string): Promise<void> {
    const plain = svg.replace(/<text[\s>][\s\S]*?<\/text>/g, '');
    const rendered = new Resvg(plain, { background: '#fff', fitTo: { mode: 'width', value: 1200 } }).render();
    const outside = inkOf(rendered.pixels, rendered.width * rendered.height);
    const at = folder();
    writeFileSync(
      join(at, 'page.html'),
      `<!doctype html><style>body{margin:0}svg{display:block;width:1200px;height:${rendered.height}px}</style>${plain}`,
    );
    const { page } = await open(browser, join(at, 'page.html'), { viewport: { width: 1200, height: rendered.height } });
    const png = await page.screenshot();
    await page.close();
    const shown = new Resvg(
      `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="1200" height="${rendered.height}"><image width="1200" height="${rendered.height}" xlink:href="data:image/png;base64,${png.toString('base64')}"/></svg>`,
    ).render();
    const browsers = inkOf(shown.pixels, shown.width * shown.height);
    expect(shown.height).toBe(rendered.height);
    expect(browsers).toBeGreaterThan(LEAST_INK);
    expect(Math.abs(outside / browsers - 1)).toBeLessThan(MOST_APART);
  }
});

/** Share of a picture that is inked: how much darker its pixels are than its paper, the commonest colour. */
function inkOf(pixels: Uint8Array, count: number): number {
  const lightness = Array.from({ length: count }, (_, i) => {
    const [r, g, b] = [pixels[4 * i]!, pixels[4 * i + 1]!, pixels[4 * i + 2]!];
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  });
  const often = new Map<number, number>();
  for (const one of lightness) often.set(Math.round(one), (often.get(Math.round(one)) ?? 0) + 1);
  const paper = [...often].reduce((a, b) => (b[1] > a[1] ? b : a))[0];
  return lightness.reduce((sum, one) => sum + Math.abs(paper - one), 0) / (255 * count);
}
