import type { Box } from '../../geometry/outlines/outline.ts';
import { formatSizeMm } from '../../units/format.ts';
import { escapeHtml } from '../escape.ts';
import { type LabelBox, LabelRoom, labelBox, textWidth } from './label-room.ts';
import { labelsAbove, labelsBeside, type ShownPart, scaleBar, tickLabel, ticks, toPx } from './map-rulers.ts';
import { coordinate } from './picture-parts.ts';

/** What is written on a map beside its lines: plain data, so that a page can write it again when the view changes. */
export interface MapPlan {
  readonly yUp: boolean;
  readonly sheet: Box | null;
  readonly bed: Box | null;
  /** Shaded areas with what they get: middle and size, mm. */
  readonly areas: readonly { x: number; y: number; width: number; height: number; says: string }[];
  /** Where the pieces begin, in cutting order: the first is number 1. */
  readonly starts: readonly { x: number; y: number }[];
}

/** How marks are laid out. */
export interface MarksLayout {
  readonly fontPx: number;
  /** Labels keep as much room as if they were so many times as large: a small screen shows those of a picture larger. */
  readonly growth: number;
  /** The scales lie on the picture, at its edges, instead of beside it. */
  readonly inside: boolean;
  /** Places that are taken already, px. */
  readonly taken: readonly LabelBox[];
}

/** Height of the lower scale and of the bar below it, px per px of a letter. */
const ROW = 1.9;

/** Scales, scale bar, edges' names, energies, and the numbers of the pieces where they begin: as much as there is room for. */
export function mapMarks(plan: MapPlan, shown: ShownPart, layout: MarksLayout): { scales: string; numbers: string } {
  const size = layout.fontPx;
  const width = (shown.maxX - shown.minX) * shown.pxPerMm;
  const height = (shown.maxY - shown.minY) * shown.pxPerMm;
  const left = layout.inside ? leftBand(shown, height, size) : 0;
  const foot = layout.inside ? size * ROW : 0;
  const room = new LabelRoom({ left, top: layout.inside ? 0 : -3 * size, right: width, bottom: height - foot });
  for (const box of layout.taken) room.block(box);
  const bar = bars(shown, { width, height, left, foot }, layout, room);
  const scales = [
    ...lowerScale(shown, { width, height, left, foot }, layout),
    ...leftScale(shown, { height, left, foot }, layout),
  ];
  return {
    scales: [...scales, ...bar, ...edgeNames(plan, shown, layout, room)].join(''),
    numbers: [...energies(plan, shown, size, room), ...numbers(plan, shown, size, room)].join(''),
  };
}

interface Field {
  width: number;
  height: number;
  left: number;
  foot: number;
}

function leftBand(shown: ShownPart, height: number, size: number): number {
  const marks = ticks(shown.minY, shown.maxY, height / (shown.maxY - shown.minY), labelsAbove(size));
  return Math.max(0, ...marks.map((mm) => textWidth(tickLabel(mm), size))) + 12;
}

function lowerScale(
  shown: ShownPart,
  { width, height, left, foot }: Field,
  { fontPx, growth, inside }: MarksLayout,
): string[] {
  const at = height - foot;
  const marks = ticks(shown.minX, shown.maxX, shown.pxPerMm, labelsBeside(fontPx * growth));
  const fits = (mm: number) => {
    const half = textWidth(tickLabel(mm), fontPx) / 2;
    const { x } = toPx(shown, mm, 0);
    return !inside || (x - half >= left && x + half <= width);
  };
  return [
    inside
      ? `<rect class="p-margin" x="0" y="${coordinate(at)}" width="${coordinate(width)}" height="${coordinate(foot)}"/>`
      : '',
    ...marks.filter(fits).map((mm) => {
      const { x } = toPx(shown, mm, 0);
      return `<path class="p-axis" d="M${coordinate(x)} ${coordinate(at + (inside ? 0 : 4))}v4"/>${text(x, at + (inside ? 5 : 14) + fontPx, 't-mid t-soft', tickLabel(mm))}`;
    }),
  ];
}

