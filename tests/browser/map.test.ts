// The sheet map as a plan of the work, in Debian's Chromium, from disk.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demo, folder, kerflint, REPOSITORY } from '../cli/harness.ts';
import { chromiumIsThere, launch, needsChromium } from './chromium.ts';
import { open, shot } from './opened.ts';

needsChromium();

describe.runIf(chromiumIsThere())('the sheet map in a browser', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await launch();
  });
  afterAll(() => browser.close());

  const reportOf = async (job: string): Promise<string> => {
    const at = demo();
    await kerflint(at, ['check', `${job}.job.yaml`, '--today', '2026-11-25', '--format', 'html=report.html']);
    return join(at, 'report.html');
  };

  /** A report on a program of one's own, on a bed of 600 × 400 mm. */
  const reportOn = async (gcode: string): Promise<string> => {
    const at = folder({
      'part.gcode': gcode,
      'part.job.yaml':
        'kerflint: 1\nmachine: shed-60w\nlens: 2in\nmaterial: birch-plywood\nthickness: 3 mm\nzero: machine\nsheet: { width: 300 mm, height: 200 mm, at: { x: 100 mm, y: 50 mm } }\ntoolpath: part.gcode\n',
      'shed-60w.machine.yaml': readFileSync(join(REPOSITORY, 'examples/machines/shed-60w.machine.yaml')),
    });
    await kerflint(at, ['check', 'part.job.yaml', '--shop', '.', '--format', 'html=report.html']);
    return join(at, 'report.html');
  };

  const view = async (map: Locator) => (await map.getAttribute('viewBox'))!.split(' ').map(Number);
  const map = (page: Page) => page.locator('.view > svg').first();

  it('numbers the pieces in the order in which the program cuts them, and lists them so', async () => {
    const file = await reportOf('weather-vane-hub');
    const { page, complaints, requests } = await open(browser, file);
    // The order of the program by the places where it switches the beam on: the end of each rapid move (G0) that a cut follows.
    const gcode = readFileSync(join(file, '../weather-vane-hub.gcode'), 'utf8');
    const starts = [...gcode.matchAll(/^G0 X(\S+) Y(\S+)\nG3/gm)].map(([, x, y]) => [Number(x), Number(y)]);
    expect(starts).toHaveLength(6);
    await page.locator('.plan summary').click();
    const rows = await page.locator('.plan tbody tr').allTextContents();
    const listed = rows.map((row) => /^(\d+).*X (\S+) Y (\S+?)(?:weather)/.exec(row)!.slice(1).map(Number));
    for (const [i, [x, y]] of starts.entries()) {
      expect(listed[i]![0]).toBe(i + 1);
      expect(listed[i]![1]).toBeCloseTo(x!, 1);
      expect(listed[i]![2]).toBeCloseTo(y!, 1);
    }
    // On the map the numbers stand beside the dots, each where the piece begins.
    // The browser itself tells where on the picture a dot lies.
    const dots = (await page.evaluate(`(() => {
      const toPicture = document.querySelector('.view > svg').getScreenCTM().inverse();
      return [...document.querySelectorAll('.marks .p-start')].map((dot) => {
        const box = dot.getBoundingClientRect();
        const at = new DOMPoint(box.x + box.width / 2, box.y + box.height / 2).matrixTransform(toPicture);
        return [Number(dot.nextElementSibling.textContent), at.x / 100, 150 - at.y / 100];
      });
    })()`)) as number[][];
    expect(dots.length).toBeGreaterThan(3);
    for (const [number, x, y] of dots) {
      const [mmX, mmY] = starts[number! - 1]!;
      expect(x).toBeCloseTo(mmX!, 0);
      expect(y).toBeCloseTo(mmY!, 0);
    }
    await page.screenshot({ path: shot('map-numbers') });
    expect({ complaints, requests }).toEqual({ complaints: [], requests: [] });
    await page.close();
  });

  it('tells of a piece that is tapped: recipe, time and line, and stays where it is', async () => {
    const { page } = await open(browser, await reportOf('weather-vane-hub'), { hasTouch: true });
    const box = (await page.locator('#job-1-piece-6').boundingBox())!;
    await map(page).scrollIntoViewIfNeeded();
    const now = (await page.locator('#job-1-piece-6').boundingBox())!;
    const scrolled = await page.evaluate('scrollY');
    // Eight pixels beside the line: a finger is no needle.
    await page.touchscreen.tap(now.x - 7, now.y + box.height / 2);
    await expect
      .poll(() => page.locator('.told').textContent())
      .toMatch(
        /^Piece 6 of 6: 42 s for 188\.\d mm, from X 10 Y 40, line 24\. Cut 2, rim: 1 pass, .* W, 4\.5 mm\/s; depth /,
      );
    expect(await page.locator('#job-1-piece-6.chosen').count()).toBe(1);
    expect(await page.evaluate('scrollY')).toBe(scrolled);
    await page.close();
  });

  it('steps through the pieces by button, and brings each into view', async () => {
    const { page } = await open(browser, await reportOf('seed-tray-divider'));
    for (let i = 0; i < 5; i++) await page.getByRole('button', { name: 'Zoom in' }).click();
    const told = page.locator('.told');
    for (const number of [1, 2, 3]) {
      await page.getByRole('button', { name: 'Next piece' }).click();
      await expect.poll(() => told.textContent()).toMatch(new RegExp(`^Piece ${number} of `));
      await expectInView(page, `[data-piece="${number}"]`);
    }
    await page.getByRole('button', { name: 'Piece before' }).click();
    await expect.poll(() => told.textContent()).toMatch(/^Piece 2 of /);
    await page.close();
  });

  it('says the energy of an area on it, and all of it when it is pointed at', async () => {
    const lines = Array.from(
      { length: 60 },
      (_, i) => `G0 X140 Y${(80 + i * 0.2).toFixed(1)}\nG1 X220 F18000 S200`,
    ).join('\n');
    const { page } = await open(browser, await reportOn(`G21 G90\nM4 S0\n${lines}\nM5\nM2\n`));
    // The whole sheet is so small that there is no room for it.
    await page.getByRole('button', { name: 'The job' }).click();
    const shown = page.locator('.marks text', { hasText: 'J/mm²' });
    const says = (await shown.textContent())!;
    expect(says).toMatch(/^[\d.]+ J\/mm²$/);
    await page.locator('.p-area').scrollIntoViewIfNeeded();
    const area = (await page.locator('.p-area').boundingBox())!;
    await page.mouse.move(area.x + area.width / 3, area.y + area.height / 3);
    await expect
      .poll(() => page.locator('.told').textContent())
      .toMatch(new RegExp(`^Piece 1 of 1: .*Surface .*: ${says.replace('/', '.')}`));
    await page.close();
  });

  it.each([0, 3, 9])(
    'jumps from a finding to its pin and points it out, %i steps closer up, and again',
    async (steps) => {
      const { page } = await open(browser, await reportOf('weather-vane-hub'));
      await page.evaluate(`for (const one of document.querySelectorAll('details')) one.open = true`);
      for (let i = 0; i < steps; i++) await page.getByRole('button', { name: 'Zoom in' }).click();
      const jump = async (number: number) => {
        await page.locator(`#finding-${number}`).getByRole('link', { name: 'show on the map' }).click();
        await expectInView(page, `#job-1-pin-${number}`);
        await expect.poll(() => page.locator('.told').textContent()).toMatch(new RegExp(`^Finding ${number}, `));
        // Both of one frame: while the map moves, two questions would be answered at two places.
        await expect
          .poll(() =>
            page.evaluate(`(() => {
              const ring = document.querySelector('.p-ring').getBoundingClientRect();
              const pin = document.querySelector('#job-1-pin-${number}').getBoundingClientRect();
              return ring.left < pin.right && ring.right > pin.left;
            })()`),
          )
          .toBe(true);
      };
      await jump(1);
      await jump(3);
      // Away from it, and by the same link once more.
      for (let i = 0; i < 8; i++) await page.getByRole('button', { name: 'Zoom in' }).click();
      await map(page).focus();
      for (let i = 0; i < 30; i++) await page.keyboard.press('ArrowRight');
      await jump(3);
      await page.close();
    },
  );

  it('jumps from the list of the work to the piece', async () => {
    const { page } = await open(browser, await reportOf('weather-vane-hub'));
    for (let i = 0; i < 6; i++) await page.getByRole('button', { name: 'Zoom in' }).click();
    await page.locator('.plan summary').click();
    await page.locator('.plan').getByRole('link', { name: '3', exact: true }).click();
    await expectInView(page, '#job-1-piece-3');
    await expect.poll(() => page.locator('.told').textContent()).toMatch(/^Piece 3 of 6: /);
    await page.close();
  });

  it('shows sheet and bed with their sizes, the whole bed, the job alone, and the sheet again', async () => {
    const { page } = await open(
      browser,
      await reportOn('G21 G90\nM4 S0\nG0 X150 Y100\nG1 X190 F600 S800\nG1 Y130\nM5\nM2\n'),
    );
    const whole = await view(map(page));
    const names = () => page.locator('.marks text', { hasText: ' × ' }).allTextContents();
    expect(await names()).toEqual(['sheet 300 × 200 mm']);
    await page.getByRole('button', { name: 'Whole bed' }).click();
    expect(await names()).toEqual(['sheet 300 × 200 mm', 'bed 600 × 400 mm']);
    await expectInView(page, '.p-bed', ['view']);
    await page.screenshot({ path: shot('map-bed') });
    await page.getByRole('button', { name: 'The job' }).click();
    const [x, y, width, height] = (await view(map(page))) as [number, number, number, number];
    // The cut lies from X 150 to 190 and from Y 100 to 130; the sheet's upper left corner at X 100 Y 250.
    for (const [mm, from, to] of [
      [150, x, x + width],
      [190, x, x + width],
    ] as const) {
      expect((mm - 100) * 100).toBeGreaterThan(from);
      expect((mm - 100) * 100).toBeLessThan(to);
    }
    for (const mm of [100, 130]) {
      expect((250 - mm) * 100).toBeGreaterThan(y);
      expect((250 - mm) * 100).toBeLessThan(y + height);
    }
    expect(width).toBeLessThan(whole[2]! / 3);
    await page.getByRole('button', { name: 'Whole sheet' }).click();
    expect(await view(map(page))).toEqual(whole);
    await page.close();
  });

  it('has true scales and a true scale bar at any zoom, and zooms to the pointer', async () => {
    const { page } = await open(browser, await reportOf('weather-vane-hub'));
    const box = (await map(page).boundingBox())!;
    for (let step = 0; step < 8; step++) {
      const perPx = (await page.evaluate(`0.01 / document.querySelector('.view > svg').getScreenCTM().a`)) as number;
      const marks = (await page.evaluate(`(() => {
        const middle = (one) => { const at = one.getBoundingClientRect(); return at.x + at.width / 2; };
        const texts = [...document.querySelectorAll('.marks text.t-mid.t-soft')].map((one) => [Number(one.textContent), middle(one)]);
        const bar = [...document.querySelectorAll('.marks path')].map((one) => one.getBoundingClientRect().width).reduce((a, b) => Math.max(a, b));
        const label = [...document.querySelectorAll('.marks text')].map((one) => one.textContent).find((one) => /^[\\d.]+ mm$/.test(one));
        return { texts, bar, label };
      })()`)) as { texts: [number, number][]; bar: number; label: string };
      expect(marks.texts.length).toBeGreaterThan(1);
      const [first, second] = marks.texts as [[number, number], [number, number]];
      expect(((second[1] - first[1]) * perPx) / (second[0] - first[0])).toBeCloseTo(1, 1);
      expect((marks.bar * perPx) / Number.parseFloat(marks.label)).toBeCloseTo(1, 1);
      // What lies under the pointer stays there.
      // A double click is told of in whole pixels.
      const at = { x: Math.round(box.x + box.width * 0.3), y: Math.round(box.y + box.height * 0.4) };
      const before = await under(page, at);
      await page.mouse.dblclick(at.x, at.y);
      const after = await under(page, at);
      expect(after.x).toBeCloseTo(before.x, 1);
      expect(after.y).toBeCloseTo(before.y, 1);
    }
    await page.screenshot({ path: shot('map-closest') });
    await page.close();
  });

  /** 105,000 short lines, each of its own: more than a picture holds. */
  const crowd = () => {
    const lines = Array.from({ length: 105_000 }, (_, i) => {
      const [x, y] = [(i % 350) * 0.8 + 100, Math.floor(i / 350) * 0.8 + 55];
      return `G0 X${x.toFixed(2)} Y${y.toFixed(2)}\nG1 X${(x + 0.5).toFixed(2)} Y${(y + (i % 3) * 0.2).toFixed(2)}`;
    });
    return `G21 G90\nF600\nM4 S800\n${lines.join('\n')}\nM5\nM2\n`;
  };

  it('draws every line of a program with too many of them, and says on the picture how much it keeps', async () => {
    const { page } = await open(browser, await reportOn(crowd()));
    const kept = /Drawn: cuts (\d+) % of corners, to ([\d.]+) mm/.exec((await page.locator('.view').textContent())!)!;
    expect(Number(kept[1])).toBeLessThan(100);
    expect(Number(kept[2])).toBeLessThan(2);
    await expect
      .poll(() => page.locator('.map figcaption').textContent())
      .toMatch(/All lines are drawn: cuts \d+ % of corners/);
    // Every fourth row and column is looked for: there is ink within what is said of where the line is.
    const found = (await page.evaluate(`(() => {
      const paths = [...document.querySelectorAll('.p-cut path')];
      const starts = new Set();
      for (const path of paths)
        for (const [, x, y] of path.getAttribute('d').matchAll(/M(-?\\d+) (-?\\d+)/g)) starts.add(Math.round(x / 100) + ' ' + Math.round(y / 100));
      return [...starts];
    })()`)) as string[];
    const inked = new Set(found);
    // The picture's upper edge is that of the sheet or, where the cuts reach beyond it, theirs.
    const top = JSON.parse((await page.locator('.map').getAttribute('data-map'))!)[2].maxY as number;
    const reach = Math.ceil(Number(kept[2])) + 1;
    for (let i = 0; i < 105_000; i += 197) {
      const [x, y] = [(i % 350) * 0.8, top - 55 - Math.floor(i / 350) * 0.8];
      const near = range(-reach, reach).some((dx) =>
        range(-reach, reach).some((dy) => inked.has(`${Math.round(x) + dx} ${Math.round(y) + dy}`)),
      );
      expect(near, `line ${i}`).toBe(true);
    }
    await page.close();
  });
});

