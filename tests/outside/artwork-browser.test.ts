// The browser as the reference for SVG: Debian's Chromium, driven by playwright-core.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import type { Browser, CDPSession, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { bytesSource } from '../../src/source/source.ts';
import type { Matrix } from '../../src/svg/frames/matrix.ts';
import { mapBox } from '../../src/svg/frames/matrix.ts';
import { ProblemLog } from '../../src/svg/problem-log.ts';
import { readArtwork } from '../../src/svg/read.ts';
import type { SvgElement } from '../../src/svg/reading.ts';
import { parseColour } from '../../src/svg/style/colour.ts';
import { readDocument } from '../../src/svg/xml/read-document.ts';
import { chromiumIsThere, launch } from '../browser/chromium.ts';
import { NEVER_ENDING_MS } from '../patience.ts';
import { type BrowserShape, shapesInBrowser } from './artwork-chromium.ts';
import { DIFFERENCES } from './artwork-differences.ts';

const REPOSITORY = join(import.meta.dirname, '../..');
const CORPUS = join(REPOSITORY, '../shared/corpus/svg');
const FIXTURES = join(REPOSITORY, 'fixtures/artwork');
const MM_PER_PX = 25.4 / 96;

function filesIn(folder: string): string[] {
  if (!existsSync(folder)) return [];
  const names = readdirSync(folder, { recursive: true, encoding: 'utf8' });
  return names
    .filter((name) => name.endsWith('.svg'))
    .map((name) => join(folder, name))
    .sort();
}

/** 0.5 % or 0.05 px, whichever is more. */
function close(ours: number, theirs: number): boolean {
  return Math.abs(ours - theirs) <= Math.max(0.05, 0.005 * Math.abs(theirs));
}

function strokeOf(shape: BrowserShape): string | null {
  if (shape.hasServer) return 'paint-server';
  // Where a reference leads nowhere, its fallback stands behind it.
  const text = shape.stroke.replace(/^url\([^)]*\)\s*/, '');
  const colour = parseColour(text);
  return text === 'none' || !colour || colour.alpha === 0 ? null : colour.hex;
}

/** What is different between our element and the browser's; empty when they agree. */
function compare(ours: SvgElement, theirs: BrowserShape): string[] {
  const wrong: string[] = [];
  const { userBox: box } = ours;
  if (box && theirs.box) {
    const [x, y] = [theirs.box.x, theirs.box.y];
    const [right, bottom] = [x + theirs.box.width, y + theirs.box.height];
    const same = close(box.minX, x) && close(box.minY, y) && close(box.maxX, right) && close(box.maxY, bottom);
    if (!same) wrong.push(`box ${JSON.stringify(box)} against ${x} ${y} ${right} ${bottom}`);
  } else wrong.push('no box');
  const px = ours.matrix.map((value) => value / MM_PER_PX);
  if (theirs.matrix) {
    const same = px.every((value, i) => {
      const size = Math.max(1, Math.abs(value));
      return Math.abs(value - theirs.matrix![i]!) <= (i < 4 ? 0.0005 : 0.05) * size;
    });
    if (!same) wrong.push(`matrix ${px.join(' ')} against ${theirs.matrix.join(' ')}`);
  }
  if (box && theirs.landed) {
    const landed = mapBox(px as unknown as Matrix, box);
    const { x, y, width, height } = theirs.landed;
    const same =
      close(landed.minX, x) && close(landed.minY, y) && close(landed.maxX, x + width) && close(landed.maxY, y + height);
    if (!same) wrong.push(`on the page ${JSON.stringify(landed)} against ${JSON.stringify(theirs.landed)}`);
  } else wrong.push('not on the page');
  if (theirs.length === null || !close(ours.userLength ?? -1, theirs.length)) {
    wrong.push(`length ${ours.userLength} against ${theirs.length}`);
  }
  const stroke = strokeOf(theirs);
  if (ours.stroke !== stroke) wrong.push(`stroke ${ours.stroke} against ${theirs.stroke}`);
  return wrong;
}

async function disagreements(page: Page, cdp: CDPSession, file: string): Promise<Map<string, string>> {
  const bytes = readFileSync(file);
  const text = bytes.toString('utf8');
  const artwork = readArtwork(bytesSource(file, bytes), { pxPerInch: 96 });
  const { nodes } = readDocument(text, new ProblemLog());
  const orderAt = new Map(nodes.map((node) => [node.start, node.order]));
  const lineStarts = [0, ...[...text.matchAll(/\n/g)].map((found) => found.index + 1)];
  const shapes = await shapesInBrowser(page, cdp, text, artwork.widthMm / MM_PER_PX, artwork.heightMm / MM_PER_PX);
  const found = new Map<string, string>();
  let next = 0;
  const undrawn = (shape: BrowserShape): void => {
    const paints = shape.painted && shape.box !== null && (shape.length ?? 0) > 0;
    if (paints) found.set(shape.id || `${shape.tag} ${shape.order}`, 'drawn in the browser only');
  };
  for (const element of artwork.elements) {
    const order = orderAt.get(lineStarts[element.place.line - 1]! + element.place.column - 1);
    const name = element.id ?? `${element.tag} ${order}`;
    let shape = shapes[next++];
    while (shape && shape.order !== order) {
      undrawn(shape);
      shape = shapes[next++];
    }
    if (!shape) {
      found.set(name, 'drawn here only');
      break;
    }
    const wrong = compare(element, shape);
    if (!shape.painted && element.userLength !== 0) wrong.push('not painted in the browser');
    if (wrong.length > 0) found.set(name, wrong.join('; '));
  }
  for (const shape of shapes.slice(next)) undrawn(shape);
  return found;
}

const run = chromiumIsThere();
if (!run) console.warn('The comparison of artwork with a browser did not run: there is no /usr/bin/chromium.');
if (!existsSync(CORPUS)) console.warn(`The comparison of artwork ran without the corpus: there is no ${CORPUS}.`);

it.runIf(process.env['CI'] === 'true')('a browser is there in CI', () => {
  expect(run).toBe(true);
});

describe.runIf(run)('artwork against a browser: box, length, matrix and stroke of every drawn element', () => {
  let browser: Browser;
  let page: Page;
  let cdp: CDPSession;
  const stale = new Set(DIFFERENCES.map((row) => `${row.file} ${row.element}`));
  beforeAll(async () => {
    browser = await launch();
    page = await browser.newPage({ viewport: { width: 1000, height: 1000 } });
    page.setDefaultTimeout(NEVER_ENDING_MS);
    cdp = await page.context().newCDPSession(page);
  });
  afterAll(() => browser?.close());

  it.each(
    [...filesIn(FIXTURES), ...filesIn(CORPUS)].map((file) => [
      relative(join(REPOSITORY, '..'), file)
        .replace(/^[^/]*\/fixtures/, 'fixtures')
        .replace(/^shared\//, ''),
      file,
    ]),
  )('%s', async (name, file) => {
    const found = await disagreements(page, cdp, file);
    const unexplained: string[] = [];
    for (const [element, what] of found) {
      if (!DIFFERENCES.some((row) => row.file === name && row.element === element))
        unexplained.push(`${element}: ${what}`);
      stale.delete(`${name} ${element}`);
    }
    expect(unexplained).toEqual([]);
  });

  it('every explained difference still exists', () => {
    const present = [...stale].filter((key) => existsSync(CORPUS) || key.startsWith('fixtures/'));
    expect(present).toEqual([]);
  });
});
