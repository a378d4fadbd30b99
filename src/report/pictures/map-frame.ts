import { scaleLinear } from 'd3-scale';
import type { JobDrawing } from '../../facts/drawing/drawing-model.ts';
import { formatSizeMm, trimmed } from '../../units/format.ts';
import { coordinate, type Picture } from './picture-parts.ts';

/** Units of the picture per mm: whole numbers then carry hundredths, and paths stay short. */
export const PER_MM = 100;
/** The picture is laid out as if it were so many px wide. */
const WIDTH_PX = 560;
/** Size of the figures along the axes, px. */
const LABEL_PX = 9.5;

/** From the job's coordinates to the picture's. */
export class MapFrame {
  readonly view: JobDrawing['view'];
  readonly yUp: boolean;
  readonly viewBox: Picture['viewBox'];
  /** Units of the picture in a px of its lay-out. */
  readonly px: number;

  constructor({ view, yUp }: JobDrawing) {
    this.view = view;
    this.yUp = yUp;
    const width = Math.max(1, view.maxX - view.minX) * PER_MM;
    const height = Math.max(1, view.maxY - view.minY) * PER_MM;
    // A long narrow strip keeps room for its marks.
    this.px = Math.max(width, height * 1.2) / (WIDTH_PX - 76);
    const left = 46 * this.px;
    const around = 30 * this.px;
    this.viewBox = { x: -left, y: -around, width: width + left + around, height: height + around + 44 * this.px };
  }

  x(mm: number): number {
    return Math.round((mm - this.view.minX) * PER_MM);
  }

  y(mm: number): number {
    return Math.round((this.yUp ? this.view.maxY - mm : mm - this.view.minY) * PER_MM);
  }

  /** A path of relative whole numbers: the shortest there is. */
  path(line: readonly number[]): string {
    let x = this.x(line[0]!);
    let y = this.y(line[1]!);
    let d = `M${x} ${y}l`;
    for (let i = 2; i + 1 < line.length; i += 2) {
      const nextX = this.x(line[i]!);
      const nextY = this.y(line[i + 1]!);
      const dx = nextX - x;
      const dy = nextY - y;
      d += `${i === 2 || dx < 0 ? '' : ' '}${dx}${dy < 0 ? '' : ' '}${dy}`;
      x = nextX;
      y = nextY;
    }
    return d;
  }
}

/** The scales along the lower and the left edge. */
export function axes(frame: MapFrame): string[] {
  const { view, px } = frame;
  const bottom = frame.y(frame.yUp ? view.minY : view.maxY);
  const left = frame.x(view.minX);
  const xs = scaleLinear([view.minX, view.maxX], [0, 1]).ticks(8);
  const ys = scaleLinear([view.minY, view.maxY], [0, 1]).ticks(6);
  const mark = (d: string) => `<path class="p-axis" vector-effect="non-scaling-stroke" d="${d}"/>`;
  const label = (x: number, y: number, classes: string, mm: number) =>
    `<text class="${classes} t-soft" x="${coordinate(x)}" y="${coordinate(y)}">${trimmed(mm, 2)}</text>`;
  return [
    // A size for all, so that a small screen can have it larger.
    `<g class="axes" font-size="${coordinate(LABEL_PX * px)}">`,
    ...xs.map(
      (mm) =>
        mark(`M${frame.x(mm)} ${coordinate(bottom + 4 * px)}v${coordinate(5 * px)}`) +
        label(frame.x(mm), bottom + 24 * px, 't-mid', mm),
    ),
    ...ys.map(
      (mm) =>
        mark(`M${coordinate(left - 4 * px)} ${frame.y(mm)}h${coordinate(-5 * px)}`) +
        label(left - 12 * px, frame.y(mm) + 3 * px, 't-end', mm),
    ),
    `<text class="t-end t-soft" x="${frame.x(view.maxX)}" y="${coordinate(bottom + 40 * px)}">mm</text>`,
    '</g>',
  ];
}

/** The sheet's edge with its size; nothing where no sheet is stated. */
export function sheetOutline(drawing: JobDrawing, frame: MapFrame): string[] {
  if (!drawing.sheet) return [];
  const { minX, minY, maxX, maxY } = drawing.sheet;
  const top = Math.min(frame.y(minY), frame.y(maxY));
  const width = frame.x(maxX) - frame.x(minX);
  const height = Math.abs(frame.y(maxY) - frame.y(minY));
  const at = `x="${frame.x(minX)}" y="${top}" width="${width}" height="${height}"`;
  return [
    `<rect class="p-sheet" ${at}/>`,
    `<rect class="p-edge" vector-effect="non-scaling-stroke" ${at}/>`,
    `<g class="axes" font-size="${coordinate(LABEL_PX * frame.px)}"><text class="t-soft" x="${frame.x(minX)}" y="${coordinate(top - 8 * frame.px)}">sheet ${formatSizeMm(maxX - minX, maxY - minY)}</text></g>`,
  ];
}
