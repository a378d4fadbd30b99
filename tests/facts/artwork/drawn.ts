import { type ThroughLines, throughLines } from '../../../src/facts/artwork/through-lines.ts';
import { textSource } from '../../../src/source/source.ts';
import { readArtwork } from '../../../src/svg/read.ts';

/** The lines of a drawing in millimetres, all of which part the sheet; one element a line of gate.svg, the first on line 2. */
export function drawn(...elements: readonly string[]): ThroughLines {
  const text = `<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 0 200 100" fill="none" stroke="#1864ab">\n${elements.join('\n')}</svg>`;
  const artwork = readArtwork(textSource('gate.svg', text), { pxPerInch: 96 });
  return throughLines(artwork, 'gate.svg', [{ aim: 'through', outlines: Uint32Array.from(artwork.outlines.keys()) }]);
}

/** A path of straight lines. */
export const path = (d: string): string => `<path d="${d}"/>`;

/** A rectangle by its corner and its sides. */
export const rect = (x: number, y: number, width: number, height: number): string =>
  `<rect x="${x}" y="${y}" width="${width}" height="${height}"/>`;
