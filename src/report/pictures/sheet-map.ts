import { scaleLinear } from 'd3-scale';
import type { DrawnArea, DrawnCut, DrawnPin, JobDrawing } from '../../facts/drawing/drawing-model.ts';
import type { Finding } from '../../findings/finding.ts';
import { formatDepth, formatMm, formatSizeMm, significant, trimmed } from '../../units/format.ts';
import { escapeHtml } from '../escape.ts';
import { chanceText, leastSureFirst, marginClass } from './margin-scale.ts';
import { coordinate, type Picture } from './picture-parts.ts';

/** Units of the picture per mm: whole numbers then carry hundredths, and paths stay short. */
export const PER_MM = 100;
/** The picture is laid out as if it were so many px wide. */
const WIDTH_PX = 560;
/** Paths longer than this, in characters, are drawn without dashes: each dash costs, and nobody could see them. */
const DENSE = 60_000;
/** Paths longer than this are hit by the boxes of their lines. */
const LONG = 20_000;
/** Size of the figures along the axes, px. */
const LABEL_PX = 9.5;
/** Pins beyond so many would hide the sheet; the worst findings are pinned first. */
export const MOST_PINS = 60;
/** Steps of energy per area, J/mm², at which the shading gets denser (a mark on wood takes about 0.1 to 1; common practice, no source). */
const ENERGY_STEPS = [0.1, 0.4, 1.5];

/** A finding with its number in the report. */
export interface NumberedFinding {
  number: number;
  finding: Finding;
}

/** Names that a picture in a page gives its parts, so that they can be found and linked to. */
export interface MapIds {
  /** Id of the row that tells of a cut, without `#`. */
  cut(cut: DrawnCut): string;
  /** Id of the row that tells of a finding. */
  finding(fingerprint: string): string;
  prefix: string;
}

/**
 * The sheet to scale as it will lie: toolpath by margin, artwork and travel faint, surface areas shaded, findings pinned.
 * Without `ids` nothing in it is a link: a picture that stands alone.
 */
export function mapPicture(drawing: JobDrawing, findings: readonly NumberedFinding[], ids: MapIds | null): Picture {
  const frame = new MapFrame(drawing);
  // The least sure lies on top.
  const byRisk = leastSureFirst(drawing.cuts.filter((cut) => cut.lines.length > 0)).reverse();
  const parts = [
    ...axes(frame),
    ...sheet(drawing, frame),
    ...drawing.areas.map((area, i) => areaPart(area, i, frame, ids)),
    linesPart(drawing.artwork, frame, 'p-artwork'),
    linesPart(drawing.travels, frame, 'p-travel'),
    ...byRisk.map((cut) => cutPart(cut, frame, ids)),
    ...pins(drawing.pins, findings, frame, ids),
  ];
  return {
    viewBox: frame.viewBox,
    title: `Sheet map of ${drawing.job}`,
    description: describe(drawing),
    body: parts.filter((part) => part !== '').join('\n'),
  };
}

