import { existsSync } from 'node:fs';
import nodeModule from 'node:module';
import { resolve } from 'node:path';
import type { Browser } from 'playwright-core';

/** Where Chromium is looked for; `CHROMIUM` names another. */
export const CHROMIUM = process.env['CHROMIUM'] ?? '/usr/bin/chromium';

/** Chromium without anything that it does of its own accord; null where there is none. */
export async function openBrowser(): Promise<Browser | null> {
  if (!existsSync(CHROMIUM)) return null;
  // It looks for files beside itself, and cannot be bundled.
  const { chromium } = nodeModule.createRequire(resolve('package.json'))(
    'playwright-core',
  ) as typeof import('playwright-core');
  const args = ['--headless', '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run'];
  args.push('--disable-background-networking', '--disable-component-update', '--disable-sync');
  return chromium.launch({ executablePath: CHROMIUM, args });
}