const range = (from: number, to: number) => Array.from({ length: to - from + 1 }, (_, i) => from + i);

/** Where on the sheet a place of the window lies, units of the picture in hundreds: mm. */
function under(page: Page, { x, y }: { x: number; y: number }): Promise<{ x: number; y: number }> {
  return page.evaluate(`(() => {
    const svg = document.querySelector('.view > svg');
    const at = new DOMPoint(${x}, ${y}).matrixTransform(svg.getScreenCTM().inverse());
    return { x: at.x / 100, y: at.y / 100 };
  })()`) as Promise<{ x: number; y: number }>;
}

/** A part of the map comes to lie in the part of it that is shown, and that in the window: a link's address is answered a little after its click. */
async function expectInView(
  page: Page,
  selector: string,
  within: ('view' | 'window')[] = ['view', 'window'],
): Promise<void> {
  const outside = () =>
    page.evaluate(`(() => {
      const box = (one) => one.getBoundingClientRect();
      const part = box(document.querySelector(${JSON.stringify(selector)}));
      const around = { view: box(document.querySelector('.view')), window: { left: 0, top: 0, right: innerWidth, bottom: innerHeight } };
      const beyond = ({ left, top, right, bottom }) => Math.max(left - part.left, top - part.top, part.right - right, part.bottom - bottom);
      return ${JSON.stringify(within)}.filter((name) => beyond(around[name]) > 1);
    })()`);
  await expect.poll(outside).toEqual([]);
}
