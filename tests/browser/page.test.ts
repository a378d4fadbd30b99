// The offline page against the command line: the same core, so the same bytes.
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { CAUTION } from '../../src/findings/caution.ts';
import { demo, folder, kerflint, REPOSITORY } from '../cli/harness.ts';
import { violations } from './accessibility.ts';
import { chromiumIsThere, launch, needsChromium } from './chromium.ts';
import { apartFromJudgedBy, type Opened, open, shot } from './opened.ts';

const TODAY = '2026-11-25';
const FIXTURES = ['fixtures/artwork', 'fixtures/job'].flatMap((at) =>
  readdirSync(join(REPOSITORY, at))
    .filter((name) => /\.svg$|\.job\.yaml$/.test(name))
    .map((name) => `${at}/${name}`),
);

needsChromium();

describe.runIf(chromiumIsThere())('the offline page', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await launch();
  });
  afterAll(() => browser.close());

  const openPage = async (): Promise<Opened> => {
    const at = folder();
    await kerflint(at, ['page', '--out', 'kerflint.html']);
    const opened = await open(browser, join(at, 'kerflint.html'));
    await opened.page.getByLabel('Today').fill(TODAY);
    return opened;
  };

  const check = async (page: Page): Promise<void> => {
    await page.getByRole('button', { name: 'Check', exact: true }).click();
    await page.getByRole('button', { name: 'Other files' }).waitFor();
  };

  const saved = async (page: Page, button: string): Promise<string> => {
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: button }).click(),
    ]);
    return readFileSync(await download.path(), 'utf8');
  };

  const fromCli = async (cwd: string, ...more: string[]): Promise<string> =>
    apartFromJudgedBy((await kerflint(cwd, ['check', '.', '--today', TODAY, '--format', 'json', ...more])).stdout);

  it('gives the JSON of the command line for the demo, to the byte, and asks for nothing', async () => {
    const at = demo();
    const { page, complaints, requests } = await openPage();
    await page.screenshot({ path: shot('page-form'), fullPage: true });
    await expect.poll(() => page.getByText(CAUTION).isVisible()).toBe(true);
    await page.getByLabel('A whole folder').setInputFiles(at);
    await page.getByText('Nothing leaves this page').waitFor();
    await check(page);
    await page.screenshot({ path: shot('page-report'), fullPage: true });
    await expect.poll(() => page.getByRole('contentinfo').getByText(CAUTION).isVisible()).toBe(true);
    expect(await saved(page, 'Save the result as JSON')).toBe(await fromCli(at));
    const report = await saved(page, 'Save the report');
    // Not to the byte: sine and cosine differ in their last bits between engines, and so may the points that a picture keeps.
    expect(report).toMatch(/^<!doctype html>[\s\S]*<h2 id="job-1-name">weather-vane-hub <small>[\s\S]*<\/html>\n$/);
    expect({ complaints, requests }).toEqual({ complaints: [], requests: [] });
    await page.close();
  });

  it.each(FIXTURES)('gives the JSON of the command line for %s with the form filled in', async (path) => {
    const at = folder({
      [basename(path)]: readFileSync(join(REPOSITORY, path)),
      'shed-60w.machine.yaml': readFileSync(join(REPOSITORY, 'examples/machines/shed-60w.machine.yaml')),
      '.kerflint.yaml': 'kerflint: 1\nmachines: [.]\n',
    });
    const { page, complaints } = await openPage();
    await page.getByLabel('A whole folder').setInputFiles(at);
    await page.getByText('Nothing leaves this page').waitFor();
    await page.getByRole('combobox', { name: 'Material' }).fill('birch-plywood');
    await page.getByLabel(/^Thickness/).fill('3 mm');
    await page.getByLabel('Machine', { exact: true }).selectOption('shed-60w');
    await check(page);
    const filled = ['--material', 'birch-plywood', '--thickness', '3 mm', '--machine', 'shed-60w'];
    expect(await saved(page, 'Save the result as JSON')).toBe(await fromCli(at, ...filled));
    expect(complaints).toEqual([]);
    await page.close();
  });

  it.each([
    ['light', { colorScheme: 'light' }],
    ['dark', { colorScheme: 'dark' }],
    ['phone', { viewport: { width: 360, height: 740 } }],
  ] as const)(
    'has a form without a serious violation that axe-core finds, no wider than the screen: %s',
    async (name, options) => {
      const at = folder();
      await kerflint(at, ['page', '--out', 'kerflint.html']);
      const file = join(at, 'kerflint.html');
      expect(await violations(browser, file, options)).toEqual([]);
      const { page } = await open(browser, file, options);
      await page.screenshot({ path: shot(`page-${name}`), fullPage: true });
      const wider = await page.evaluate('document.documentElement.scrollWidth - document.documentElement.clientWidth');
      expect(wider).toBe(0);
      await page.close();
    },
  );

  it('keeps hostile text in every field text, in page and report', async () => {
    const bad = `"><img src=x onerror=alert(1)></script><script>alert(2)</script>'&lt;\u202eevil`;
    const quoted = JSON.stringify(bad);
    const at = folder();
    const write = (path: string, text: string) => {
      mkdirSync(dirname(join(at, path)), { recursive: true });
      writeFileSync(join(at, path), text);
    };
    write('.kerflint.yaml', 'kerflint: 1\nmachines: [machines]\n');
    write(
      'machines/shed-60w.machine.yaml',
      readFileSync(join(REPOSITORY, 'examples/machines/shed-60w.machine.yaml'), 'utf8'),
    );
    write('a<b onerror=1>"\'.gcode', `G21\n(${bad})\nM3 S900\nG4 P2 (${bad})\nG1 X40 F300\nM2\n`);
    write(
      'a.svg',
      `<svg xmlns="http://www.w3.org/2000/svg" width="50mm" height="50mm"><g id="&quot;&gt;&lt;img src=x onerror=alert(3)&gt;"><path id="&lt;/script&gt;&lt;script&gt;alert(4)&lt;/script&gt;" stroke="#a61e4d" d="M0 0L90 0"/></g><script>alert(5)</script><text>${'&lt;b onclick=alert(6)&gt;'}</text></svg>`,
    );
    write(
      'evil.job.yaml',
      [
        'kerflint: 1',
        'machine: shed-60w',
        'lens: 1.5in',
        'material: cast-acrylic',
        'thickness: 12 mm',
        `toolpath: ${JSON.stringify('a<b onerror=1>"\'.gcode')}`,
        'artwork: a.svg',
        'tasks:',
        `  - { name: ${quoted}, aim: through, strokes: { stroke: "#a61e4d" }, program: { comment: ${quoted} }, power: 80 %, speed: 5 mm/s }`,
        'waive:',
        `  - { rule: ${quoted}, reason: ${quoted}, until: 2027-01-01 }`,
        '',
      ].join('\n'),
    );
    write('wrong.job.yaml', `${quoted}: ${quoted}\nmachine: ${quoted}\nmaterial: ${quoted}\n`);
    await kerflint(at, ['check', '.', '--today', TODAY, '--format', 'html=out/report.html']);
    const report = await open(browser, join(at, 'out/report.html'));
    const { page, complaints, requests } = await openPage();
    await page.getByLabel('A whole folder').setInputFiles(at);
    await page.getByText('Nothing leaves this page').waitFor();
    await check(page);
    for (const shown of [report.page, page]) {
      expect(await shown.locator('img, iframe, [onerror], [onclick]').count()).toBe(0);
      expect(await shown.locator('script').count()).toBe(1);
      expect(await shown.getByText('onerror=alert(1)').count()).toBeGreaterThan(0);
      expect(await shown.locator('body').textContent()).not.toContain('\u202e');
    }
    expect({ complaints, requests }).toEqual({ complaints: [], requests: [] });
    expect({ complaints: report.complaints, requests: report.requests }).toEqual({ complaints: [], requests: [] });
    await report.page.screenshot({ path: shot('hostile'), fullPage: true });
    await page.close();
    await report.page.close();
  });

  it.each(['page', 'report'])('has a policy that lets the %s load, connect and submit nothing', async (what) => {
    const at = demo();
    await kerflint(at, ['page', '--out', 'page.html']);
    await kerflint(at, ['check', '.', '--today', TODAY, '--format', 'html=report.html']);
    const text = readFileSync(join(at, `${what}.html`), 'utf8');
    const policy = /Content-Security-Policy" content="([^"]*)"/.exec(text)![1]!;
    // The page's worker runs the page's own text, which it hands over as a blob.
    const worker = what === 'page' ? ' worker-src blob:;' : '';
    expect(policy.replace(/'sha256-[^']+'/g, 'HASH')).toBe(
      `default-src 'none'; style-src HASH; script-src HASH;${worker} base-uri 'none'; form-action 'none'`,
    );
  });
});
