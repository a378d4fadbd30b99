import { scaleLinear } from 'd3-scale';
import { area } from 'd3-shape';
import type { SectionLens, SectionModel } from '../../facts/drawing/drawing-model.ts';
import { formatMm } from '../../units/format.ts';
import { escapeHtml } from '../escape.ts';
import { coordinate, rectangle, straightLine } from './picture-parts.ts';
import { fittedTo, type PlacedWords } from './placed-words.ts';

/** Where the magnified sheet lies, px: the cut runs down `axis`; the doubt stands beside the sheet, the focus on its other side. */
export const SHEET = { left: 150, right: 330, axis: 184, doubt: 344, dimension: 142, focus: 132 };
/** The answer has no more words than this. */
const MOST_WORDS = 20;
/** Nearer to its underside than this a cut is through, mm. */
const NEARLY_MM = 0.05;
/** A cut that is less likely than not to part will not. */
const LIKELY = 0.5;
const HATCH = { half: 22, apart: 7 };
/** Between two lines of words, and from the sheet's left edge to the end of what may be written below it, px. */
const LINE = 19;
const UNDER_SHEET = 250;

/** Where the parts of a panel go. */
export interface SheetFrame {
  readonly id: string;
  readonly body: { readonly top: number; readonly bottom: number };
  readonly room: PlacedWords;
}

/** Verdict, how far it stops short, and the one thing to do. */
export function answerText({ thicknessMm, action }: SectionModel, lens: SectionLens): string {
  const { probability, limit, depthMm, depthLowMm } = lens;
  if (probability >= limit) return 'Predicted to part.';
  const verdict = probability < LIKELY ? 'Not likely to part' : 'May not part';
  const shortMm = thicknessMm - depthMm;
  const worstMm = thicknessMm - depthLowMm;
  const short =
    shortMm > NEARLY_MM
      ? `: stops ${formatMm(shortMm, 1)} short.`
      : worstMm > NEARLY_MM
        ? `: at worst ${formatMm(worstMm, 1)} short.`
        : '.';
  const said = `${verdict}${short}`;
  // What helps under the fitted lens is no advice for another.
  return action === null || !lens.fitted ? said : `${said} ${inWords(MOST_WORDS - said.split(' ').length, action)}.`;
}

/** A sentence of so many words at most: what follows "with" or "and" goes first, since the card has it. */
function inWords(most: number, text: string): string {
  const words = text.split(' ');
  if (words.length <= most) return text;
  for (let end = most; end > 2; end--)
    if (words[end] === 'with' || words[end] === 'and') return words.slice(0, end).join(' ');
  return `${words.slice(0, most).join(' ')} …`;
}

type Down = (mm: number) => number;

/** The sheet under the beam: slot, beam, what stays uncut, where each pass ends, and the doubt. */
export function sheetParts(section: SectionModel, lens: SectionLens, frame: SheetFrame): string[] {
  const { id, body } = frame;
  const y = downScale(section, lens, body);
  const perMm = (body.bottom - body.top) / windowOf(section, lens).heightMm;
  const { left, right } = SHEET;
  const bottom = y(-section.thicknessMm);
  return [
    `<clipPath id="${id}-clip">${rectangle(left, body.top, right - left, body.bottom - body.top, '')}</clipPath>`,
    rectangle(left, y(0), right - left, bottom - y(0), 'p-stock'),
    `<g clip-path="url(#${id}-clip)">`,
    kerfPart(section, lens, y, perMm),
    ...beamParts(lens, y, perMm),
    '</g>',
    straightLine(left, y(0), right, y(0), 'p-axis'),
    straightLine(left, bottom, right, bottom, 'p-axis'),
    ...uncutParts(section, lens, y, frame),
    ...passParts(section, lens, { y, perMm }, frame),
    ...thicknessParts(section, y, frame),
    ...doubtParts(lens, { y, body }, frame),
    ...focusParts(lens, { y, body }, frame),
  ];
}

/** What the magnifier shows: heights above the face, mm. */
export function windowOf(
  section: SectionModel,
  lens: SectionLens,
): { highestMm: number; lowestMm: number; heightMm: number } {
  const highestMm = lens.beam[0]?.zMm ?? section.thicknessMm / 3;
  const lowestMm = lens.beam.at(-1)?.zMm ?? -1.33 * section.thicknessMm;
  return { highestMm, lowestMm, heightMm: highestMm - lowestMm };
}

