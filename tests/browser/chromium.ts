import { existsSync } from 'node:fs';
import { type Browser, chromium } from 'playwright-core';
import { it } from 'vitest';
import { NEVER_ENDING_MS } from '../patience.ts';

const CHROMIUM = process.env['CHROMIUM'] ?? '/usr/bin/chromium';

export function chromiumIsThere(): boolean {
  return existsSync(CHROMIUM);
}

export function launch(): Promise<Browser> {
  const args = ['--headless', '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run'];
  args.push('--disable-background-networking', '--disable-component-update', '--disable-sync');
  return chromium.launch({ executablePath: CHROMIUM, args, timeout: NEVER_ENDING_MS });
}

/** Where browser tests cannot run they say so; in CI that is a failure. */
export function needsChromium(): void {
  it.runIf(!chromiumIsThere())('a browser is there', ({ skip }) => {
    if (process.env['CI'] === 'true') throw new Error(`there is no ${CHROMIUM}`);
    skip(`there is no ${CHROMIUM}: nothing of this was held against a browser`);
  });
}
