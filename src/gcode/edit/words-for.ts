import type { InForce } from '../modal/in-force.ts';
import { codeName } from '../text/block.ts';
import type { SurveyedLine } from './survey.ts';

/** Decimals that are written: a thousandth of the least that a controller goes by. */
const DECIMALS = 6;

/** A number as a program has it: no exponent, which only less than a millionth would have, and no idle zeros. */
export function numberText(value: number, decimals = DECIMALS): string {
  return String(Number(value.toFixed(decimals)));
}

/** "F480": the feed in force, in the program's unit; '' before the first. */
export function feedWord({ feed, scale }: InForce): string {
  return feed > 0 ? `F${numberText(feed / scale)}` : '';
}

/** How the beam is commanded: "M3 S700", or "M5". */
export function beamWords({ mode, raw }: InForce): string {
  return mode === 'off' ? 'M5' : `${mode} S${numberText(raw)}`;
}

export function airWord({ air, mist }: InForce): string {
  return air && mist ? 'M7 M8' : air ? 'M8' : mist ? 'M7' : 'M9';
}

/** Where the head is, in the program's coordinates: "X8 Y12.5". */
export function placeWords({ x, y, originX, originY, scale }: InForce): string {
  return `X${numberText((x - originX) / scale)} Y${numberText((y - originY) / scale)}`;
}

/** What neither a path nor what is between paths may change, since nothing here writes it anew; null when all is the same. */
export function changedMode(a: InForce, b: InForce): string | null {
  if (a.scale !== b.scale) return 'the unit';
  if (a.absolute !== b.absolute || a.absoluteCentres !== b.absoluteCentres) return 'the distance mode';
  if (a.plane !== b.plane) return 'the plane';
  if (a.feedMode !== b.feedMode || a.feedShare !== b.feedShare) return 'how the feed is counted';
  if (a.system !== b.system || a.originX !== b.originX || a.originY !== b.originY) return 'the zero';
  if (a.tool !== b.tool) return 'the tool';
  return a.z === b.z ? null : 'Z';
}

/**
 * Lines that bring what is in force from one state to another that differs in motion, feed, beam and air alone. `next`: the line that
 * follows, which may name its motion itself. Null where they cannot be written by themselves.
 */
export function bridging(from: InForce, to: InForce, next: SurveyedLine | null): string[] | null {
  const words: string[] = [];
  if (from.motion !== to.motion && !namesMotion(next)) {
    // An arc's code by itself is an error on many controllers.
    if (to.motion !== 0 && to.motion !== 10) return null;
    words.push(codeName('G', to.motion));
  }
  const feed = feedWord(to);
  if (feed !== '' && from.feed !== to.feed) words.push(feed);
  words.push(...airWords(from, to));
  const lines = words.length === 0 ? [] : asLines(words);
  if (from.mode === to.mode && from.raw === to.raw) return lines;
  return [...lines, to.mode === 'off' ? `M5 S${numberText(to.raw)}` : beamWords(to)];
}

function airWords(from: InForce, to: InForce): string[] {
  if (from.air === to.air && from.mist === to.mist) return [];
  const off = from.air || from.mist ? ['M9'] : [];
  return to.air || to.mist ? [...off, airWord(to)] : off;
}

/** M9 and M8 exclude each other on one line. */
function asLines(words: readonly string[]): string[] {
  const at = words.indexOf('M9');
  if (at < 0 || at === words.length - 1) return [words.join(' ')];
  return [words.slice(0, at + 1).join(' '), words.slice(at + 1).join(' ')];
}

/** Whether a line says by which motion it moves. */
export function namesMotion(line: SurveyedLine | null): boolean {
  return line?.words.some(({ letter, value }) => letter === 'G' && value >= 0 && value <= 3) ?? false;
}

/** The line without its number, so that no number stands twice. */
export function withoutNumber(line: SurveyedLine, text: string): string {
  const [first] = line.words;
  return first?.letter === 'N' ? text.slice(0, first.start) + text.slice(first.end).trimStart() : text;
}