function downScale(section: SectionModel, lens: SectionLens, body: SheetFrame['body']): Down {
  const { highestMm, lowestMm } = windowOf(section, lens);
  return scaleLinear([highestMm, lowestMm], [body.top, body.bottom]).clamp(true);
}

/** The slot as far as the median depth, narrowing from the kerf at the face. */
function kerfPart({ thicknessMm }: SectionModel, lens: SectionLens, y: Down, perMm: number): string {
  const { axis } = SHEET;
  const top = Math.max(1, (lens.kerfTopMm ?? lens.spotMm) * perMm);
  const through = lens.depthMm >= thicknessMm;
  const bottom = through ? Math.max(1, (lens.kerfBottomMm ?? lens.kerfTopMm ?? lens.spotMm) * perMm) : 0;
  const end = y(-Math.min(lens.depthMm, thicknessMm));
  const d = `M${coordinate(axis - top / 2)} ${coordinate(y(0))}L${coordinate(axis - bottom / 2)} ${coordinate(end)}L${coordinate(axis + bottom / 2)} ${coordinate(end)}L${coordinate(axis + top / 2)} ${coordinate(y(0))}Z`;
  return `<path class="p-kerf" d="${d}"/>`;
}

/** The free beam in outline; filled as far as it gets. */
function beamParts(lens: SectionLens, y: Down, perMm: number): string[] {
  const envelope = area<SectionLens['beam'][number]>()
    .y((point) => y(point.zMm))
    .x0((point) => SHEET.axis - (point.diameterMm * perMm) / 2)
    .x1((point) => SHEET.axis + (point.diameterMm * perMm) / 2)
    .digits(2);
  const reached = lens.beam.filter(({ zMm }) => zMm >= -lens.depthMm);
  return [
    `<path class="p-free" d="${escapeHtml(envelope(lens.beam) ?? '')}"/>`,
    `<path class="p-beam" d="${escapeHtml(envelope(reached) ?? '')}"/>`,
  ];
}

/** From the median end of the cut to the underside: hatched, and measured where there is room for it. */
function uncutParts({ thicknessMm }: SectionModel, lens: SectionLens, y: Down, { room }: SheetFrame): string[] {
  const leftMm = thicknessMm - lens.depthMm;
  if (leftMm <= NEARLY_MM) return [];
  const { axis } = SHEET;
  const top = y(-lens.depthMm);
  const bottom = y(-thicknessMm);
  const at = axis + HATCH.half + 8;
  return [
    `<path class="p-hatch" d="${hatching(axis - HATCH.half, top, axis + HATCH.half, bottom)}"/>`,
    measure(at, top, bottom),
    room.place({ text: `${formatMm(leftMm, 1)} uncut`, size: 13, classes: 't-bold halo-stock' }, [
      { x: at + 6, y: (top + bottom) / 2 + 5 },
      { x: at + 6, y: bottom - 5 },
    ]),
  ];
}

/** Lines at 45° in a rectangle. */
function hatching(left: number, top: number, right: number, bottom: number): string {
  const parts: string[] = [];
  for (let c = left + top + HATCH.apart; c < right + bottom; c += HATCH.apart) {
    const x0 = Math.max(left, c - bottom);
    const x1 = Math.min(right, c - top);
    if (x1 > x0) parts.push(`M${coordinate(x0)} ${coordinate(c - x0)}L${coordinate(x1)} ${coordinate(c - x1)}`);
  }
  return parts.join('');
}

/** A line between two heights with a stop at each. */
function measure(x: number, top: number, bottom: number): string {
  const stop = (at: number) => `M${coordinate(x - 4)} ${coordinate(at)}H${coordinate(x + 4)}`;
  return `<path class="p-thin" d="M${coordinate(x)} ${coordinate(top)}V${coordinate(bottom)}${stop(top)}${stop(bottom)}"/>`;
}

