// The section and the reach of the demo, whole: a change of a picture is to be seen in its file. UPDATE_GOLDEN=1 writes them again.
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { Resvg } from '@resvg/resvg-js';
import { describe, expect, it } from 'vitest';
import type { JobDrawing } from '../../../src/facts/drawing/drawing-model.ts';
import type { JobResult } from '../../../src/findings/result.ts';
import { discoverJobs } from '../../../src/job/files/discovery.ts';
import { preflightDrawn } from '../../../src/preflight.ts';
import { READERS } from '../../../src/readers.ts';
import { reachOfJob } from '../../../src/report/pictures/job-reach-chart.ts';
import { sectionFile, sectionPanel, sectionsFile } from '../../../src/report/pictures/kerf-section.ts';
import { pictureFile } from '../../../src/report/pictures/picture-parts.ts';
import { memoryAccess } from '../../memory-access.ts';
import { demoFiles, type Files, libraryOf, readers, shed, TODAY } from '../../memory-shop.ts';

const hub = (): Files => ({
  ...shed(),
  ...demoFiles('weather-vane-hub.gcode', 'weather-vane-hub.svg', 'weather-vane-hub.job.yaml'),
});

function drawn(files: Files): { drawing: JobDrawing; result: JobResult } {
  const run = preflightDrawn({
    jobs: discoverJobs(memoryAccess(files), READERS, [''], false).jobs,
    library: libraryOf(files),
    settings: null,
    options: { today: TODAY, untrusted: false },
    toolVersion: '0.0.0-test',
    readers,
  });
  return { drawing: run.drawings[0]!.drawing, result: run.result.jobs[0]! };
}

const { drawing, result } = drawn(hub());
const section = drawing.section!;
const cured = drawing.curedSection!;
const panel = (model: typeof section) => sectionPanel(model, model.lenses[0]!, 'one');
const wordsOf = (svg: string) =>
  [...svg.matchAll(/<text[^>]*font-size="([\d.]+)"[^>]*>([^<]*)<\/text>/g)].map(([, size, text]) => ({
    size: Number(size),
    text: text!,
  }));

function expectGolden(name: string, svg: string): void {
  const at = new URL(`golden/${name}.svg`, import.meta.url);
  if (process.env['UPDATE_GOLDEN'] === '1') writeFileSync(at, svg);
  expect(existsSync(at), `${name}.svg is there`).toBe(true);
  expect(svg).toBe(readFileSync(at, 'utf8'));
}

describe('the pictures of the demo', () => {
  it('are those in tests/report/pictures/golden', () => {
    expectGolden(
      'hub-section',
      sectionsFile(
        [panel(section), sectionPanel(cured, cured.lenses[0]!, 'two')],
        'As the file has it, and with the change',
      ),
    );
    expectGolden('hub-lenses', sectionFile(section));
    expectGolden('hub-reach', pictureFile(reachOfJob(drawing, result.thicknessMm)!));
  });

  it('are drawn by a rasteriser that is no browser (@resvg/resvg-js): sheet, beam and hatching are inked', () => {
    const image = new Resvg(sectionsFile([panel(section)], 'section')).render();
    const pixels = image.pixels;
    const near = (hex: string) => {
      const [r, g, b] = [1, 3, 5].map((i) => Number.parseInt(hex.slice(i, i + 2), 16)) as [number, number, number];
      let count = 0;
      for (let i = 0; i < pixels.length; i += 4)
        if (Math.abs(pixels[i]! - r) + Math.abs(pixels[i + 1]! - g) + Math.abs(pixels[i + 2]! - b) < 12) count++;
      return count / (image.width * image.height);
    };
    expect(near('#e3c99b')).toBeGreaterThan(0.08);
    expect(near('#1c1b18')).toBeGreaterThan(0.01);
  });
});