function leftScale(
  shown: ShownPart,
  { height, left, foot }: Omit<Field, 'width'>,
  { fontPx, growth, inside }: MarksLayout,
): string[] {
  const marks = ticks(shown.minY, shown.maxY, shown.pxPerMm, labelsAbove(fontPx * growth));
  const fits = (mm: number) => {
    const { y } = toPx(shown, 0, mm);
    return !inside || (y - fontPx / 2 >= 0 && y + fontPx / 2 <= height - foot);
  };
  return [
    inside
      ? `<rect class="p-margin" x="0" y="0" width="${coordinate(left)}" height="${coordinate(height - foot)}"/>`
      : '',
    ...marks.filter(fits).map((mm) => {
      const { y } = toPx(shown, 0, mm);
      return `<path class="p-axis" d="M${coordinate(left - (inside ? 5 : 8))} ${coordinate(y)}h4"/>${text(left - (inside ? 7 : 11), y + fontPx * 0.35, 't-end t-soft', tickLabel(mm))}`;
    }),
  ];
}

function bars(
  shown: ShownPart,
  { width, height, foot }: Field,
  { fontPx, growth, inside }: MarksLayout,
  room: LabelRoom,
): string[] {
  const { px, label } = scaleBar(shown.pxPerMm);
  const y = inside ? height - foot - 8 : height + fontPx * growth * ROW + 16;
  const x = inside ? width - px - textWidth(label, fontPx) - 12 : 0;
  room.block({ left: x - 4, top: y - fontPx, right: x + px + textWidth(label, fontPx) + 12, bottom: y + 6 });
  return [
    `<path class="p-axis" d="M${coordinate(x)} ${coordinate(y - 4)}v4h${coordinate(px)}v-4"/>`,
    text(x + px + 5, y + 1, 'halo', label),
  ];
}

/** Sheet and bed by their upper left corners, above their edges. */
function edgeNames(
  { sheet, bed }: MapPlan,
  shown: ShownPart,
  { fontPx, growth }: MarksLayout,
  room: LabelRoom,
): string[] {
  const named = [
    { name: 'sheet', box: sheet },
    { name: 'bed', box: bed },
  ];
  return named.flatMap(({ name, box }) => {
    if (box === null) return [];
    const says = `${name} ${formatSizeMm(box.maxX - box.minX, box.maxY - box.minY)}`;
    const corner = toPx(shown, box.minX, shown.yUp ? box.maxY : box.minY);
    const y = corner.y - 5;
    return room.take(labelBox(corner.x, y, says, fontPx * growth, 'start'))
      ? [text(corner.x, y, 't-soft halo', says)]
      : [];
  });
}

function energies({ areas }: MapPlan, shown: ShownPart, size: number, room: LabelRoom): string[] {
  return areas.flatMap(({ x, y, width, height, says }) => {
    const middle = toPx(shown, x, y);
    const fits = width * shown.pxPerMm >= textWidth(says, size) + 6 && height * shown.pxPerMm >= size * 1.5;
    const box = labelBox(middle.x, middle.y + size * 0.35, says, size, 'mid');
    return fits && room.take(box) ? [text(middle.x, middle.y + size * 0.35, 't-mid halo', says)] : [];
  });
}

/** A number beside the dot where the beam begins, on whichever side there is room; where there is none, neither. */
function numbers({ starts }: MapPlan, shown: ShownPart, size: number, room: LabelRoom): string[] {
  const sides = [
    { dx: 4, dy: -3, anchor: 'start', css: '' },
    { dx: 4, dy: size, anchor: 'start', css: '' },
    { dx: -4, dy: size, anchor: 'end', css: ' t-end' },
    { dx: -4, dy: -3, anchor: 'end', css: ' t-end' },
  ] as const;
  return starts.flatMap((start, i) => {
    const { x, y } = toPx(shown, start.x, start.y);
    const label = String(i + 1);
    const side = sides.find(({ dx, dy, anchor }) => room.take(labelBox(x + dx, y + dy, label, size, anchor)));
    if (side === undefined) return [];
    const dot = `<circle class="p-start" cx="${coordinate(x)}" cy="${coordinate(y)}" r="2.4"/>`;
    return [dot + text(x + side.dx, y + side.dy, `t-bold halo${side.css}`, label)];
  });
}

function text(x: number, y: number, classes: string, says: string): string {
  return `<text class="${classes}" x="${coordinate(x)}" y="${coordinate(y)}">${escapeHtml(says)}</text>`;
}
