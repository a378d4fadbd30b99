/**
 * Whether the offline page goes on while its worker works. Method: the built page is opened from disk in Chromium, given a 50 MB raster and
 * then a 5 MB vector program (3,980 wavy rings), each read, answered with "all must part" and judged. A loop of animation frames notes the gap before
 * each; beside the longest stand the 95th percentile and the same of a page that does nothing, since other work stretches them all, and by itself
 * the one in which questions or report are put up.
 */
import { mkdirSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Page } from 'playwright-core';
import { CHROMIUM, openBrowser } from './browser.ts';
import { rasterFile } from './programs.ts';

const VECTOR_BYTES = 5e6;
const IDLE_MS = 4000;

function vectorFile(): string {
  const folder = join(tmpdir(), 'kerflint-bench-page');
  mkdirSync(folder, { recursive: true });
  const path = join(folder, 'rings.gcode');
  let text = 'G21\nG90\nF600\nM4 S800\n';
  for (let ring = 0; text.length < VECTOR_BYTES; ring++) {
    const [x, y] = [20 + (ring % 40) * 14, 20 + Math.floor(ring / 40) * 7];
    text += `G0 X${x} Y${y}\n`;
    for (let i = 0; i < 60; i++) {
      const [angle, r] = [(i / 60) * 2 * Math.PI, 3 + (i % 2) * 0.4];
      text += `G1 X${(x + r * Math.cos(angle)).toFixed(3)} Y${(y + r * Math.sin(angle)).toFixed(3)}\n`;
    }
  }
  writeFileSync(path, `${text}M5\nM2\n`);
  return path;
}

const START = `(() => {
  window.gaps = [];
  // What comes of the work is laid out ahead of the frame in which it is there to be seen, and painted after it: those gaps are told by themselves.
  window.putUp = [];
  window.isUp = false;
  const places = [...document.querySelectorAll('#ask, #shown')];
  const seen = () => places.map((place) => place.checkVisibility()).join();
  let last = performance.now();
  let before = seen();
  const tick = () => {
    const now = performance.now();
    const after = seen();
    if (after !== before && after.includes('true')) window.isUp = true;
    (window.isUp ? window.putUp : window.gaps).push(now - last);
    before = after;
    last = now;
    requestAnimationFrame(tick);
  };
  requestAnimationFrame(tick);
})()`;

async function gapsOf(page: Page, what: string, work: () => Promise<void>): Promise<void> {
  await page.evaluate('window.gaps.length = 0; window.putUp.length = 0; window.isUp = false');
  const start = performance.now();
  await work();
  const seconds = (performance.now() - start) / 1000;
  // The frame in which it is seen has to come, too.
  await page.waitForTimeout(500);
  const putUp = (await page.evaluate('window.putUp')) as number[];
  const gaps = ((await page.evaluate('window.gaps')) as number[]).sort((a, b) => a - b);
  const at = (share: number) => gaps[Math.floor((gaps.length - 1) * share)]?.toFixed(0);
  const last = putUp.length === 0 ? '' : `, putting up what came of it ${Math.max(...putUp).toFixed(0)} ms`;
  console.log(`${what}: ${seconds.toFixed(1)} s, frame gaps 95 % ${at(0.95)} ms, longest ${at(1)} ms${last}`);
}

async function read(page: Page, file: string): Promise<void> {
  await page.goto(pathToFileURL(resolve('dist/page.html')).href);
  await page.getByLabel('Files').setInputFiles(file);
  for (const [label, text] of [
    ['Rated power', '60 W'],
    ['Focal length of the lens', '2 in'],
    ['S at full power', '1000'],
    ['Thickness, with its unit', '3 mm'],
  ] as const)
    await page.getByLabel(label).fill(text);
  await page.getByLabel('Bed', { exact: true }).fill('900 x 900 mm');
  await page.getByRole('combobox', { name: 'Material' }).fill('birch-plywood');
  await page.getByLabel('Today').focus();
  await page.evaluate(START);
  await gapsOf(page, '  nothing', () => page.waitForTimeout(IDLE_MS));
  await gapsOf(page, '  read', async () => {
    await page.getByRole('button', { name: 'Check', exact: true }).click();
    await page.locator('#ask:visible, #shown:visible').first().waitFor();
  });
  if (!(await page.locator('#ask').isVisible())) return;
  await gapsOf(page, '  judged and shown', async () => {
    await page.getByRole('button', { name: 'All of them must part the sheet' }).click();
    await page.locator('#shown:visible').waitFor();
  });
}

async function run(): Promise<void> {
  console.log(`page ${(statSync('dist/page.html').size / 1e6).toFixed(2)} MB`);
  const browser = await openBrowser();
  if (browser === null) {
    console.log(`no ${CHROMIUM}: nothing was measured in it`);
    return;
  }
  for (const [what, file] of [
    ['raster, 50 MB', rasterFile(50)],
    ['vectors, 5 MB', vectorFile()],
  ] as const) {
    console.log(what);
    const page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
    page.setDefaultTimeout(20 * 60_000);
    await read(page, file);
    await page.close();
  }
  await browser.close();
}

await run();
