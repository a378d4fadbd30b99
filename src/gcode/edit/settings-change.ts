import type { NewSettings } from '../../model/editing.ts';
import type { InForce } from '../modal/in-force.ts';
import { codeName } from '../text/block.ts';
import { closedPath } from './between-moves.ts';
import type { Changes } from './changes.ts';
import { Refused } from './refusal.ts';
import type { Survey, SurveyedLine } from './survey.ts';
import { feedWord, namesMotion, numberText, withoutNumber } from './words-for.ts';

/** Feeds are written in tenths of a mm/min, and in thousandths of an inch. */
const FEED_DECIMALS = { mm: 1, inch: 3 } as const;
/** Powers are written whole where full power is at least this. */
const WHOLE_FROM = 100;

/** Gives strokes in a row another feed and power, runs them again where that is asked, and puts back what was in force. */
export function changeSettings(
  survey: Survey,
  changes: Changes,
  stretches: readonly NewSettings[],
  full: number,
): void {
  for (const stretch of stretches) changeStretch(survey, changes, stretch, full);
}

function changeStretch(survey: Survey, changes: Changes, stretch: NewSettings, full: number): void {
  const { first, last } = stretch.span;
  const lines = linesOf(survey, stretch);
  const head = lines[0]!;
  const tail = lines.at(-1)!;
  const next = nextWorded(survey, last + 1);
  const ahead: string[] = [];
  const behind: string[] = [];
  for (const swap of swapsOf(stretch, head.after, full)) {
    for (const line of lines) swapIn(changes, line, swap);
    if (!states(head, swap)) ahead.push(swap.text);
    const still = swap.letter === 'F' ? tail.after.feed / tail.after.scale : tail.after.raw;
    if (same(still, swap.old) && next !== null && !states(next, swap)) behind.push(swap.back);
  }
  changes.ahead(first, [ahead.join(' ')]);
  if (stretch.times > 1) changes.ahead(last + 1, copies(survey, changes, stretch));
  changes.ahead(last + 1, [behind.join(' ')]);
}

/** The lines of a stretch, which nothing but plain ones may be. */
function linesOf(survey: Survey, { span: { first, last } }: NewSettings): SurveyedLine[] {
  const lines: SurveyedLine[] = [];
  for (let number = first; number <= last; number++) {
    const line = survey.at(number);
    if (line === null || line.kind === 'odd') throw new Refused('a line of it is more than plain words', number);
    if (line.kind === 'frame' || line.kind === 'end') throw new Refused('a line of it does more than cut', number);
    lines.push(line);
  }
  const { before } = lines[0]!;
  if (before.feedMode !== 'per-minute' || before.feedShare !== 1)
    throw new Refused('its feed is not counted by F alone (G93 or M220)', first);
  if (before.scale !== lines.at(-1)!.after.scale) throw new Refused('the unit changes amid it', first);
  return lines;
}

/** What the first stroke runs with is what all of them do: that is what changes. */
function swapsOf({ speedMmPerS, setting }: NewSettings, old: InForce, full: number): Swap[] {
  const swaps: Swap[] = [];
  if (speedMmPerS !== null)
    swaps.push({ letter: 'F', old: old.feed / old.scale, text: `F${feedText(speedMmPerS, old)}`, back: feedWord(old) });
  if (setting !== null)
    swaps.push({ letter: 'S', old: old.raw, text: `S${powerText(setting, full)}`, back: `S${numberText(old.raw)}` });
  return swaps;
}

function states(line: SurveyedLine, { letter }: Swap): boolean {
  return line.words.some((word) => word.letter === letter);
}

interface Swap {
  letter: 'F' | 'S';
  /** Only words with this number are changed: others are those of moves without power. */
  old: number;
  text: string;
  /** What puts it back behind the stretch. */
  back: string;
}

function swapIn(changes: Changes, line: SurveyedLine, { letter, old, text }: Swap): void {
  // In a line that waits, S may be seconds.
  if (line.kind === 'dwell') return;
  for (const word of line.words)
    if (word.letter === letter && same(word.value, old)) changes.word(line.line, word, text);
}

function same(a: number, b: number): boolean {
  return Math.abs(a - b) <= 1e-9 * Math.max(1, Math.abs(b));
}

/** The first line behind that holds words; null at the end of the program, or where none is in sight. */
function nextWorded(survey: Survey, from: number): SurveyedLine | null {
  for (let number = from; ; number++) {
    const line = survey.at(number);
    if (line === null || line.kind === 'end') return null;
    if (line.kind !== 'blank' && line.kind !== 'comment') return line;
  }
}

/** Rounded down: no faster than was asked. */
function feedText(speedMmPerS: number, { scale }: InForce): string {
  const decimals = scale === 1 ? FEED_DECIMALS.mm : FEED_DECIMALS.inch;
  const unit = 10 ** decimals;
  return numberText(Math.floor(((speedMmPerS * 60) / scale) * unit + 1e-6) / unit, decimals);
}

/** Rounded to the nearest step; the machine's ceiling is one of the settings that are asked for. */
function powerText(setting: number, full: number): string {
  return full >= WHOLE_FROM ? numberText(Math.round(setting * full), 0) : numberText(setting * full, 3);
}

/** The lines of a closed path once more, as often as is asked. */
function copies(survey: Survey, changes: Changes, { span, times }: NewSettings): string[] {
  const lines = closedPath(survey, span);
  const head = lines[0]!;
  const tail = lines.at(-1)!;
  const { before } = head;
  const { after } = tail;
  if (before.mode !== after.mode || before.air !== after.air || before.mist !== after.mist)
    throw new Refused('beam or air is switched amid it', span.first);
  if (!same(head.after.raw, after.raw) || !same(head.after.feed, after.feed))
    throw new Refused('power or feed changes amid it', span.first);
  const texts = lines.map((line) => withoutNumber(line, changes.textOf(line)));
  if (!namesMotion(head) && before.motion !== after.motion)
    texts[0] = `${codeName('G', head.after.motion)} ${texts[0]!.trimStart()}`;
  return Array.from({ length: times - 1 }, () => texts).flat();
}