/** A rung where each pass ends, with its depth; the last one's words are placed first. */
function passParts(
  { thicknessMm }: SectionModel,
  lens: SectionLens,
  { y, perMm }: { y: Down; perMm: number },
  { room }: SheetFrame,
): string[] {
  const { axis } = SHEET;
  const reach = Math.max(10, ((lens.kerfTopMm ?? lens.spotMm) * perMm) / 2 + 6);
  const ends = lens.depthAfterPassMm.map((mm, i) => ({ mm, number: i + 1, at: y(-Math.min(mm, thicknessMm)) }));
  const rungs = ends.map(({ at }) => straightLine(axis - reach, at, axis + reach, at, 'p-line'));
  const x = axis + Math.max(reach, HATCH.half) + 6;
  const bottom = y(-thicknessMm);
  const through = ends.find(({ mm }) => mm >= thicknessMm);
  const short = ends.filter(({ mm }) => mm < thicknessMm).reverse();
  const named = [
    ...(through ? [{ ...through, text: `pass ${through.number}: through` }] : []),
    ...short.map((end) => ({ ...end, text: `pass ${end.number}: ${formatMm(end.mm, 1)}` })),
  ];
  const labels = named.map(({ text, at }) =>
    room.place(
      { text, size: 13, classes: 'halo-stock' },
      [at - 5, at + 15].filter((line) => line < bottom - 3).map((line) => ({ x, y: line })),
    ),
  );
  return [...rungs, ...labels];
}

function thicknessParts({ thicknessMm, material }: SectionModel, y: Down, { room }: SheetFrame): string[] {
  const bottom = y(-thicknessMm);
  const width = UNDER_SHEET;
  return [
    measure(SHEET.dimension, y(0), bottom),
    room.place(
      { text: fittedTo(width, `${formatMm(thicknessMm)} ${material}`, 13), size: 13, classes: 't-bold halo' },
      [{ x: SHEET.left, y: bottom + 17 }],
    ),
  ];
}

/** Where the last pass ends, 5th to 95th percentile, as a bar beside the sheet. */
function doubtParts(
  lens: SectionLens,
  { y, body }: { y: Down; body: SheetFrame['body'] },
  { room }: SheetFrame,
): string[] {
  const x = SHEET.doubt;
  const low = y(-lens.depthLowMm);
  const high = Math.max(low + 1, y(-lens.depthHighMm));
  const below = high >= body.bottom - 0.5;
  const label = (mm: number, at: number) =>
    room.place(
      { text: formatMm(mm, 1), size: 13 },
      [at, at - LINE, at + LINE].map((line) => ({ x: x + 11, y: line })),
    );
  return [
    rectangle(x - 5, low, 10, high - low, 'p-doubt'),
    straightLine(x - 9, y(-lens.depthMm), x + 9, y(-lens.depthMm), 'p-line'),
    // It goes on below what is shown.
    below ? `<path class="p-ink" d="M${x - 6} ${coordinate(high)}h12l-6 8z"/>` : '',
    room.place({ text: 'doubt', size: 13, classes: 't-mid t-soft' }, [
      { x, y: low - 6 },
      { x: x + 26, y: low - 10 },
      { x, y: y(0) - 6 },
    ]),
    label(lens.depthLowMm, low + 9),
    label(lens.depthHighMm, high + 4),
  ].filter((part) => part !== '');
}

/** Where the beam is in focus, on the other side of the sheet. */
function focusParts(
  lens: SectionLens,
  { y, body }: { y: Down; body: SheetFrame['body'] },
  { room }: SheetFrame,
): string[] {
  const waist = lens.focusMm[0] ?? 0;
  const top = y(waist + lens.depthOfFocusMm / 2);
  const bottom = y(waist - lens.depthOfFocusMm / 2);
  if (bottom - top < 1 || top >= body.bottom) return [];
  const x = SHEET.focus;
  const middle = (top + bottom) / 2;
  const label = (text: string, at: number) =>
    room.place({ text, size: 13, classes: 't-end halo' }, [{ x: x - 7, y: at }]);
  return [
    measure(x, top, bottom),
    `<circle class="p-ink" cx="${x}" cy="${coordinate(y(waist))}" r="2.5"/>`,
    label('in focus', middle - 4),
    label(formatMm(lens.depthOfFocusMm, 1), middle - 4 + LINE),
  ];
}
