import { describe, expect, it } from 'vitest';
import { type Files, run, shed } from '../memory-shop.ts';

/** Lists longer than any list is shown: a rule chooses among all that was found, and what it counts is the true number. */
const MANY = 600;

const sidecar = (files: string) => `kerflint: 1
machine: shed-60w
lens: 2in
material: birch-plywood
thickness: 3 mm ± 0.1 mm
zero: sheet-corner
sheet: { width: 400 mm, height: 300 mm }
${files}tasks:
  - { name: parts, aim: through, power: 80 %, speed: 10 mm/s, air: 1 bar }
`;

const many = (at: (x: number, y: number, i: number) => string) =>
  Array.from({ length: MANY }, (_, i) => at(10 + (i % 40) * 9, 10 + Math.floor(i / 40) * 9, i)).join('\n');

const square = (x: number, y: number, side: number) =>
  `G0 X${x} Y${y}\nG1 X${x + side}\nG1 Y${y + side}\nG1 X${x}\nG1 Y${y}`;

const gcode = (inside: string) => `G21 G90\nM8\nM4 S800 F600\n${inside}\nM5\nM9\nM2\n`;
const svg = (inside: string) =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="300mm" viewBox="0 0 400 300">\n<g stroke="#1864ab" fill="none">\n${inside}\n</g></svg>`;

const toolpathJob = (inside: string): Files => ({
  'part.job.yaml': sidecar('toolpath: part.gcode\n'),
  'part.gcode': gcode(inside),
});
const artworkJob = (inside: string): Files => ({
  'part.job.yaml': sidecar('artwork: part.svg\n'),
  'part.svg': svg(inside),
});
const both = (program: string, drawing: string): Files => ({
  'part.job.yaml': sidecar('toolpath: part.gcode\nartwork: part.svg\n'),
  'part.gcode': gcode(program),
  'part.svg': svg(drawing),
});

const message = (files: Files, rule: string) => {
  const [job] = run({ ...shed(), ...files }).jobs;
  expect(job!.incomplete).toEqual([]);
  const found = job!.findings.filter((finding) => finding.rule === rule);
  expect(found).toHaveLength(1);
  return found[0]!.message;
};

const plate = '<path d="M5 5 H395 V295 H5 Z"/>';
const platePath = 'G0 X5 Y5\nG1 X395\nG1 Y295\nG1 X5\nG1 Y5';
/** A lopsided frame, so that the drawing lies on the program in one way only. */
const frame = 'M5 5 H395 V295 H200 L5 250 Z';
const framePath = 'G0 X5 Y295\nG1 X395\nG1 Y5\nG1 X200\nG1 X5 Y50\nG1 Y295';

describe('long lists', () => {
  it('two pieces that tip up are found beside six hundred holes that do not', () => {
    const holes = many((x, y) => square(x, y, 2));
    const pieces = `${square(10, 200, 15)}\n${square(40, 200, 16)}`;
    expect(message(toolpathJob(`${holes}\n${pieces}`), 'toolpath/tip-up')).toMatch(
      /^2 pieces .* the first 15\.0 mm wide/,
    );
  });

  it.each<[string, Files, RegExp]>([
    ['toolpath/tip-up', toolpathJob(many((x, y) => square(x, y, 8.5))), /^600 pieces/],
    ['toolpath/inner-after-outer', toolpathJob(`${platePath}\n${many((x, y) => square(x, y, 2))}`), /^600 contours/],
    [
      'toolpath/open-cut',
      toolpathJob(many((x, y) => `G0 X${x} Y${y}\nG1 X${x + 5}\nG1 Y${y + 5}\nG1 X${x}\nG1 Y${y + 0.5}`)),
      /^600 contours/,
    ],
    [
      'toolpath/heat-crowding',
      toolpathJob(
        Array.from({ length: 60 }, (_, i) => {
          const [x, y] = [11 + (i % 10) * 10, 11 + Math.floor(i / 10) * 10];
          return Array.from({ length: 18 }, (_, k) => `G0 X${x + k * 0.45} Y${y}\nG1 Y${y + 8}`).join('\n');
        }).join('\n'),
      ),
      /^60 patches/,
    ],
    ['artwork/open-outline', artworkJob(many((x, y) => `<path d="M${x} ${y} h5 v5 h-5 v-3.5"/>`)), /^600 outlines/],
    ['artwork/nearly-closed', artworkJob(many((x, y) => `<path d="M${x} ${y} h5 v5 h-5 v-4.5"/>`)), /^600 outlines/],
    [
      'artwork/duplicate-line',
      artworkJob(many((x, y) => `<path d="M${x} ${y} h5 v5 h-5 Z"/><path d="M${x} ${y} h5"/>`)),
      /^3000\.0 mm .* \(600 pairs of lines\)/,
    ],
    ['artwork/self-crossing', artworkJob(many((x, y) => `<path d="M${x} ${y} l5 5 v-5 l-5 5 Z"/>`)), /^600 outlines/],
    [
      'artwork/overlapping-parts',
      artworkJob(many((x, y) => `<path d="M${x} ${y} h5 v5 h-5 Z"/><path d="M${x + 2} ${y + 2} h5 v5 h-5 Z"/>`)),
      /^600 pairs/,
    ],
    [
      'artwork/web-too-thin',
      artworkJob(many((x, y) => `<path d="M${x} ${y} h3 v5 h-3 Z"/><path d="M${x + 3.2} ${y + 2} l3 -3 v6 Z"/>`)),
      /^600 webs/,
    ],
    [
      'artwork/feature-below-kerf',
      artworkJob(`${plate}\n${many((x, y) => `<path d="M${x} ${y} h2 v0.1 h-2 Z"/>`)}`),
      /^600 holes or slots/,
    ],
    ['artwork/off-sheet', artworkJob(many((x, y) => `<path d="M${x + 400} ${y} h5 v5 h-5 Z"/>`)), /^600 outlines/],
    [
      'match/missing-in-toolpath',
      both(
        `${framePath}\n${many((x, y) => `G0 X${x} Y${300 - y}\nG1 X${x + 5}\nG1 Y${295 - y}\nG1 X${x}`)}`,
        `<path d="${frame}"/>\n${many((x, y) => `<path d="M${x} ${y} h5 v5 h-5 Z"/>`)}`,
      ),
      /^600 outlines .*: 3000\.0 of 12000\.0 mm/,
    ],
    [
      'power/zero-on-cut',
      both(
        `${framePath}\nS0\n${many((x, y) => `G0 X${x} Y${300 - y}\nG1 X${x + 5}\nG1 Y${295 - y}\nG1 X${x}\nG1 Y${300 - y}`)}`,
        `<path d="${frame}"/>\n${many((x, y) => `<path d="M${x} ${y} h5 v5 h-5 Z"/>`)}`,
      ),
      /600 outlines/,
    ],
    [
      'match/extra-in-toolpath',
      both(`${framePath}\n${many((x, y) => square(x, y, 1.5))}`, `<path d="${frame}"/>`),
      /3600\.0 mm \(600 stretches\)/,
    ],
  ])('%s counts all of them', (rule, files, says) => {
    expect(message(files, rule)).toMatch(says);
  });

  it('an image too coarse is found behind a hundred that are not, and equal ones are counted', () => {
    const png = (width: number, height: number) => {
      const header = Buffer.alloc(33);
      header.write('\x89PNG\r\n\x1a\n', 0, 'latin1');
      header.writeUInt32BE(13, 8);
      header.write('IHDR', 12, 'latin1');
      header.writeUInt32BE(width, 16);
      header.writeUInt32BE(height, 20);
      return `data:image/png;base64,${header.toString('base64')}`;
    };
    const image = (px: number, mm: number) =>
      `<image x="10" y="10" width="${mm}" height="${mm}" href="${png(px, px)}"/>`;
    const fine = Array.from({ length: 100 }, (_, i) => image(1000 + i, 20)).join('\n');
    const text = message(
      artworkJob(`${plate}\n${fine}\n${image(20, 40)}\n${image(20, 40)}`),
      'artwork/low-resolution-image',
    );
    expect(text).toMatch(/^2 images .* 20 × 20 px/);
  });
});
