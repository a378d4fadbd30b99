import { trimmed } from '../../units/format.ts';
import { escapeHtml } from '../escape.ts';
import { standaloneCss } from './picture-style.ts';

/** A picture: what stands inside the `svg` element, and its size in its own units. */
export interface Picture {
  viewBox: { x: number; y: number; width: number; height: number };
  /** Said in place of the picture to those who do not see it. */
  title: string;
  description: string;
  body: string;
}

/** A coordinate with two decimals at most. */
export function coordinate(value: number): string {
  return trimmed(value, 2);
}

/** Words at a place; `classes` are those of the picture style. */
export function svgText(x: number, y: number, size: number, text: string, classes = ''): string {
  const named = classes === '' ? '' : ` class="${classes}"`;
  return `<text x="${coordinate(x)}" y="${coordinate(y)}" font-size="${coordinate(size)}"${named}>${escapeHtml(text)}</text>`;
}

export function straightLine(x1: number, y1: number, x2: number, y2: number, classes: string): string {
  return `<path class="${classes}" d="M${coordinate(x1)} ${coordinate(y1)}L${coordinate(x2)} ${coordinate(y2)}"/>`;
}

export function rectangle(x: number, y: number, width: number, height: number, classes: string): string {
  return `<rect class="${classes}" x="${coordinate(x)}" y="${coordinate(y)}" width="${coordinate(width)}" height="${coordinate(height)}"/>`;
}

/** A picture as a file of its own, on light paper. */
export function pictureFile({ viewBox, title, description, body }: Picture, widthPx = 720): string {
  const { x, y, width, height } = viewBox;
  const heightPx = Math.round((widthPx * height) / width);
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" class="pic" width="${widthPx}" height="${heightPx}" viewBox="${coordinate(x)} ${coordinate(y)} ${coordinate(width)} ${coordinate(height)}" role="img" aria-labelledby="title desc">`,
    `<title id="title">${escapeHtml(title)}</title>`,
    `<desc id="desc">${escapeHtml(description)}</desc>`,
    `<style>${standaloneCss()}</style>`,
    rectangle(x, y, width, height, 'p-paper'),
    body,
    '</svg>',
    '',
  ].join('\n');
}

/** A picture inside a page, whose style sheet has the picture style. `id` must be unique in the page. */
export function pictureInPage(picture: Picture, id: string, role: 'img' | 'group' = 'img'): string {
  const { x, y, width, height } = picture.viewBox;
  return [
    `<svg class="pic" id="${id}" viewBox="${coordinate(x)} ${coordinate(y)} ${coordinate(width)} ${coordinate(height)}" role="${role}" aria-label="${escapeHtml(picture.title)}"${picture.description === '' ? '' : ` aria-describedby="${id}-says"`}>`,
    picture.body,
    '</svg>',
    picture.description === '' ? '' : `<p class="unseen" id="${id}-says">${escapeHtml(picture.description)}</p>`,
  ].join('\n');
}
