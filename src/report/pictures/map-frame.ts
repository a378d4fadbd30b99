import type { JobDrawing } from '../../facts/drawing/drawing-model.ts';
import type { Box } from '../../geometry/outlines/outline.ts';
import { textWidth } from './label-room.ts';
import { tickLabel } from './map-rulers.ts';
import type { Picture } from './picture-parts.ts';

/** Units of a page's map per mm: whole numbers then carry hundredths, and paths stay short. */
export const PER_MM = 100;
/** The picture is laid out as if it were so many px wide. */
const WIDTH_PX = 560;
/** Size of the letters, px. */
export const LABEL_PX = 9.5;
/** On a phone, where the picture is smaller, the letters beside it are shown so many times as large (the style sheet of the report). */
export const PHONE_GROWTH = 1.9;
/** Space around the sheet, px. */
const AROUND = { right: 30, top: 34, bottom: 70 };

/** Where a map is shown. */
export type MapSurface = 'page' | 'file';

/**
 * From the job's coordinates to the picture's. A page has the lines keep their width however closely one looks (its
 * style sheet does); a picture that stands alone has px for units, so that its lines have real widths for whatever draws it.
 */
export class MapFrame {
  readonly view: Box;
  readonly yUp: boolean;
  readonly viewBox: Picture['viewBox'];
  /** Units of the picture in a px of its lay-out. */
  readonly px: number;
  readonly #perMm: number;
  readonly #decimals: number;

  constructor({ view, yUp }: Pick<JobDrawing, 'view' | 'yUp'>, surface: MapSurface) {
    this.view = view;
    this.yUp = yUp;
    const widthMm = Math.max(0.01, view.maxX - view.minX);
    const heightMm = Math.max(0.01, view.maxY - view.minY);
    const labels = [view.minY, view.maxY].map((mm) => textWidth(tickLabel(Math.round(mm)), LABEL_PX * PHONE_GROWTH));
    const leftPx = 18 + Math.max(...labels);
    // A long narrow strip keeps room for its marks.
    const pxPerMm = (WIDTH_PX - leftPx - AROUND.right) / Math.max(widthMm, heightMm * 1.2);
    this.#perMm = surface === 'page' ? PER_MM : pxPerMm;
    this.#decimals = surface === 'page' ? 1 : 100;
    this.px = this.#perMm / pxPerMm;
    this.viewBox = {
      x: -leftPx * this.px,
      y: -AROUND.top * this.px,
      width: widthMm * this.#perMm + (leftPx + AROUND.right) * this.px,
      height: heightMm * this.#perMm + (AROUND.top + AROUND.bottom) * this.px,
    };
  }

  /** The part of the sheet that is laid out, for its marks. */
  get shown(): Box & { pxPerMm: number; yUp: boolean } {
    return { ...this.view, pxPerMm: this.#perMm / this.px, yUp: this.yUp };
  }

  x(mm: number): number {
    return this.#rounded((mm - this.view.minX) * this.#perMm);
  }

  y(mm: number): number {
    return this.#rounded((this.yUp ? this.view.maxY - mm : mm - this.view.minY) * this.#perMm);
  }

  /** A box in the picture's units, as attributes. */
  rect(box: Box): string {
    const top = Math.min(this.y(box.minY), this.y(box.maxY));
    const width = this.#rounded(this.x(box.maxX) - this.x(box.minX));
    const height = this.#rounded(Math.abs(this.y(box.maxY) - this.y(box.minY)));
    return `x="${this.x(box.minX)}" y="${top}" width="${width}" height="${height}"`;
  }

  /** A path of relative steps: the shortest there is. */
  path(line: readonly number[]): string {
    let x = this.x(line[0]!);
    let y = this.y(line[1]!);
    let d = `M${x} ${y}l`;
    for (let i = 2; i + 1 < line.length; i += 2) {
      const nextX = this.x(line[i]!);
      const nextY = this.y(line[i + 1]!);
      const dx = this.#rounded(nextX - x);
      const dy = this.#rounded(nextY - y);
      d += `${i === 2 || dx < 0 ? '' : ' '}${dx}${dy < 0 ? '' : ' '}${dy}`;
      x = nextX;
      y = nextY;
    }
    return d;
  }

  #rounded(value: number): number {
    return Math.round(value * this.#decimals) / this.#decimals;
  }
}
