import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { REPOSITORY } from '../cli/harness.ts';
import { NEVER_ENDING_MS } from '../patience.ts';

/** A page opened from disk, with all that it complained of or asked for. */
export interface Opened {
  page: Page;
  complaints: string[];
  requests: string[];
}

export async function open(browser: Browser, file: string, options: BrowserContextOptions = {}): Promise<Opened> {
  const page = await browser.newPage({ viewport: { width: 1100, height: 800 }, ...options });
  page.setDefaultTimeout(NEVER_ENDING_MS);
  const complaints: string[] = [];
  const requests: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning') complaints.push(message.text());
  });
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('dialog', (dialog) => {
    complaints.push(`dialog: ${dialog.message()}`);
    void dialog.dismiss();
  });
  const url = pathToFileURL(file).href;
  page.on('request', (request) => {
    if (request.url().split('#')[0] !== url && !request.url().startsWith('blob:')) requests.push(request.url());
  });
  await page.goto(url);
  return { page, complaints, requests };
}

/** Where a test leaves a picture to be looked at (never committed). */
export function shot(name: string): string {
  const folder = join(REPOSITORY, 'test-results');
  mkdirSync(folder, { recursive: true });
  return join(folder, `${name}.png`);
}

/**
 * The JSON that the command line prints, apart from what it is comparable with: a page has no settings and no shop, and its results are no
 * base for `--against`.
 */
export const apartFromJudgedBy = (json: string): string => json.replace(/,\n {2}"judgedBy": \{[^}]*\}/, '');
