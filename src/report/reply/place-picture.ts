import type { JobDrawing } from '../../facts/drawing/drawing-model.ts';
import { escapeHtml } from '../escape.ts';
import { coordinate } from '../pictures/picture-parts.ts';
import type { Told } from './letter.ts';

const WIDTH_PX = 720;
const MOST_HEIGHT_PX = 1000;
const MARGIN_PX = 24;
/** Radius of a mark and size of its number, px: read on a phone, and on paper. */
const MARK_PX = 11;

/**
 * Where in the drawing the problems of a letter lie: its lines in grey, a numbered ring for each problem that has a place. It says nothing of
 * how the job is cut. Null where no problem has a place.
 */
export function placePicture(drawing: JobDrawing | null, told: readonly Told[], title: string): string | null {
  const marked = told.filter(({ at }) => at !== null);
  if (drawing === null || marked.length === 0) return null;
  const { view, yUp } = drawing;
  const widthMm = Math.max(view.maxX - view.minX, 1e-3);
  const heightMm = Math.max(view.maxY - view.minY, 1e-3);
  const pxPerMm = Math.min((WIDTH_PX - 2 * MARGIN_PX) / widthMm, (MOST_HEIGHT_PX - 2 * MARGIN_PX) / heightMm);
  const width = widthMm * pxPerMm + 2 * MARGIN_PX;
  const height = heightMm * pxPerMm + 2 * MARGIN_PX;
  const x = (mm: number) => MARGIN_PX + (mm - view.minX) * pxPerMm;
  const y = (mm: number) => MARGIN_PX + (yUp ? view.maxY - mm : mm - view.minY) * pxPerMm;
  const d = [...drawing.artwork, ...drawing.cuts.flatMap(({ lines }) => lines)]
    .map((line) => path(line, x, y))
    .join('');
  const areas = drawing.areas.map(({ minX, minY, maxX, maxY }) =>
    path([minX, minY, maxX, minY, maxX, maxY, minX, maxY, minX, minY], x, y),
  );
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${coordinate(width)}" height="${coordinate(height)}" viewBox="0 0 ${coordinate(width)} ${coordinate(height)}" role="img">`,
    `<title>${escapeHtml(title)}</title>`,
    `<rect width="${coordinate(width)}" height="${coordinate(height)}" fill="#fff"/>`,
    `<path d="${d}${areas.join('')}" fill="none" stroke="#767676" stroke-width="1"/>`,
    ...marks(marked.map(({ number, at }) => ({ number, x: x(at!.x), y: y(at!.y) }))),
    '</svg>',
    '',
  ].join('\n');
}

type Axis = (mm: number) => number;

function path(line: readonly number[], x: Axis, y: Axis): string {
  let d = '';
  for (let i = 0; i + 1 < line.length; i += 2)
    d += `${i === 0 ? 'M' : 'L'}${coordinate(x(line[i]!))} ${coordinate(y(line[i + 1]!))}`;
  return d;
}

interface Mark {
  readonly number: number;
  readonly x: number;
  readonly y: number;
}

/** A dot at the place, and beside it the number in a ring, which gives way to those that are there. */
function marks(wanted: readonly Mark[]): string[] {
  const rings: Mark[] = [];
  for (const mark of wanted) {
    let ring = { ...mark, x: mark.x + MARK_PX, y: mark.y - MARK_PX };
    while (rings.some((other) => Math.hypot(other.x - ring.x, other.y - ring.y) < 2 * MARK_PX))
      ring = { ...ring, y: ring.y + 2 * MARK_PX };
    rings.push(ring);
  }
  return wanted.map((mark, i) => {
    const { x, y } = rings[i]!;
    return [
      `<circle cx="${coordinate(mark.x)}" cy="${coordinate(mark.y)}" r="3" fill="#000"/>`,
      `<path d="M${coordinate(mark.x)} ${coordinate(mark.y)}L${coordinate(x)} ${coordinate(y)}" stroke="#000" stroke-width="1.5"/>`,
      `<circle cx="${coordinate(x)}" cy="${coordinate(y)}" r="${MARK_PX}" fill="#fff" stroke="#000" stroke-width="2"/>`,
      `<text x="${coordinate(x)}" y="${coordinate(y + 4.5)}" font-family="sans-serif" font-size="13" font-weight="bold" text-anchor="middle">${mark.number}</text>`,
    ].join('');
  });
}