describe('the section', () => {
  it('says verdict, shortfall and one action in at most 20 words, larger than all else', () => {
    const words = wordsOf(panel(section).body);
    const largest = Math.max(...words.map(({ size }) => size));
    const said = words
      .filter(({ size }) => size === largest)
      .map(({ text }) => text)
      .join(' ');
    expect(said).toBe('Not likely to part: stops 3.6 mm short. Make 3 passes at 4 mm/s.');
    expect(said.split(' ').length).toBeLessThanOrEqual(20);
    expect(words.filter(({ size }) => size !== largest).every(({ size }) => size <= 0.75 * largest)).toBe(true);
  });

  it.each([
    [
      'a remedy of many words',
      'Make 3 passes at 4 mm/s at 85 % with the focus lowered 2.0 mm after each of them as it is here',
    ],
    ['a name without end', `Fit the ${'long-'.repeat(40)} lens, cut at 4 mm/s`],
  ])('keeps to 20 words and to its width with %s', (_, action) => {
    const words = wordsOf(panel({ ...section, action }).body).filter(({ size }) => size === 20);
    expect(words.flatMap(({ text }) => text.split(' ')).length).toBeLessThanOrEqual(20);
    for (const { text } of words) expect(text.length).toBeLessThanOrEqual(45);
  });

  it('has a unit on every number, but for those that count passes', () => {
    const lines = [...wordsOf(panel(section).body), ...wordsOf(panel(cured).body)].map(({ text }) => text);
    const bare = lines.flatMap((text) =>
      [...text.replace('1.5in', '').matchAll(/\d+(?:\.\d+)?(?! ?(?:mm|%|passes|\.?\d))/g)].map(
        ([number]) => `${number} in "${text}"`,
      ),
    );
    expect(bare.filter((one) => !/in "pass \d+: /.test(one))).toEqual([]);
    expect(lines.some((text) => /\d mm/.test(text))).toBe(true);
  });

  it('has one scale across and down in both of its drawings', () => {
    const lens = section.lenses[0]!;
    const { body } = panel(section);
    const [strip, sheet] = [
      ...body.matchAll(/<rect class="p-stock" x="([\d.]+)" y="([\d.]+)" width="([\d.]+)" height="([\d.]+)"/g),
    ];
    const stock = [strip, sheet].map((found) => Number(found![4])).sort((a, b) => a - b);
    // The sheet is 12 mm: its height tells the scale; the spot of the magnified beam keeps to it.
    const [, magnified] = stock.map((px) => px / section.thicknessMm);
    const kerf = /<path class="p-kerf" d="M([\d.]+) [\d.]+L[^Z]*L([\d.]+) [\d.]+Z"/.exec(body)!;
    expect((Number(kerf[2]) - Number(kerf[1])) / magnified!).toBeCloseTo(lens.kerfTopMm!, 1);
  });

  it('hatches what stays uncut and measures it; nothing where it parts', () => {
    expect(panel(section).body).toContain('p-hatch');
    expect(panel(section).body).toContain('3.6 mm uncut');
    expect(panel(cured).body).not.toContain('p-hatch');
    expect(panel(cured).body).toContain('Predicted to part.');
  });
});

describe('the chart of reach', () => {
  it('has all lenses, where the job is and where it should go, in numbers of the result', () => {
    const { body, description } = reachOfJob(drawing, result.thicknessMm)!;
    expect(body.match(/class="p-sure/g)).toHaveLength(3);
    expect(body.match(/class="p-median/g)).toHaveLength(3);
    expect(body).toContain('you are here: 4.5 mm/s, 6 %');
    const { speedMmPerS } = result.cure!.cuts[0]!.passes[0]!;
    expect(body).toContain(
      `go to here: ${result.cure!.cuts[0]!.passes.length} passes, ${speedMmPerS} mm/s, ${Math.round(result.cure!.throughProbability * 100)} %`,
    );
    for (const id of ['1.5in', '2in', '4in']) expect(description).toContain(`the ${id} lens parts`);
  });

  it('is there where only artwork is given, with what is proposed', () => {
    const files = {
      ...shed(),
      ...demoFiles('weather-vane-hub.svg'),
      'hub.job.yaml':
        'kerflint: 1\nmachine: shed-60w\nmaterial: birch-plywood\nthickness: 3 mm\nartwork: weather-vane-hub.svg\ntasks:\n  - { name: all, aim: through }\n',
    };
    const alone = drawn(files);
    expect(alone.result.verdict).toBe('pass');
    const chart = reachOfJob(alone.drawing, 3)!;
    expect(chart.body).toContain('go to here');
    expect(chart.body).not.toContain('you are here');
    expect(alone.drawing.card.recipes[0]).toMatchObject({ stated: null, proposed: { passes: expect.any(Number) } });
  });

  it('proposes nothing for a job that is not judged', () => {
    const files = hub();
    files['weather-vane-hub.gcode'] = String(files['weather-vane-hub.gcode']).replace('M2', 'G0 X[#1+3]\nM2');
    const open = drawn(files);
    expect(open.result.verdict).toBe('incomplete');
    expect([open.drawing.goTo, open.drawing.curedSection, open.drawing.section?.action ?? null]).toEqual([
      null,
      null,
      null,
    ]);
    expect(open.drawing.card.recipes.every(({ proposed }) => proposed === null)).toBe(true);
  });
});
