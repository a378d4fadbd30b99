import { scaleLinear } from 'd3-scale';
import type { SectionLens, SectionModel } from '../../facts/drawing/drawing-model.ts';
import { formatMm } from '../../units/format.ts';
import { coordinate, rectangle, straightLine } from './picture-parts.ts';
import { fittedTo } from './placed-words.ts';
import { SHEET, type SheetFrame, windowOf } from './section-sheet.ts';

/** Where it stands, px. */
const STRIP = { left: 6, right: 66 };
const AXIS = (STRIP.left + STRIP.right) / 2;
/** A lens is a little wider than the beam in it: its own width is in no profile. */
const WIDER = 1.25;

/**
 * Lens, nozzle, cone and sheet as they stand over each other, at one scale across and down, and what of it the magnifier shows. A nozzle's
 * bore is in no profile: only its height is drawn to scale.
 */
export function opticsStrip(
  section: SectionModel,
  lens: SectionLens,
  { body, room }: Omit<SheetFrame, 'id'>,
): string[] {
  const { highestMm, lowestMm } = windowOf(section, lens);
  const lensMm = lens.focalMm + (lens.focusMm[0] ?? 0);
  const lowest = Math.min(lowestMm, -section.thicknessMm * 1.1);
  const scale = (body.bottom - body.top - 8) / Math.max(1e-6, lensMm - lowest);
  const y = scaleLinear([lensMm, lowest], [body.top + 8, body.bottom]);
  const half = (diameterMm: number) => Math.min((STRIP.right - STRIP.left) / 2 - 2, (diameterMm * scale) / 2);
  const face = y(0);
  return [
    rectangle(STRIP.left, face, STRIP.right - STRIP.left, Math.max(1, y(-section.thicknessMm) - face), 'p-stock'),
    conePart(lens, { y, half, lensMm }),
    lensPart(y(lensMm), half(lens.atLensMm * WIDER)),
    ...nozzleParts(lens, { y, half, lensMm }),
    // From what is magnified to where it is shown.
    `<path class="p-locator" d="M${STRIP.right} ${coordinate(y(highestMm))}L${SHEET.left} ${body.top}M${STRIP.right} ${coordinate(y(lowestMm))}L${SHEET.left} ${body.bottom}"/>`,
    `<path class="p-locator" d="M${STRIP.left} ${coordinate(y(highestMm))}H${STRIP.right}V${coordinate(y(lowestMm))}H${STRIP.left}Z"/>`,
    room.place({ text: fittedTo(130, `${lens.id} lens`, 13), size: 13, classes: 't-bold' }, [
      { x: STRIP.left, y: y(lensMm) - 12 },
    ]),
    ...nozzleLabel(lens, y, room),
  ].filter((part) => part !== '');
}

interface Scales {
  y: (mm: number) => number;
  /** Half a diameter, px. */
  half: (diameterMm: number) => number;
  lensMm: number;
}

/** Diameter of the beam between lens and what is known near the sheet: a straight cone, as it is far from its waist. */
function diameterMm(lens: SectionLens, zMm: number, lensMm: number): number {
  const nearest = lens.beam[0] ?? { zMm: 0, diameterMm: lens.spotMm };
  const share = (zMm - nearest.zMm) / Math.max(1e-6, lensMm - nearest.zMm);
  return nearest.diameterMm + (lens.atLensMm - nearest.diameterMm) * Math.min(1, Math.max(0, share));
}

function conePart(lens: SectionLens, { y, half, lensMm }: Scales): string {
  const edges = [{ zMm: lensMm, diameterMm: lens.atLensMm }, ...lens.beam].map(({ zMm, diameterMm: wide }) => ({
    y: coordinate(y(zMm)),
    off: Math.max(0.4, half(wide)),
  }));
  const down = edges.map((edge) => `${coordinate(AXIS - edge.off)} ${edge.y}`);
  const up = [...edges].reverse().map((edge) => `${coordinate(AXIS + edge.off)} ${edge.y}`);
  return `<path class="p-beam" d="M${[...down, ...up].join('L')}Z"/>`;
}

function lensPart(y: number, half: number): string {
  const wide = Math.max(6, half);
  const [left, right, at] = [coordinate(AXIS - wide), coordinate(AXIS + wide), coordinate(y)];
  return `<path class="p-glass" d="M${left} ${at}Q${AXIS} ${coordinate(y - 9)} ${right} ${at}Q${AXIS} ${coordinate(y + 9)} ${left} ${at}Z"/>`;
}

function nozzleParts(lens: SectionLens, { y, half, lensMm }: Scales): string[] {
  const { standoffMm } = lens;
  if (standoffMm === null || standoffMm >= lensMm) return [];
  const tip = y(standoffMm);
  const shoulder = y(standoffMm + (lensMm - standoffMm) * 0.45);
  const near = half(diameterMm(lens, standoffMm, lensMm)) + 3;
  const far = Math.min((STRIP.right - STRIP.left) / 2, near + 12);
  return [-1, 1].map((side) => straightLine(AXIS + side * near, tip, AXIS + side * far, shoulder, 'p-line'));
}

/** How high the nozzle stands over the face, in two lines beside it. */
function nozzleLabel(
  { standoffMm, focalMm }: SectionLens,
  y: (mm: number) => number,
  room: SheetFrame['room'],
): string[] {
  if (standoffMm === null || standoffMm >= focalMm) return [];
  const at = y(standoffMm) - 22;
  const x = STRIP.right + 4;
  return ['nozzle', `at ${formatMm(standoffMm)}`].map((text, i) =>
    room.place({ text, size: 13, classes: 'halo' }, [{ x, y: at + i * 19 }]),
  );
}
