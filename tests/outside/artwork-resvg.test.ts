// A second opinion on boxes: @resvg/resvg-js, another implementation of SVG.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { Resvg } from '@resvg/resvg-js';
import { describe, expect, it } from 'vitest';
import type { Box } from '../../src/geometry/outlines/outline.ts';
import type { Artwork } from '../../src/model/artwork.ts';
import { textSource } from '../../src/source/source.ts';
import { parseAspectRatio, parseViewBox, viewBoxTransform } from '../../src/svg/frames/viewport.ts';
import { readArtwork } from '../../src/svg/read.ts';

const REPOSITORY = join(import.meta.dirname, '../..');
const FOLDERS = [join(REPOSITORY, 'fixtures/artwork'), join(REPOSITORY, '../shared/corpus/svg/shapes')];
const PX_PER_MM = 96 / 25.4;

/** Shapes only: text and images have boxes of their own there, and strokes widen them. */
const files = FOLDERS.filter((folder) => existsSync(folder)).flatMap((folder) =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.svg'))
    .map((name) => join(folder, name)),
);
if (files.length < 50) console.warn('The comparison of boxes with resvg ran without the corpus.');

const UNITS = 'resvg does not know one of the units (rem, cap, ic, rlh); the browser does.';
/** Files where the two read something differently, by the end of their name, with the reason. */
const EXPLAINED: Readonly<Record<string, string>> = {
  'artwork/clips.svg': 'resvg leaves clips out of its boxes.',
  'artwork/structure.svg':
    'resvg lets a later rule win over !important, and leaves the inner viewport out of its boxes.',
  'artwork/style-cascade.svg': 'one element keeps its stroke by !important, and resvg counts the stroke.',
  'artwork/units-and-boxes.svg': UNITS,
  'rect/cap-values.svg': UNITS,
  'rect/ic-values.svg': UNITS,
  'rect/rlh-values.svg': UNITS,
  'path/M-T-T.svg': 'resvg reaches beyond the curve after two T commands; the browser agrees with the box here.',
};

/** What the file draws, filled instead of stroked, so that boxes are those of the outlines. */
function filled(text: string): string {
  const root = /<svg\b/.exec(text);
  const at = text.indexOf('>', root?.index ?? 0);
  const style = '<style>* { stroke: none !important; fill: #000 !important; marker: none !important }</style>';
  return text.slice(0, at + 1) + style + text.slice(at + 1);
}

/** Its boxes are in the user units of the outermost viewBox. */
function inRootUnits(box: Box, artwork: Artwork, text: string): number[] {
  const root = /<(?:svg:)?svg\b[^>]*>/.exec(text)?.[0] ?? '';
  const viewBox = parseViewBox(/viewBox="([^"]*)"/.exec(root)?.[1] ?? '');
  const ratio = parseAspectRatio(/preserveAspectRatio="([^"]*)"/.exec(root)?.[1] ?? 'xMidYMid');
  const [a, , , d, e, f] =
    viewBox && ratio
      ? viewBoxTransform(viewBox, ratio, 0, 0, artwork.widthMm * PX_PER_MM, artwork.heightMm * PX_PER_MM)
      : [1, 0, 0, 1, 0, 0];
  const x = (mm: number): number => (mm * PX_PER_MM - e) / a;
  const y = (mm: number): number => (mm * PX_PER_MM - f) / d;
  return [x(box.minX), y(box.minY), x(box.maxX), y(box.maxY)];
}

describe('the box of all outlines against resvg', () => {
  it.each(files.map((file) => [relative(REPOSITORY, file), file]))('%s', (name, file) => {
    const text = filled(readFileSync(file, 'utf8'));
    const artwork = readArtwork(textSource(name, text), { pxPerInch: 96 });
    const theirs = new Resvg(text, { font: { loadSystemFonts: false } }).getBBox();
    const ours = artwork.boundsMm;
    const box = ours ? inRootUnits(ours, artwork, text) : [];
    const other = theirs ? [theirs.x, theirs.y, theirs.x + theirs.width, theirs.y + theirs.height] : [];
    const same =
      box.length === other.length &&
      box.every((value, i) => Math.abs(value - other[i]!) < 0.05 + 0.005 * Math.abs(other[i]!));
    const reason = Object.keys(EXPLAINED).find((end) => name.endsWith(end));
    expect(same, `${box.join(' ')} against ${other.join(' ')}`).toBe(reason === undefined);
  });
});
