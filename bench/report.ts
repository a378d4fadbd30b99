/**
 * The HTML report of a heavy job. Method: a toolpath of a 50 MB raster and 2,000 cut squares is checked once with and once
 * without the report, each in a process of its own; then Chromium opens the report from disk, and the time to its load
 * event and of one zoom step (button pressed to the second frame after) are the best of three.
 */
import { spawnSync } from 'node:child_process';
import { appendFileSync, copyFileSync, existsSync, mkdirSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Page } from 'playwright-core';
import { CHROMIUM, openBrowser } from './browser.ts';
import { rasterFile } from './programs.ts';

const CUTS = 2000;

function heavyJob(): string {
  const folder = join(tmpdir(), 'kerflint-bench-report');
  mkdirSync(folder, { recursive: true });
  const path = join(folder, 'heavy.gcode');
  const raster = rasterFile(50);
  if (existsSync(path) && statSync(path).size > statSync(raster).size) return folder;
  copyFileSync(raster, path);
  const squares = Array.from({ length: CUTS }, (_, i) => {
    const x = 10 + (i % 50) * 7;
    const y = 10 + Math.floor(i / 50) * 7;
    return `G0 X${x} Y${y}\nG1 X${x + 5} F600 S${750 + (i % 40)}\nG1 Y${y + 5}\nG1 X${x}\nG1 Y${y}`;
  });
  appendFileSync(path, `\nM5\n(squares)\nM3\n${squares.join('\n')}\nM5\nM2\n`);
  return folder;
}

function seconds(folder: string, ...formats: string[]): number {
  const start = performance.now();
  const cli = resolve('dist/kerflint.js');
  const bare = ['--machine', 'shed-60w', '--material', 'birch-plywood', '--thickness', '3 mm'];
  const shop = ['--shop', resolve('examples/machines')];
  const { status, stderr } = spawnSync(
    process.execPath,
    [cli, 'check', 'heavy.gcode', ...bare, ...shop, ...formats.flatMap((format) => ['--format', format])],
    { cwd: folder, encoding: 'utf8' },
  );
  if (status === 2) throw new Error(stderr);
  return (performance.now() - start) / 1000;
}

async function inBrowser(file: string): Promise<{ loadMs: number; zoomMs: number } | null> {
  const browser = await openBrowser();
  if (browser === null) return null;
  const runs: { loadMs: number; zoomMs: number }[] = [];
  for (let i = 0; i < 3; i++) {
    const page = await browser.newPage();
    await page.goto(pathToFileURL(file).href);
    runs.push({ loadMs: await page.evaluate(LOAD), zoomMs: await zoom(page) });
    await page.close();
  }
  await browser.close();
  return {
    loadMs: Math.min(...runs.map(({ loadMs }) => loadMs)),
    zoomMs: Math.min(...runs.map(({ zoomMs }) => zoomMs)),
  };
}

const LOAD = 'performance.getEntriesByType("navigation")[0].loadEventEnd';

function zoom(page: Page): Promise<number> {
  return page.evaluate(`(async () => {
    const button = document.querySelector('[data-zoom=in]');
    button.scrollIntoView();
    const frame = () => new Promise(requestAnimationFrame);
    await frame(); await frame();
    const start = performance.now();
    button.click();
    await frame(); await frame();
    return performance.now() - start;
  })()`);
}

async function run(): Promise<void> {
  const folder = heavyJob();
  const plain = seconds(folder, 'json=out.json');
  const drawn = seconds(folder, 'json=out.json', 'html=report.html');
  const file = join(folder, 'report.html');
  const size = (statSync(file).size / 1024 / 1024).toFixed(2);
  console.log(`check ${plain.toFixed(2)} s; with its report ${drawn.toFixed(2)} s; report ${size} MB`);
  const seen = await inBrowser(file);
  if (seen === null) console.log(`no ${CHROMIUM}: opening was not measured`);
  else console.log(`loaded after ${seen.loadMs.toFixed(0)} ms; one zoom step ${seen.zoomMs.toFixed(0)} ms`);
}

await run();
