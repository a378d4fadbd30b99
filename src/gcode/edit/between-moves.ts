import type { LineSpan } from '../../model/editing.ts';
import { Refused } from './refusal.ts';
import type { Survey, SurveyedLine } from './survey.ts';
import { changedMode } from './words-for.ts';

/** Codes that a removed line may hold: what they put in force is written anew. Units, planes and frames are looked at besides. */
const G_KNOWN = new Set([0, 1, 2, 3, 17, 18, 19, 20, 21, 70, 71, 90, 90.1, 91, 91.1, 94]);
const M_KNOWN = new Set([3, 4, 5, 7, 8, 9]);
const LETTERS_KNOWN = new Set(['N', 'G', 'M', 'F', 'S', 'X', 'Y', 'I', 'J', 'R']);

/** The end points of a path are one to this, mm. */
const SAME_MM = 1e-6;

/** Paths with nothing but switching between them, and the lines around them that move nothing: from behind the move before to ahead of the move after. */
export interface Chain {
  /** The lines of each path. */
  paths: SurveyedLine[][];
  from: SurveyedLine;
  /** Lines that hold words, up to the last stroke. */
  worded: SurveyedLine[];
  /** Those behind it. */
  trailing: SurveyedLine[];
  /** The line behind all; null at the end of the file. */
  next: SurveyedLine | null;
}

/**
 * Closed paths, in their order, those that follow each other as one chain.
 * @throws Refused where one of the lines is more than a plain one, or the moves before and after are out of sight
 */
export function chainsOf(survey: Survey, paths: readonly LineSpan[]): Chain[] {
  const chains: Chain[] = [];
  for (const path of [...paths].sort((a, b) => a.first - b.first)) {
    const lines = closedPath(survey, path);
    const before = chains.at(-1);
    const next = lineBehind(survey, path.last);
    const trailing = wordedLines(survey, path.last + 1, next?.line ?? survey.count + 1);
    if (before?.next?.line === path.first) {
      before.paths.push(lines);
      before.worded.push(...before.trailing, ...lines);
      Object.assign(before, { trailing, next });
      continue;
    }
    const from = firstAhead(survey, path.first);
    const worded = wordedLines(survey, from.line, path.last + 1);
    chains.push({ paths: [lines], from, worded, trailing, next });
  }
  return chains;
}

/** The first line behind the move before a path. */
export function firstAhead(survey: Survey, first: number): SurveyedLine {
  let from = first;
  while (isBetween(survey.at(from - 1))) from--;
  if (from > 1 && survey.at(from - 1) === null) throw new Refused('the move before it is out of sight', first);
  return survey.at(from)!;
}

/** The first line behind a path that does more than switch; null at the end of the file. */
function lineBehind(survey: Survey, last: number): SurveyedLine | null {
  let next = last + 1;
  while (isBetween(survey.at(next))) next++;
  if (next <= survey.count && survey.at(next) === null) throw new Refused('the move after it is out of sight', last);
  return survey.at(next);
}

/** Lines with words from one number to ahead of another. */
function wordedLines(survey: Survey, from: number, to: number): SurveyedLine[] {
  const worded: SurveyedLine[] = [];
  for (let number = from; number < to; number++) {
    const line = survey.at(number)!;
    if (line.kind === 'blank' || line.kind === 'comment') continue;
    checkPlain(line);
    worded.push(line);
  }
  return worded;
}

function isBetween(line: SurveyedLine | null): boolean {
  return line !== null && (line.kind === 'modal' || line.kind === 'blank' || line.kind === 'comment');
}

/** The lines of a path, each a move in absolute mode from one end back to the same. */
export function closedPath(survey: Survey, { first, last }: LineSpan): SurveyedLine[] {
  const lines: SurveyedLine[] = [];
  for (let number = first; number <= last; number++) {
    const line = survey.at(number);
    if (line === null) throw new Refused('a line of it is out of sight', number);
    if (line.kind === 'blank') continue;
    if (line.kind === 'comment') throw new Refused('a comment stands amid it, which names what follows', number);
    if (line.kind !== 'move' && line.kind !== 'modal') throw new Refused('a line amid it does more than cut', number);
    checkPlain(line);
    if (!line.before.absolute) throw new Refused('it is written in relative coordinates (G91)', number);
    if (line.before.absoluteCentres) throw new Refused('its arcs have absolute centres (G90.1)', number);
    if (line.before.feedMode !== 'per-minute') throw new Refused('its feed is no feed per minute (G93)', number);
    lines.push(line);
  }
  const from = lines[0]!.before;
  const to = lines.at(-1)!.after;
  const changed = changedMode(from, to);
  if (changed !== null) throw new Refused(`${changed} changes amid it`, first);
  if (Math.abs(from.x - to.x) > SAME_MM || Math.abs(from.y - to.y) > SAME_MM)
    throw new Refused('it does not end where it begins', last);
  return lines;
}

function checkPlain(line: SurveyedLine): void {
  if (line.kind === 'odd') throw new Refused('a line of it is more than plain words', line.line);
  const strange = line.words.find(
    ({ letter, value }) =>
      !LETTERS_KNOWN.has(letter) || (letter === 'G' && !G_KNOWN.has(value)) || (letter === 'M' && !M_KNOWN.has(value)),
  );
  if (strange === undefined) return;
  const what = strange.letter === 'G' || strange.letter === 'M' ? `${strange.letter}${strange.value}` : strange.letter;
  throw new Refused(`a line of it holds ${what}`, line.line);
}
