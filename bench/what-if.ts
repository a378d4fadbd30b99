// From a turn of a knob to the painted answer, in Chromium on the built page opened from disk: the demo, and jobs of 2,000 cuts.
import { copyFileSync, cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { loadavg, tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { CHROMIUM, openBrowser } from './browser.ts';

const TURNS = Number(process.env['TURNS'] ?? 60);
const CUTS = 2_000;

/** In the page: from the event of the knob to the frame after the table was put in anew. In the end all is put back, so that the next knob is turned alone. */
const IN_PAGE = `async (id, turns) => {
  const knob = document.getElementById(id);
  const place = knob.closest('.what-if');
  const table = place.querySelector('.compared').parentElement;
  const painted = () => new Promise((done) => {
    const seen = new MutationObserver(() => {
      seen.disconnect();
      requestAnimationFrame(() => {
        const { port1, port2 } = new MessageChannel();
        port1.onmessage = done;
        port2.postMessage(null);
      });
    });
    seen.observe(table, { childList: true });
  });
  const isList = knob.options !== undefined;
  const stands = () => (isList ? knob.selectedIndex : Number(knob.value));
  const before = stands();
  const taken = [];
  let state = 1;
  for (let k = 0; k < turns; k++) {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    const at = Math.floor((state / 2 ** 32) * (isList ? knob.options.length : Number(knob.max) + 1));
    // Turned to where it stands already it is not answered.
    if (at === stands()) continue;
    const answer = painted();
    const from = performance.now();
    if (isList) knob.selectedIndex = at;
    else knob.value = String(at);
    knob.dispatchEvent(new Event(isList ? 'change' : 'input', { bubbles: true }));
    await answer;
    taken.push(performance.now() - from);
    await new Promise((rest) => setTimeout(rest, 30));
  }
  if (stands() === before) return taken;
  const answer = painted();
  [...place.querySelectorAll('button')].find((one) => one.textContent.startsWith('Back')).click();
  await answer;
  return taken;
}`;

const folder = mkdtempSync(join(tmpdir(), 'kerflint-what-if-'));
try {
  const jobs = [
    { name: 'the demo', at: demo(join(folder, 'demo')) },
    { name: `${CUTS} pieces in 8 recipes`, at: pieces(join(folder, 'pieces'), 8) },
    { name: `${CUTS} cuts, each with its own recipe`, at: pieces(join(folder, 'recipes'), CUTS) },
  ];
  const browser = await openBrowser();
  if (browser === null) console.log(`no ${CHROMIUM}: turning a knob was not measured`);
  else await measure(browser, jobs);
} finally {
  rmSync(folder, { recursive: true, force: true });
}

/** Turns the knobs of each job in the page. */
async function measure(browser: Browser, jobs: readonly { name: string; at: string }[]): Promise<void> {
  for (const { name, at } of jobs) {
    const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
    page.setDefaultTimeout(600_000);
    await page.goto(pathToFileURL(resolve('dist/page.html')).href);
    await page.getByLabel('A whole folder').setInputFiles(at);
    await page.getByRole('button', { name: 'Check', exact: true }).click();
    await page.locator('.compared').first().waitFor();
    await page.waitForTimeout(1000);
    const ids = await page
      .locator('.what-if')
      .first()
      .evaluate((place) => place.id);
    for (const what of ['speedMmPerS', 'setting', 'passes', 'focusMm', 'thickness', 'lens', 'material']) {
      console.log(`${name}, ${what}: ${await turns(page, `${ids}-${what}`)}`);
    }
    await page.close();
  }
  await browser.close();
  console.log(`load ${loadavg()[0]!.toFixed(1)}`);
}

/** Turns one knob again and again and tells how long each answer took to be painted, ms. */
async function turns(page: Page, id: string): Promise<string> {
  const times = (await page.evaluate(`(${IN_PAGE})(${JSON.stringify(id)}, ${TURNS})`)) as number[];
  const sorted = times.sort((a, b) => a - b);
  const at = (share: number) => sorted[Math.min(sorted.length - 1, Math.ceil(share * sorted.length) - 1)]!.toFixed(0);
  return `median ${at(0.5)} ms, 95th percentile ${at(0.95)} ms, longest ${at(1)} ms`;
}

function demo(at: string): string {
  mkdirSync(at);
  for (const file of ['weather-vane-hub.gcode', 'weather-vane-hub.svg', 'weather-vane-hub.job.yaml', 'machines']) {
    cpSync(`examples/${file}`, join(at, file), { recursive: true });
  }
  writeFileSync(join(at, '.kerflint.yaml'), 'kerflint: 1\nmachines: [machines]\n');
  return at;
}

/** Plant labels with five sides, in so many recipes: more than 64 in tasks of their own, so that none are taken together. */
function pieces(at: string, recipes: number): string {
  mkdirSync(join(at, 'machines'), { recursive: true });
  copyFileSync('examples/machines/shed-60w.machine.yaml', join(at, 'machines/shed-60w.machine.yaml'));
  writeFileSync(join(at, '.kerflint.yaml'), 'kerflint: 1\nmachines: [machines]\n');
  const perTask = 50;
  const tasks = recipes <= 64 ? 1 : Math.ceil(recipes / perTask);
  const lines = ['G21', 'G90', 'M3 S0'];
  for (let task = 0; task < tasks; task++) {
    lines.push(`; labels ${task + 1}`);
    for (let k = task; k < CUTS; k += tasks) {
      const recipe = Math.floor(k / tasks) % Math.min(recipes, perTask);
      const [x, y] = [5 + (k % 50) * 11, 5 + Math.floor(k / 50) * 9];
      const feed = 240 + (recipes <= 64 ? recipe * 24 : (recipe * tasks + task) * 0.3);
      lines.push(
        `G0 X${x} Y${y}`,
        `G1 X${x + 8} F${feed.toFixed(1)} S800`,
        `Y${y + 5}`,
        `X${x + 4} Y${y + 7}`,
        `X${x} Y${y + 5}`,
        `Y${y}`,
      );
    }
  }
  writeFileSync(join(at, 'labels.gcode'), `${[...lines, 'M5', 'M2'].join('\n')}\n`);
  const planned = Array.from({ length: tasks }, (_, task) =>
    [`  - name: labels ${task + 1}`, '    aim: through', `    program: { comment: labels ${task + 1} }`].join('\n'),
  );
  writeFileSync(
    join(at, 'labels.job.yaml'),
    `${[
      'kerflint: 1',
      'machine: shed-60w',
      'lens: 2in',
      'material: birch-plywood',
      'thickness: 6.0 mm ± 0.2 mm',
      'face: bare',
      'sheet: { width: 600 mm, height: 400 mm, price: 14.50 EUR }',
      'zero: sheet-corner',
      'toolpath: labels.gcode',
      'tasks:',
      ...planned,
    ].join('\n')}\n`,
  );
  return at;
}
