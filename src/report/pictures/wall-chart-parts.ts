import { escapeHtml } from '../escape.ts';
import { coordinate } from './picture-parts.ts';

/** A4, landscape, in mm: it is made to be printed in greys and pinned beside the machine. */
export const PAGE = { width: 297, height: 210, margin: 12 };
/** Ink from black to the page: told apart by lightness, never by hue. */
export const INK = {
  text: '#111111',
  soft: '#555555',
  band: '#d4d4d4',
  rule: '#bbbbbb',
  mark: '#eeeeee',
  page: '#ffffff',
};

/** Words at a place, in mm of the page. */
export function pageText(
  x: number,
  y: number,
  words: string,
  style: { size: number; weight?: string; fill?: string; anchor?: string; halo?: boolean },
): string {
  const { size, weight, fill = INK.text, anchor, halo } = style;
  const more = [
    weight === undefined ? '' : ` font-weight="${weight}"`,
    anchor === undefined ? '' : ` text-anchor="${anchor}"`,
    halo ? ` paint-order="stroke" stroke="${INK.page}" stroke-width="0.9"` : '',
  ].join('');
  return `<text x="${coordinate(x)}" y="${coordinate(y)}" font-size="${coordinate(size)}" fill="${fill}"${more}>${escapeHtml(words)}</text>`;
}

/** A straight line between two places. */
export function pageRule(
  x1: number,
  y1: number,
  x2: number,
  y2: number,
  style: { stroke: string; width: number; dash?: string },
): string {
  const dash = style.dash === undefined ? '' : ` stroke-dasharray="${style.dash}"`;
  return `<line x1="${coordinate(x1)}" y1="${coordinate(y1)}" x2="${coordinate(x2)}" y2="${coordinate(y2)}" stroke="${style.stroke}" stroke-width="${style.width}"${dash}/>`;
}
