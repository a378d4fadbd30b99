import type { ArtworkOptions } from '../model/reader.ts';
import { START_OF_FILE } from '../source/place.ts';
import type { Source } from '../source/source.ts';
import { animatedNodes, reportActiveContent } from './active-content.ts';
import { MOST_CLIP_WORK } from './clipping/clip.ts';
import { uniteBoxes } from './frames/matrix.ts';
import { type Page, pageOf } from './frames/page.ts';
import { ProblemLog, quote } from './problem-log.ts';
import { SVG } from './problem-texts.ts';
import type { SvgArtwork, SvgReading } from './reading.ts';
import { RepeatedElements } from './repeated.ts';
import { Cascade } from './style/cascade.ts';
import { ElementWalk } from './walk.ts';
import { reportLostBytes, xmlText } from './xml/decode.ts';
import type { SvgDocument } from './xml/document.ts';
import { readDocument } from './xml/read-document.ts';

export { parseColour } from './style/colour.ts';

/** Largest artwork that is read. Real drawings stay well below; a text of this size still fits into one string. */
export const LARGEST_ARTWORK_BYTES = 64 * 1024 * 1024;
/** Chords within 0.01 mm of their curve: a tenth of the finest kerf. */
export const DEFAULT_TOLERANCE_MM = 0.01;
export const DEFAULT_MOST_POINTS = 4_000_000;
/** Most elements that all `use` elements of a file may bring in. */
const DEFAULT_MOST_USED = 100_000;

/**
 * Reads an SVG file into outlines in mm, with everything about it that a person should look at as problems. Nothing in the
 * file makes it throw, and nothing outside the file is opened.
 * @throws SourceUnreadable when the bytes cannot be had, or are more than `LARGEST_ARTWORK_BYTES`
 */
export function readArtwork(source: Source, options: ArtworkOptions): SvgArtwork {
  const log = new ProblemLog();
  const text = xmlText(source, LARGEST_ARTWORK_BYTES, log);
  const refused = refusal(text);
  if (refused) {
    log.add(refused.code, () => START_OF_FILE, refused.args);
    return unread(log);
  }
  reportLostBytes(source, text, log);
  const document = readDocument(text, log);
  const root = document.root;
  if (!root) return unread(log);
  if (root.tag !== 'svg') {
    log.add('not-svg', () => document.placeOf(root), { root: quote(root.name) });
    return unread(log);
  }
  const page = pageOf(document, root, options.pxPerInch, log);
  const reading = open(document, page, options, log);
  reportActiveContent(reading);
  new ElementWalk(reading).run(root);
  return finished(reading);
}

function open(document: SvgDocument, page: Page, options: ArtworkOptions, log: ProblemLog): SvgReading {
  const pointsLimit = options.maxPoints ?? DEFAULT_MOST_POINTS;
  return {
    document,
    cascade: new Cascade(document, log),
    log,
    page,
    toleranceMm: options.toleranceMm ?? DEFAULT_TOLERANCE_MM,
    pointsLeft: pointsLimit,
    pointsLimit,
    rootFontSize: 16,
    regions: new Map(),
    shapes: new Map(),
    pixels: new Map(),
    transforms: new Map(),
    repeated: new RepeatedElements(),
    clipWork: { left: MOST_CLIP_WORK, gaveUp: false },
    elements: [],
    outlines: [],
    leftOut: [],
    used: 0,
    usedLimit: options.maxRepeated ?? DEFAULT_MOST_USED,
    animated: animatedNodes(document),
    whole: document.whole,
  };
}

function finished(reading: SvgReading): SvgArtwork {
  const { page, elements, outlines, log, whole } = reading;
  return {
    reader: SVG,
    widthMm: page.widthPx * page.mmPerPx,
    heightMm: page.heightPx * page.mmPerPx,
    size: page.size,
    elements,
    outlines,
    leftOut: reading.leftOut,
    contents: outlines.length === 0 ? contentsOf(reading.document) : [],
    lengthMm: outlines.reduce((sum, outline) => sum + outline.lengthMm, 0),
    boundsMm: uniteBoxes(outlines.map((outline) => outline.box)),
    problems: log.problems,
    analysed: whole,
    endedEarly: whyEnded(reading),
  };
}

/** How often a file has each kind of element, the most frequent first; the root is not counted. */
function contentsOf({ nodes }: SvgDocument): SvgArtwork['contents'] {
  const counts = new Map<string, number>();
  for (const { name } of nodes.slice(1)) counts.set(name, (counts.get(name) ?? 0) + 1);
  return [...counts].map(([name, count]) => ({ name: quote(name), count })).sort((a, b) => b.count - a.count);
}

function whyEnded({ cascade, clipWork }: SvgReading): string | null {
  if (cascade.gaveUp) return 'the style sheets have so many selectors that not all were tried on all elements';
  return clipWork.gaveUp ? 'the clip paths and masks hold so many lines that not all elements were clipped' : null;
}

/** A file that cannot be artwork at all, by its first characters. */
function refusal(text: string): { code: 'empty' | 'compressed' | 'not-xml'; args: Record<string, string> } | null {
  if (text.charCodeAt(0) === 0x1f && (text.charCodeAt(1) === 0x8b || text.charCodeAt(1) === 0xfffd)) {
    return { code: 'compressed', args: {} };
  }
  if (text.trim() === '') return { code: 'empty', args: {} };
  return text.includes('<') ? null : { code: 'not-xml', args: { reason: 'no tag in it' } };
}

function unread(log: ProblemLog): SvgArtwork {
  return {
    reader: SVG,
    widthMm: 0,
    heightMm: 0,
    size: 'assumed',
    elements: [],
    outlines: [],
    leftOut: [],
    contents: [],
    lengthMm: 0,
    boundsMm: null,
    problems: log.problems,
    analysed: false,
    endedEarly: null,
  };
}