/** From the job's coordinates to the picture's. */
class MapFrame {
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

function axes(frame: MapFrame): string[] {
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

function sheet(drawing: JobDrawing, frame: MapFrame): string[] {
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

function linesPart(lines: readonly number[][], frame: MapFrame, css: string): string {
  if (lines.length === 0) return '';
  const d = lines.map((line) => frame.path(line)).join('');
  const dense = d.length > DENSE / 4 ? ' dense' : '';
  return `<path class="${css}${dense}" vector-effect="non-scaling-stroke" d="${d}"/>`;
}

/** The path once for the eye and once, wide and clear, for pointer and finger. */
function cutPart(cut: DrawnCut, frame: MapFrame, ids: MapIds | null): string {
  const id = `${ids?.prefix ?? 'map'}-path-${cut.cut + 1}`;
  const { css } = marginClass(cut);
  const d = cut.lines.map((line) => frame.path(line)).join('');
  const label = cutLabel(cut);
  const dense = d.length > DENSE ? ' dense' : '';
  return [
    opening(`class="cut"`, ids?.cut(cut), label),
    `<path class="p-cut ${css}${dense}" id="${id}" vector-effect="non-scaling-stroke" d="${d}"/>`,
    `<path class="p-hit" vector-effect="non-scaling-stroke" d="${hitPath(cut, frame, d)}"/>`,
    closing(ids),
  ].join('');
}

/** A part that tells of itself, and in a page leads to where more is told. */
function opening(attributes: string, target: string | undefined, label: string): string {
  const title = `<title>${escapeHtml(label)}</title>`;
  if (target === undefined) return `<g ${attributes}>${title}`;
  return `<a ${attributes} href="#${target}" aria-label="${escapeHtml(label)}">${title}`;
}

function closing(ids: MapIds | null): string {
  return ids === null ? '</g>' : '</a>';
}

/** What a pointer may hit: the path itself, or the boxes of its lines where it is so long that twice would weigh. */
function hitPath(cut: DrawnCut, frame: MapFrame, d: string): string {
  if (d.length < LONG) return d;
  return cut.lines
    .map((line) => {
      const xs = line.filter((_, i) => i % 2 === 0).map((mm) => frame.x(mm));
      const ys = line.filter((_, i) => i % 2 === 1).map((mm) => frame.y(mm));
      const left = xs.reduce((a, b) => Math.min(a, b));
      const top = ys.reduce((a, b) => Math.min(a, b));
      return `M${left} ${top}H${xs.reduce((a, b) => Math.max(a, b))}V${ys.reduce((a, b) => Math.max(a, b))}H${left}z`;
    })
    .join('');
}

/** Everything that is told of a cut under the pointer. */
export function cutLabel(cut: DrawnCut): string {
  const { depthMm, depthLowMm, depthHighMm } = cut;
  const depth =
    depthMm === null || depthLowMm === null || depthHighMm === null
      ? 'depth not predicted'
      : `depth ${formatDepth(depthMm, depthLowMm, depthHighMm)}`;
  return `Cut ${cut.cut + 1}, ${cut.task}: ${cut.recipe}; ${depth}; ${chanceText(cut)}; ${cut.file}:${cut.line}`;
}

function areaPart(area: DrawnArea, index: number, frame: MapFrame, ids: MapIds | null): string {
  const id = `${ids?.prefix ?? 'map'}-shade-${index + 1}`;
  const { px } = frame;
  const energy = area.meanJPerMm2;
  const step = energy === null ? 0 : ENERGY_STEPS.filter((end) => energy >= end).length;
  const spacing = (11 - 2.5 * step) * px;
  const x = frame.x(area.minX);
  const y = Math.min(frame.y(area.minY), frame.y(area.maxY));
  const width = frame.x(area.maxX) - x;
  const height = Math.abs(frame.y(area.maxY) - frame.y(area.minY));
  const label = `Surface ${area.task ?? 'without a task'}: ${energyText(area)}, lines ${trimmed(area.pitchMm, 3)} mm apart; ${area.file}:${area.line}`;
  return [
    `<g role="img" aria-label="${escapeHtml(label)}"><title>${escapeHtml(label)}</title>`,
    `<pattern id="${id}" width="${coordinate(spacing)}" height="${coordinate(spacing)}" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">`,
    `<path class="p-area-hatch" stroke-width="${coordinate((1 + 0.8 * step) * px)}" d="M0 0V${coordinate(spacing)}"/></pattern>`,
    `<rect class="p-area" vector-effect="non-scaling-stroke" fill="url(#${id})" x="${x}" y="${y}" width="${width}" height="${height}"/></g>`,
  ].join('');
}

export function energyText({ meanJPerMm2, peakJPerMm2 }: DrawnArea): string {
  if (meanJPerMm2 === null) return 'energy not known';
  const peak = peakJPerMm2 === null ? '' : `, ${significant(peakJPerMm2)} at its densest`;
  return `${significant(meanJPerMm2)} J/mm²${peak}`;
}

/** A drop whose tip is the place. Pins at one place stand side by side. */
function pins(
  drawn: readonly DrawnPin[],
  findings: readonly NumberedFinding[],
  frame: MapFrame,
  ids: MapIds | null,
): string[] {
  const taken = new Map<string, number>();
  const at = new Map(drawn.map((pin) => [pin.fingerprint, pin]));
  const shown = findings.flatMap(({ number, finding }) => {
    const pin = at.get(finding.fingerprint);
    return pin ? [{ number, finding, pin }] : [];
  });
  return shown.slice(0, MOST_PINS).map(({ number, finding, pin }) => {
    const x = frame.x(pin.x);
    const y = frame.y(pin.y);
    const cell = `${Math.round(x / (16 * frame.px))},${Math.round(y / (16 * frame.px))}`;
    const beside = taken.get(cell) ?? 0;
    taken.set(cell, beside + 1);
    const label = `Finding ${number}, ${finding.severity}: ${finding.message}`;
    return [
      opening(
        `class="pin ${finding.severity}" id="${ids?.prefix ?? 'map'}-pin-${number}"`,
        ids?.finding(finding.fingerprint),
        label,
      ),
      `<g class="fixed" data-x="${x}" data-y="${y}" transform="translate(${x} ${y}) scale(${coordinate(frame.px * 0.75)})">`,
      `<path d="M0 0L-7 -13A11 11 0 1 1 7 -13Z" transform="rotate(${beside * 50 - (beside > 3 ? 400 : 0)})"/>`,
      `<text ${textAt(beside * 50)}>${number}</text></g>`,
      closing(ids),
    ].join('');
  });
}

/** The number stands upright in the head of the drop, 21 px from its tip. */
function textAt(degrees: number): string {
  const rad = (degrees * Math.PI) / 180;
  return `x="${coordinate(21 * Math.sin(rad))}" y="${coordinate(-21 * Math.cos(rad) + 4)}"`;
}

function describe(drawing: JobDrawing): string {
  const cuts = leastSureFirst(drawing.cuts).slice(0, 12);
  const more = drawing.cuts.length - cuts.length;
  return [
    `${drawing.cuts.length} cuts drawn to scale, lines simplified to ${formatMm(drawing.simplifiedMm, 2)}.`,
    ...cuts.map((cut) => `${cutLabel(cut)}.`),
    more > 0 ? `And ${more} more.` : '',
  ]
    .filter((part) => part !== '')
    .join(' ');
}
