// The browser as the reference for clipping: a point of an outline is there where a hit test finds the element.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import type { Outline } from '../../src/model/artwork.ts';
import { bytesSource } from '../../src/source/source.ts';
import { readArtwork } from '../../src/svg/read.ts';
import { chromiumIsThere, launch } from '../browser/chromium.ts';
import { NEVER_ENDING_MS } from '../patience.ts';

const FILE = join(import.meta.dirname, '../../fixtures/artwork/clips.svg');
const PX_PER_MM = 96 / 25.4;

interface Sample {
  id: string;
  x: number;
  y: number;
  hit: boolean;
}

/** Points along each outline, on the page, and whether the browser finds the element there. */
const SAMPLE = `[...document.querySelectorAll('[id]')].filter((e) => e.getClientRects().length > 0 && e.getTotalLength && !e.closest('clipPath')).flatMap((e) => {
  const m = e.getScreenCTM();
  const length = e.getTotalLength();
  return Array.from({ length: Math.floor(length / 2) }, (_, i) => {
    const p = e.getPointAtLength(i * 2 + 1).matrixTransform(m);
    return { id: e.id, x: p.x, y: p.y, hit: document.elementsFromPoint(p.x, p.y).includes(e) };
  });
})`;

function distance(outline: Outline, x: number, y: number): number {
  const { xy, closed } = outline;
  let least = Infinity;
  for (let i = 0; i < xy.length - (closed ? 0 : 2); i += 2) {
    const j = (i + 2) % xy.length;
    const [ax, ay] = [xy[i]! * PX_PER_MM, xy[i + 1]! * PX_PER_MM];
    const [dx, dy] = [xy[j]! * PX_PER_MM - ax, xy[j + 1]! * PX_PER_MM - ay];
    const t = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1)));
    least = Math.min(least, Math.hypot(x - ax - t * dx, y - ay - t * dy));
  }
  return least;
}

/** Distance to the nearest end of an open piece: there the hit test is a matter of half a stroke. */
function toNearestEnd(outlines: Outline[], x: number, y: number): number {
  let least = Infinity;
  for (const { xy, closed } of outlines) {
    if (closed) continue;
    for (const i of [0, xy.length - 2]) {
      least = Math.min(least, Math.hypot(xy[i]! * PX_PER_MM - x, xy[i + 1]! * PX_PER_MM - y));
    }
  }
  return least;
}

it.runIf(chromiumIsThere())('outlines end where the browser clips them', async () => {
  const artwork = readArtwork(bytesSource('clips.svg', readFileSync(FILE)), { pxPerInch: 96 });
  const browser = await launch();
  try {
    const page = await browser.newPage({ viewport: { width: 400, height: 400 } });
    page.setDefaultTimeout(NEVER_ENDING_MS);
    await page.goto('file://' + FILE);
    const samples = (await page.evaluate(SAMPLE)) as Sample[];
    expect(samples.length).toBeGreaterThan(1000);
    expect(samples.filter((sample) => !sample.hit).length).toBeGreaterThan(300);
    const wrong = samples.filter(({ id, x, y, hit }) => {
      if (x < 0 || y < 0 || x > 400 || y > 400) return false;
      const index = artwork.elements.findIndex((element) => element.id === id);
      const outlines = artwork.outlines.filter((outline) => outline.element === index);
      const here = outlines.some((outline) => distance(outline, x, y) < 0.1);
      return here !== hit && toNearestEnd(outlines, x, y) > 1.2;
    });
    expect(wrong).toEqual([]);
  } finally {
    await browser.close();
  }
});
