import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults } from 'axe-core';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { open } from './opened.ts';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** What axe-core finds serious or critical in a file. It runs outside the page's own policy, which forbids any other script. */
export async function violations(browser: Browser, file: string, options: BrowserContextOptions): Promise<string[]> {
  const { page } = await open(browser, file, { ...options, bypassCSP: true });
  const found = (await violationsNow(page)).filter((one) => /^(serious|critical) /.test(one));
  await page.close();
  return found;
}

/** All that it finds, of any impact, in a page as it stands, which was opened with `bypassCSP`. */
export async function violationsNow(page: Page): Promise<string[]> {
  await page.addScriptTag({ content: AXE });
  const found = (await page.evaluate('axe.run()')) as AxeResults;
  return found.violations.map(
    ({ impact, id, nodes }) => `${impact} ${id}: ${nodes.map((node) => node.target.join(' ')).join(', ')}`,
  );
}
